"""How often a real change of a share is told as held, and a share that has not changed wrongly so.

Exactly, from the binomial distribution, with the interval of Newcombe (1998, method 10) and three cases on either side
at least: python3 tests/python/resolution_power.py prints the table in src/progress/resolution.rs.
"""

from math import comb, hypot, sqrt

Z = 1.959963984540054


def wilson(part, of):
    p = part / of
    middle, half = p + Z * Z / (2 * of), Z * sqrt(p * (1 - p) / of + Z * Z / (4 * of * of))
    return (middle - half) / (1 + Z * Z / of), (middle + half) / (1 + Z * Z / of)


def told_as_held(a, n, b, m):
    """After b of m, before a of n: the interval lies above nought."""
    low_b, high_b = wilson(b, m)
    low_a, high_a = wilson(a, n)
    d = b / m - a / n
    return min(n, m) >= 3 and d - hypot(b / m - low_b, high_a - a / n) > 0


def power(p, n, q, m):
    chance = lambda k, n, p: comb(n, k) * p**k * (1 - p) ** (n - k)
    return sum(
        chance(a, n, p) * chance(b, m, q)
        for a in range(n + 1)
        for b in range(m + 1)
        if told_as_held(a, n, b, m)
    )


for n, m in [(5, 5), (10, 5), (10, 10), (20, 10), (40, 20), (60, 60)]:
    changes = [(0.4, 0.8), (0.5, 0.8), (0.5, 0.9), (0.5, 0.5)]
    cells = " | ".join(f"{100 * power(p, n, q, m):.0f} %" for p, q in changes)
    print(f"| {n}, {m} | {cells} |")
