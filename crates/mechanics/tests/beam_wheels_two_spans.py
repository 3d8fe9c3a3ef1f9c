"""One wheel on two equal spans, by the three-moment equation (Clapeyron), P = L = 1.

Prints the largest sagging moment and its place, and the largest hogging moment over the middle
support. Plain Python; nothing of the program is used.
"""
from math import sqrt


def over_support(s):
    """Hogging over the middle support for a wheel at s in the first span: 4·M = s·(1 − s²)."""
    return s * (1 - s * s) / 4


def under_wheel(s):
    return s * (1 - s) - s * over_support(s)


def largest(f):
    """By golden section; f has one maximum between 0 and 1."""
    low, high, golden = 0.0, 1.0, (sqrt(5) - 1) / 2
    while high - low > 1e-9:
        left, right = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, right) if f(left) > f(right) else (left, high)
    s = (low + high) / 2
    return f(s), s


print("sagging %.14f at %.6f" % largest(under_wheel))
print("hogging %.14f at %.6f" % largest(over_support))
print("1/(6·√3) = %.14f at 1/√3 = %.6f" % (1 / (6 * sqrt(3)), 1 / sqrt(3)))
