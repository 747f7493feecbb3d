"""Writes estimate_sums.csv: sums of three-point estimates whose prices move together, by random
trials: correlated normal numbers, each turned into the beta distribution of its line (Gaussian
copula). A row holds its lines behind its results: low, likely, high of each, and the group of
lines that move together more (its number; 0 for a line that is in none)."""
import numpy as np
import scipy
from scipy.stats import beta, norm

SEED, TRIALS, CHUNK = 12345, 2_000_000, 100_000
GRID = np.linspace(-6.5, 6.5, 6501)
SHARES = norm.cdf(GRID)

FIVE = [(100, 150, 300), (40, 50, 60), (10, 12, 20), (200, 260, 420), (2, 3, 10)]
SCALES = (0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 4, 5)
SIXTY = [tuple(scale * x for x in line) for scale in SCALES for line in FIVE]
DEAR = [tuple(scale * x for x in (9, 10, 16)) for scale in (1, 2, 4, 7, 11, 16) for _ in range(15)]
ONE_LARGE = [(3600, 4000, 6000)] + [(8, 10, 15), (20, 25, 28)] * 20
PAID = [(500, 500, 500), (1200, 1200, 1200), (75, 75, 75)] + FIVE
LEFT = [(60, 100, 104), (300, 500, 520), (20, 40, 42), (0, 150, 160)]
WILD = [(20, 40, 200), (50, 60, 180), (8, 10, 60), (100, 120, 500)] * 5
STRAY = [(0, 0, 100), (0, 10, 1000), (5, 6, 60), (90, 100, 900)] * 5
CASES = (
    ("five", FIVE, (0, 0.3, 0.6, 1)),
    ("sixty", SIXTY, (0, 0.3, 0.6)),
    ("ninety skewed", DEAR, (0, 0.3, 0.6, 1)),
    ("one large", ONE_LARGE, (0, 0.3)),
    ("partly paid", PAID, (0.3,)),
    ("skewed down", LEFT, (0, 0.3, 1)),
)
# Lines, the group of each, and the correlations between all and within a group.
BY_FIVES = [1 + place // 5 for place in range(60)]
GROUPED = (
    ("sixty of twelve suppliers", SIXTY, BY_FIVES, ((0.3, 0.6), (0, 0.6), (0.3, 1), (0.6, 0.6))),
    ("sixty of one supplier", SIXTY, [1] * 60, ((0.3, 0.6), (0, 1))),
    ("sixty and half of no supplier", SIXTY, [place % 2 for place in range(60)], ((0.3, 0.6),)),
    ("ninety skewed of one supplier", DEAR, [1] * 90, ((0.3, 0.6), (0, 0.9))),
    ("ninety skewed of two suppliers", DEAR, [1] * 60 + [2] * 30, ((0.3, 0.6), (0, 0.6))),
    ("wild of four suppliers", WILD, [1 + place % 4 for place in range(20)], ((0.3, 0.6), (0, 0.6))),
    ("wild of one supplier", WILD, [1] * 20, ((0.3, 0.6),)),
    ("stray of four suppliers", STRAY, [1 + place % 4 for place in range(20)], ((0.3, 0.6), (0, 0.6))),
    ("one large among others of its supplier", ONE_LARGE, [1] * 11 + [2] * 30, ((0.3, 0.6),)),
    ("partly paid of two suppliers", PAID, [1, 1, 2, 1, 2, 1, 2, 0], ((0.3, 0.6),)),
    ("skewed down of one supplier", LEFT, [1, 1, 1, 0], ((0.3, 0.6), (0, 1))),
)


def quantiles(line):
    """The price of a line at each point of the grid of normal numbers."""
    low, likely, high = line
    width = high - low
    if width == 0:
        return np.full_like(GRID, low)
    shape = beta(1 + 4 * (likely - low) / width, 1 + 4 * (high - likely) / width, low, width)
    return shape.ppf(SHARES)


def trial_sums(lines, groups, between, within):
    random = np.random.Generator(np.random.PCG64(SEED))
    tables = {line: quantiles(line) for line in set(lines)}
    sums = np.zeros(TRIALS)
    for start in range(0, TRIALS, CHUNK):
        part = sums[start:start + CHUNK]
        common = np.sqrt(between) * random.standard_normal(CHUNK)
        shared = {
            group: np.sqrt(within - between) * random.standard_normal(CHUNK)
            for group in sorted(set(groups) - {0})
        }
        for line, group in zip(lines, groups):
            rest = 1 - (within if group else between)
            own = np.sqrt(rest) * random.standard_normal(CHUNK)
            part += np.interp(common + shared.get(group, 0) + own, GRID, tables[line])
    return sums


def row(name, lines, groups, between, within):
    sums = trial_sums(lines, groups, between, within)
    p10, p90 = np.percentile(sums, [10, 90])
    results = ",".join(f"{x:.5g}" for x in (sums.mean(), sums.std(), p10, p90))
    each = (f"{x:g}" for line, group in zip(lines, groups) for x in (*line, group))
    print(f"{name},{between},{within},{results}," + ",".join(each))


print(f"# numpy {np.__version__} (PCG64, seed {SEED}), scipy {scipy.__version__}, {TRIALS} trials; five significant digits.")
print("case,between,within,mean,sd,p10,p90,lines")
for name, lines, correlations in CASES:
    for rho in correlations:
        row(name, lines, [0] * len(lines), rho, rho)
for name, lines, groups, pairs in GROUPED:
    for between, within in pairs:
        row(name, lines, groups, between, within)
