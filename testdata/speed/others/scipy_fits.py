"""Fits of points.csv and start.csv (see ../data.go) by SciPy and NumPy:
processor time, best of many batches. Start values are given, and derivatives
are exact."""

import csv
import sys
import time
import warnings

import numpy
import scipy
from scipy.optimize import curve_fit

SETS, BATCHES = 64, 15
warnings.simplefilter("ignore")

points, starts = [[] for _ in range(SETS)], {}
for row in csv.DictReader(open(sys.argv[1])):
    points[int(row["set"])].append([float(row[k]) for k in ("after", "x", "y")])
for row in csv.DictReader(open(sys.argv[2])):
    starts[int(row["set"])] = [float(row[k]) for k in ("top", "a", "b", "c")]
both = [numpy.array(p).T for p in points]
first = [p[:, p[0] == 0] for p in both]


def exponential(set):
    _, x, y = first[set]
    top, *start = starts[set]

    def f(x, a, b, c):
        return a + b * numpy.exp(c * (x - top))

    def df(x, a, b, c):
        e = numpy.exp(c * (x - top))
        return numpy.stack([numpy.ones_like(x), e, b * (x - top) * e], axis=1)

    p, _ = curve_fit(f, x, y, start, jac=df)
    return p, f(x, *p) - y


def shift(set):
    after, x, y = both[set]
    top, *start = starts[set]

    def f(x, a, b, c, d):
        return a + b * numpy.exp(c * (x - top - d * after))

    def df(x, a, b, c, d):
        dx = x - top - d * after
        e = numpy.exp(c * dx)
        return numpy.stack([numpy.ones_like(x), e, b * dx * e, -b * c * after * e], axis=1)

    p, _ = curve_fit(f, x, y, start + [0], jac=df)
    return p, f(x, *p) - y


def cubic(set):
    _, x, y = first[set]
    p = numpy.polyfit(x, y, 3)
    return p, numpy.polyval(p, x) - y


def report(name, work, fit):
    for set in range(SETS):
        try:
            _, r = fit(set)
            rss = float(r @ r)
        except RuntimeError:
            rss = float("nan")
        print("fit", name, work, set, repr(rss), sep=",")

    def attempt(set):
        try:
            fit(set)
        except RuntimeError:
            pass

    best = float("inf")
    for _ in range(BATCHES):
        begin, fits, took = time.process_time(), 0, 0
        while took < 0.02:
            for set in range(SETS):
                attempt(set)
            fits += SETS
            took = time.process_time() - begin
        best = min(best, took / fits)
    print("time", name, work, 1e9 * best, sep=",")


report("SciPy " + scipy.__version__, "exponential", exponential)
report("NumPy " + numpy.__version__, "cubic", cubic)
report("SciPy " + scipy.__version__, "shift", shift)
