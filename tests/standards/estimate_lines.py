"""Writes estimate_lines.csv: mean, standard deviation, skewness and percentiles of single
three-point estimates, the beta distribution of shape 4 that is usual for them."""
import scipy
from scipy.stats import beta

RANGES = (
    (10, 12, 20), (100, 150, 300), (0, 5, 6), (40, 50, 60), (2, 3, 10), (0, 0, 1), (0, 1, 1),
    (900, 1000, 1600), (4900, 5000, 5050),
)

print(f"# scipy.stats.beta of scipy {scipy.__version__}; seven significant digits.")
print("line,low,likely,high,mean,sd,skewness,p10,p90")
for low, likely, high in RANGES:
    width = high - low
    shape = beta(1 + 4 * (likely - low) / width, 1 + 4 * (high - likely) / width, low, width)
    mean, variance, skewness = (float(x) for x in shape.stats("mvs"))
    row = (mean, variance**0.5, skewness + 0.0, shape.ppf(0.1), shape.ppf(0.9))
    print(f"{low}/{likely}/{high},{low},{likely},{high}," + ",".join(f"{x:.7g}" for x in row))
