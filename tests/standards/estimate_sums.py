"""Writes estimate_sums.csv: sums of three-point estimates whose prices move together, by random
trials: correlated normal numbers, each turned into the beta distribution of its line (Gaussian
copula). A row holds its lines behind its results: low, likely, high of each."""
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
CASES = (
    ("five", FIVE, (0, 0.3, 0.6, 1)),
    ("sixty", SIXTY, (0, 0.3, 0.6)),
    ("ninety skewed", DEAR, (0, 0.3, 0.6, 1)),
    ("one large", ONE_LARGE, (0, 0.3)),
    ("partly paid", PAID, (0.3,)),
    ("skewed down", LEFT, (0, 0.3, 1)),
)


def quantiles(line):
    """The price of a line at each point of the grid of normal numbers."""
    low, likely, high = line
    width = high - low
    if width == 0:
        return np.full_like(GRID, low)
    shape = beta(1 + 4 * (likely - low) / width, 1 + 4 * (high - likely) / width, low, width)
    return shape.ppf(SHARES)


def trial_sums(lines, rho):
    random = np.random.Generator(np.random.PCG64(SEED))
    tables = {line: quantiles(line) for line in set(lines)}
    sums = np.zeros(TRIALS)
    for start in range(0, TRIALS, CHUNK):
        part = sums[start:start + CHUNK]
        common = np.sqrt(rho) * random.standard_normal(CHUNK)
        for line in lines:
            own = np.sqrt(1 - rho) * random.standard_normal(CHUNK)
            part += np.interp(common + own, GRID, tables[line])
    return sums


print(f"# numpy {np.__version__} (PCG64, seed {SEED}), scipy {scipy.__version__}, {TRIALS} trials; five significant digits.")
print("case,correlation,mean,sd,p10,p90,lines")
for name, lines, correlations in CASES:
    for rho in correlations:
        sums = trial_sums(lines, rho)
        p10, p90 = np.percentile(sums, [10, 90])
        results = ",".join(f"{x:.5g}" for x in (sums.mean(), sums.std(), p10, p90))
        print(f"{name},{rho},{results}," + ",".join(f"{x:g}" for line in lines for x in line))
