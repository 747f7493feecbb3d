"""Writes nesting.csv: the least that new bars cost for given pieces, kerf, trim, bars on offer and
offcuts in hand. Every filling of every bar is enumerated; how often each is cut is the integer
program of Gilmore and Gomory, solved to proven optimality. Random tasks of a fixed seed, and one
of the textbooks (73 rolls of 5600 mm). Lengths in mm, prices in cents."""
import numpy as np
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp

SEED = 7
ROLLS = [(1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
         (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)]


def fillings(pieces, room):
    """Every choice of pieces (widths with kerf, counts) that a room holds."""
    if not pieces:
        yield ()
        return
    (width, count), rest = pieces[0], pieces[1:]
    for n in range(min(count, room // width), -1, -1):
        for others in fillings(rest, room - n * width):
            yield (n,) + others


def full(filling, pieces, room):
    """Whether no piece more goes in."""
    left = room - sum(n * width for n, (width, _) in zip(filling, pieces))
    return all(n == count or width > left for n, (width, count) in zip(filling, pieces))


def least(kerf, trim, bars, offcuts, pieces):
    wide = [(length + kerf, count) for length, count in pieces]
    columns, prices, owner = [], [], []
    stock = [(length - 2 * trim + kerf, price, None) for length, price in bars]
    stock += [(length + kerf, 0, place) for place, length in enumerate(offcuts)]
    for room, price, offcut in stock:
        for filling in fillings(wide, room):
            if any(filling) and full(filling, wide, room):
                columns.append(filling)
                prices.append(price)
                owner.append(offcut)
    demand = LinearConstraint(np.array(columns).T, lb=[count for _, count in pieces])
    limits = [demand]
    for place in range(len(offcuts)):
        limits.append(LinearConstraint([[float(o == place) for o in owner]], ub=1))
    result = milp(prices, constraints=limits, integrality=np.ones(len(prices)), bounds=Bounds(lb=0))
    assert result.success and result.mip_gap < 1e-9, result
    return round(result.fun)


def tasks():
    random = np.random.Generator(np.random.PCG64(SEED))
    yield "textbook", 0, 0, [(5600, 1)], [], ROLLS
    for place in range(36):
        kinds = int(random.integers(2, 9))
        lengths = sorted({int(x) for x in random.integers(180, 1900, kinds)}, reverse=True)
        pieces = [(length, int(random.integers(1, 5))) for length in lengths]
        bars = [[(3000, 2400), (6000, 4800)], [(3000, 2400), (6000, 4800), (6500, 5200)],
                [(6000, 4800)], [(3000, 2690), (6000, 4790), (6500, 5555)]][place % 4]
        offcuts = [int(x) for x in random.integers(300, 2500, place % 3)]
        kerf, trim = int(random.integers(0, 5)), int(random.integers(0, 16))
        yield f"random {place + 1}", kerf, trim, bars, offcuts, pieces


print(f"# scipy {scipy.__version__} (HiGHS), numpy {np.__version__} (PCG64, seed {SEED}); lengths in mm, prices in cents.")
print("case,least price,kerf,trim,how many bars,(length,price) of each,how many offcuts,length of each,(length,count) of the pieces")
for name, kerf, trim, bars, offcuts, pieces in tasks():
    numbers = [least(kerf, trim, bars, offcuts, pieces), kerf, trim, len(bars)]
    numbers += [x for bar in bars for x in bar] + [len(offcuts)] + offcuts
    numbers += [x for piece in pieces for x in piece]
    print(name + "," + ",".join(str(x) for x in numbers))
