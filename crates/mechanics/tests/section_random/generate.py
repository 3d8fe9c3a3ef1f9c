"""Random sections worked out by general libraries: writes sections.toml.

usage: python3 generate.py > sections.toml

Ran with Python 3.11, numpy 2.4.6, scipy 1.17.1, shapely 2.2.0, scikit-fem 12.0.2, triangle 20250106.
Sections are polygons with or without holes, and rectangles put on top of each other. Area, centroid and
what lies above a level come from shapely; second moments from quadrature over triangles that shapely
cuts; plastic axes by scipy's brentq on the area that shapely cuts off; the kern from the corners of
shapely's convex hull, each of its sides the neutral axis of a force whose place is found by solving for
the stresses that vanish at both ends of the side; torsion by the finite elements of
../torsion_elements/generate.py. Lengths in mm.
"""
import math
import pathlib
import random

import numpy as np
import shapely
from scipy.optimize import brentq
from shapely.geometry import MultiPolygon, Polygon, box

HERE = pathlib.Path(__file__).resolve().parent
SECTIONS = 36
# Second moments over a triangle: the three middles of its sides are exact for squares.
MIDDLES = np.array([[0.5, 0.5, 0], [0, 0.5, 0.5], [0.5, 0, 0.5]])


def finite_elements():
    """The functions of the generator of torsion, without what it prints."""
    path = HERE.parent / "torsion_elements" / "generate.py"
    source = path.read_text(encoding="utf-8").split("\nprint(")[0]
    names = {}
    exec(compile(source, str(path), "exec"), names)
    return names["solved"]


def star(rng, corners, least, most, centre=(0.0, 0.0)):
    shares = [rng.uniform(0.4, 1.0) for _ in range(corners)]
    turn, places = rng.uniform(0, 2 * math.pi), []
    for share in shares:
        turn += share / sum(shares) * 2 * math.pi
        radius = rng.uniform(least, most)
        places.append((round(centre[0] + radius * math.cos(turn), 2), round(centre[1] + radius * math.sin(turn), 2)))
    return places


def random_parts(rng, kind):
    """Parts as (corners, is a deduction)."""
    if kind == "polygon":
        return [(star(rng, rng.randint(3, 11), 35, 100), False)]
    if kind == "holes":
        outer = star(rng, rng.randint(6, 10), 75, 100)
        inner = star(rng, rng.randint(3, 6), 12, 25, (rng.uniform(-30, -22), rng.uniform(-8, 8)))
        other = star(rng, rng.randint(3, 6), 8, 20, (rng.uniform(22, 30), rng.uniform(-8, 8)))
        return [(outer, False), (inner, True), (other, True)]
    parts, level = [], 0.0
    left, right = -50.0, 50.0
    for _ in range(rng.randint(2, 4)):
        wide, high = round(rng.uniform(8, 110), 1), round(rng.uniform(6, 60), 1)
        # It touches the part below along some length.
        at = round(rng.uniform(left - 0.6 * wide, right - 0.4 * wide), 1)
        at = min(max(at, left - wide + 5), right - 5)
        corners = [(at, level), (at + wide, level), (at + wide, level + high), (at, level + high)]
        parts.append(([(round(x, 2), round(y, 2)) for x, y in corners], False))
        left, right, level = at, at + wide, round(level + high, 2)
    return parts


def put_together(parts):
    whole = shapely.union_all([Polygon(corners) for corners, deducted in parts if not deducted])
    for corners, deducted in parts:
        if deducted:
            whole = whole.difference(Polygon(corners))
    return whole


def second_moments(shape, centre):
    """∫(y−ȳ)², ∫(x−x̄)², ∫(x−x̄)(y−ȳ) by quadrature over triangles."""
    totals = np.zeros(3)
    for triangle in shapely.constrained_delaunay_triangles(shape).geoms:
        corners = np.array(triangle.exterior.coords)[:3] - centre
        x, y = (MIDDLES @ corners).T
        totals += triangle.area / 3 * np.array([(y * y).sum(), (x * x).sum(), (x * y).sum()])
    return totals


def cut_off(shape, axis, level):
    """What lies beyond a level of y (axis 1) or x (axis 0)."""
    far = 1e4
    return shape.intersection(box(-far, level, far, far) if axis else box(level, -far, far, far))


def plastic(shape, axis):
    low, high = shape.bounds[axis], shape.bounds[axis + 2]
    half = shape.area / 2
    level = brentq(lambda own: cut_off(shape, axis, own).area - half, low, high, xtol=1e-13, rtol=1e-14)
    beyond = cut_off(shape, axis, level)
    rest = shape.difference(box(-1e4, level, 1e4, 1e4) if axis else box(level, -1e4, 1e4, 1e4))
    arm = lambda own: abs((own.centroid.y if axis else own.centroid.x) - level)
    return level, beyond.area * arm(beyond) + rest.area * arm(rest)


def kern(shape, centre, area, ixx, iyy, ixy):
    hull = np.array(shape.convex_hull.exterior.coords)
    if not shape.convex_hull.exterior.is_ccw:
        hull = hull[::-1]
    moments = np.array([[iyy, ixy], [ixy, ixx]])
    corners = []
    for one, other in zip(hull[:-1], hull[1:]):
        # Stress 1/A + g·(p − c) is 0 at both ends; g = I⁻¹·e of a unit force at e from the centroid.
        slope = np.linalg.solve(np.array([one - centre, other - centre]), [-1 / area, -1 / area])
        corners.append(centre + moments @ slope)
    return corners


def rings(shape):
    return [list(ring.coords)[:-1] for ring in [shape.exterior, *shape.interiors]]


def main():
    solved = finite_elements()
    rng = random.Random(2026)
    print("# Made by generate.py, which names the libraries and their versions. Lengths in mm.")
    made = 0
    while made < SECTIONS:
        kind = ["polygon", "holes", "rectangles"][made % 3]
        parts = random_parts(rng, kind)
        if not all(Polygon(corners).is_valid for corners, _ in parts):
            continue
        shape = put_together(parts)
        # Sliver walls cost elements and say nothing more.
        if isinstance(shape, MultiPolygon) or shape.buffer(-2).geom_type != "Polygon":
            continue
        made += 1
        centre = np.array(shape.centroid.coords[0])
        ixx, iyy, ixy = second_moments(shape, centre)
        low, high = shape.bounds[1], shape.bounds[3]
        level = round(low + (high - low) * rng.uniform(0.1, 0.9), 2)
        above = cut_off(shape, 1, level)
        values = {"area": shape.area, "xbar": centre[0], "ybar": centre[1], "ixx": ixx, "iyy": iyy, "ixy": ixy,
                  "level": level, "first_moment": above.area * (above.centroid.y - centre[1])}
        values["plastic_centre_y"], values["plastic_modulus_x"] = plastic(shape, 1)
        values["plastic_centre_x"], values["plastic_modulus_y"] = plastic(shape, 0)
        coarse, fine = solved(rings(shape), 4000), solved(rings(shape), 16000)
        print("\n[[section]]")
        for name in ("material", "deduction"):
            own = [[list(map(float, p)) for p in corners] for corners, deducted in parts if deducted == (name == "deduction")]
            print(f"{name} = {own}")
        for name, value in values.items():
            print(f"{name} = {value:.14e}")
        corners = kern(shape, centre, shape.area, ixx, iyy, ixy)
        print(f"kern = {[[float(f'{x:.13e}') for x in corner] for corner in corners]}")
        for key, value, change in zip(["torsion_constant", "shear_centre_x", "shear_centre_y", "warping_constant"], fine, np.abs(fine - coarse)):
            print(f"{key} = {value:.9e}")
            print(f"{key}_change = {change:.1e}", flush=True)


main()
