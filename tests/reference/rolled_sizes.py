#!/usr/bin/env python3
"""Write crates/calc/src/rolled/sizes.tsv: rolled sizes by their designation.

usage: python3 rolled_sizes.py

Reads the published cases of crates/mechanics/tests/rolled_shapes/cases.toml (sizes and properties,
the source named in each), works out area, centroidal second moments and section moduli of the shape
from its sizes, and keeps a row only where every one of them that is published agrees within the
published digits. The shapes are drawn here once more, by themselves: a polygon with fine arcs,
integrated by Green's theorem. Python's standard library (3.11 or later) is all it needs. The tests
do not run it: they work every row out again.
"""

import math
import pathlib
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
CASES = ROOT / "crates/mechanics/tests/rolled_shapes/cases.toml"
TABLE = ROOT / "crates/calc/src/rolled/sizes.tsv"
ARC = 400  # straight pieces in an arc

# The standard of a series by how its designations start; those of ASTM from memory.
STANDARDS = [
    ("IPE", "EN 10365"),
    ("HE ", "EN 10365"),
    ("UPN", "EN 10365"),
    ("L ", "EN 10056-1"),
    ("WT", "ASTM A6"),
    ("W", "ASTM A6"),
    ("HSS", "ASTM A500"),
    ("Pipe", "ASTM A53"),
]
HOLLOW = {"hot finished": "EN 10210-2", "cold formed": "EN 10219-2"}

# Sizes of a shape in the order of the table; the first name that a case has.
SIZES = {
    "I": [("h", "d"), ("b",), ("tw",), ("tf",), ("r",)],
    "T": [("h", "d"), ("b",), ("tw",), ("tf",), ("r",)],
    "U_taper": [("h",), ("b",), ("tw",), ("tf",), ("r1",), ("r2",), ("slope",)],
    "L": [("h",), ("b",), ("t",), ("r1",), ("r2",)],
    "RHS": [("h",), ("b",), ("t",), ("ro",), ("ri",)],
    "CHS": [("d",), ("t",)],
}
WORDS = {"I": "i", "T": "tee", "U_taper": "channel", "L": "angle", "RHS": "hollow", "CHS": "pipe"}

LENGTHS = {"": 1.0, "mm": 1.0, "cm": 10.0, "inch": 25.4}


def in_mm(value, unit):
    name, _, power = unit.partition("^")
    return value * LENGTHS[name] ** int(power or 1)


def rounded(corners):
    """A polygon of (x, y, radius) with its corners rounded."""
    points = []
    for at, (x, y, r) in enumerate(corners):
        if r == 0:
            points.append((x, y))
            continue
        ways = []
        for other in (corners[at - 1], corners[(at + 1) % len(corners)]):
            dx, dy = other[0] - x, other[1] - y
            length = math.hypot(dx, dy)
            ways.append((dx / length, dy / length))
        (ax, ay), (bx, by) = ways
        half = math.acos(ax * bx + ay * by) / 2
        back = r / math.tan(half)
        mx, my = ax + bx, ay + by
        middle = math.hypot(mx, my)
        cx, cy = x + mx / middle * r / math.sin(half), y + my / middle * r / math.sin(half)
        start = math.atan2(y + ay * back - cy, x + ax * back - cx)
        end = math.atan2(y + by * back - cy, x + bx * back - cx)
        sweep = (end - start + math.pi) % (2 * math.pi) - math.pi
        for step in range(ARC + 1):
            angle = start + sweep * step / ARC
            points.append((cx + r * math.cos(angle), cy + r * math.sin(angle)))
    return points


def rings(shape, size):
    """Outlines, holes the other way round."""
    if shape == "I":
        h, b, tw, tf, r = size
        left, right = (b - tw) / 2, (b + tw) / 2
        return [rounded([
            (0, 0, 0), (b, 0, 0), (b, tf, 0), (right, tf, r), (right, h - tf, r), (b, h - tf, 0),
            (b, h, 0), (0, h, 0), (0, h - tf, 0), (left, h - tf, r), (left, tf, r), (0, tf, 0),
        ])]
    if shape == "T":
        h, b, tw, tf, r = size
        left, right = (b - tw) / 2, (b + tw) / 2
        return [rounded([
            (left, 0, 0), (right, 0, 0), (right, h - tf, r), (b, h - tf, 0), (b, h, 0), (0, h, 0),
            (0, h - tf, 0), (left, h - tf, r),
        ])]
    if shape == "U_taper":
        h, b, tw, tf, r1, r2, slope = size
        root, toe = tf + slope * (b / 2 - tw), tf - slope * b / 2
        return [rounded([
            (0, 0, 0), (b, 0, 0), (b, toe, r2), (tw, root, r1), (tw, h - root, r1),
            (b, h - toe, r2), (b, h, 0), (0, h, 0),
        ])]
    if shape == "L":
        h, b, t, r1, r2 = size
        return [rounded([(0, 0, 0), (b, 0, 0), (b, t, r2), (t, t, r1), (t, h, r2), (0, h, 0)])]
    if shape == "RHS":
        h, b, t, ro, ri = size
        outer = rounded([(0, 0, ro), (b, 0, ro), (b, h, ro), (0, h, ro)])
        inner = rounded([(t, t, ri), (b - t, t, ri), (b - t, h - t, ri), (t, h - t, ri)])
        return [outer, inner[::-1]]
    d, t = size

    def circle(radius):
        steps = 8 * ARC
        turn = [2 * math.pi * step / steps for step in range(steps)]
        return [(radius * math.cos(a), radius * math.sin(a)) for a in turn]

    return [circle(d / 2), circle(d / 2 - t)[::-1]]


def properties(shape, size):
    area = sx = sy = ixx = iyy = 0.0
    outlines = rings(shape, size)
    for ring in outlines:
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1]):
            cross = x0 * y1 - x1 * y0
            area += cross / 2
            sx += cross * (y0 + y1) / 6
            sy += cross * (x0 + x1) / 6
            ixx += cross * (y0 * y0 + y0 * y1 + y1 * y1) / 12
            iyy += cross * (x0 * x0 + x0 * x1 + x1 * x1) / 12
    x, y = sy / area, sx / area
    ixx, iyy = ixx - area * y * y, iyy - area * x * x
    xs, ys = zip(*(point for ring in outlines for point in ring))
    return {
        "S.A": area,
        "S.Ix": ixx,
        "S.Iy": iyy,
        "S.Sx": ixx / max(max(ys) - y, y - min(ys)),
        "S.Sy": iyy / max(max(xs) - x, x - min(xs)),
        "S.cx": x,
        "S.cy": y,
        "S.rx": math.sqrt(ixx / area),
        "S.ry": math.sqrt(iyy / area),
    }


def standard(title):
    for words, name in HOLLOW.items():
        if title.endswith(words):
            return name
    return next(name for start, name in STANDARDS if title.startswith(start))


def row(case):
    title, given = case["title"], case["given"]
    shape = given["shape"]
    chosen = [next(given[name] for name in names if name in given) for names in SIZES[shape]]
    size = [in_mm(one["value"], one["unit"]) if one["unit"] else one["value"] for one in chosen]
    own = properties(shape, size)
    published = {}
    for item in case["expected"]:
        name = item["recompute"]
        if name not in own or "published" not in item:
            continue
        value = in_mm(item["value"], item["unit"])
        if abs(own[name] - value) > item["rel_tol"] * abs(value):
            print(f"{title}: {item['name']} is {own[name]}, published {value} mm", file=sys.stderr)
            return None
        digits = f"{item['published']} {item['unit']} {item['rel_tol']}"
        published.setdefault(name, digits)
    unit = next(one["unit"] for one in chosen if one["unit"])
    sizes = " ".join(f"{one['value']:g}" for one in chosen)
    second_x, second_y = published.get("S.Ix", "-"), published.get("S.Iy", "-")
    area = published.get("S.A", "-")
    return "\t".join(
        [title, standard(title), WORDS[shape], unit, sizes, area, second_x, second_y]
    )


def main():
    cases = tomllib.loads(CASES.read_text())["case"]
    rows = [line for line in map(row, cases) if line]
    head = [
        "# Rolled sizes by their designation, written by tests/reference/rolled_sizes.py from",
        "# published sizes whose published properties agree. Sizes: i and tee h b tw tf r; channel h",
        "# b tw tf r1 r2 slope (tf at b/2); angle h b t r1 r2; hollow h b t outer inner; pipe d t.",
        "# Published: value, unit, and how far the digits of sizes and value allow to differ.",
        "# designation\tstandard\tshape\tunit\tsizes\tarea\tIxx\tIyy",
    ]
    TABLE.write_text("\n".join(head + rows) + "\n")
    print(f"{len(rows)} of {len(cases)} rows")


main()
