"""Torsion constant, shear centre and warping constant of polygons by finite elements: writes cases.toml.

Ran with Python 3.11, numpy 2.4.6, scipy 1.17.1, scikit-fem 12.0.2, triangle 20250106, shapely 2.2.0.
Saint-Venant's warping function with quadratic triangles, refined towards re-entrant corners; J is an
upper bound. Each case is solved on two meshes; their difference is kept as the change.
Shear centre by Trefftz's definition; warping constant about it.
"""
import numpy as np
import shapely
import triangle as tr
from shapely.geometry import Polygon
from skfem import Basis, BilinearForm, ElementTriP2, LinearForm, MeshTri, condense, solve

CASES = {
    "L of equal squares": [[(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)]],
    "trapezium": [[(0, 0), (4, 0), (3, 2), (1, 2)]],
    "right triangle": [[(0, 0), (3, 0), (0, 2)]],
    "tee": [[(4, 0), (6, 0), (6, 8), (10, 8), (10, 10), (0, 10), (0, 8), (4, 8)]],
    "channel": [[(0, 0), (60, 0), (60, 10), (8, 10), (8, 90), (60, 90), (60, 100), (0, 100)]],
    "zed": [[(0, 0), (50, 0), (50, 86), (92, 86), (92, 92), (44, 92), (44, 6), (0, 6)]],
    "unequal I": [[(20, 0), (80, 0), (80, 12), (55, 12), (55, 130), (100, 130), (100, 140), (0, 140), (0, 130), (45, 130), (45, 12), (20, 12)]],
    "box with its hole off the middle": [[(0, 0), (100, 0), (100, 60), (0, 60)], [(10, 8), (70, 8), (70, 50), (10, 50)]],
    "two cells": [[(0, 0), (100, 0), (100, 60), (0, 60)], [(8, 8), (40, 8), (40, 52), (8, 52)], [(46, 8), (92, 8), (92, 52), (46, 52)]],
    "skew quadrilateral": [[(0, 0), (5, 1), (4, 4), (0.5, 2)]],
    "slender angle": [[(0, 0), (80, 0), (80, 4), (4, 4), (4, 120), (0, 120)]],
    "notched square": [[(0, 0), (10, 0), (10, 10), (6, 10), (5, 4), (4, 10), (0, 10)]],
}


def mesh(rings, elements):
    outer, holes = rings[0], rings[1:]
    area = Polygon(outer, holes).area
    vertices, segments = [], []
    for ring in rings:
        first = len(vertices)
        vertices += ring
        segments += [[first + i, first + (i + 1) % len(ring)] for i in range(len(ring))]
    data = dict(vertices=np.array(vertices, float), segments=np.array(segments))
    if holes:
        data["holes"] = np.array([Polygon(h).representative_point().coords[0] for h in holes])
    t = tr.triangulate(data, f"pq30a{area / elements:.12f}")
    m = MeshTri(t["vertices"].T.copy(), t["triangles"].T.copy())
    # Towards re-entrant corners.
    corners = []
    for ring, is_hole in [(outer, False)] + [(h, True) for h in holes]:
        r = np.array(ring, float)
        for i in range(len(r)):
            a, b = r[i] - r[i - 1], r[(i + 1) % len(r)] - r[i]
            if (a[0] * b[1] - a[1] * b[0] < 0) != is_hole:
                corners.append(r[i])
    for step in range(14):
        centre = m.p[:, m.t].mean(axis=1)
        side = np.sqrt(np.abs(np.linalg.det(np.stack([m.p[:, m.t[1]] - m.p[:, m.t[0]], m.p[:, m.t[2]] - m.p[:, m.t[0]]]).transpose(2, 0, 1))))
        marked = np.zeros(m.nelements, bool)
        for c in corners:
            marked |= np.hypot(centre[0] - c[0], centre[1] - c[1]) < 1.5 * side
        if not marked.any():
            break
        m = m.refined(np.nonzero(marked)[0])
    return m


def solved(rings, elements):
    m = mesh(rings, elements)
    b = Basis(m, ElementTriP2(), intorder=4)
    one = LinearForm(lambda v, w: 1.0 * v).assemble(b)
    x0, y0 = b.project(lambda x: x[0]), b.project(lambda x: x[1])
    mass = BilinearForm(lambda u, v, w: u * v).assemble(b)
    area = one.sum()
    cx, cy = one @ x0 / area, one @ y0 / area
    x, y = x0 - cx, y0 - cy
    iyy, ixx, ixy = x @ mass @ x, y @ mass @ y, x @ mass @ y
    k = BilinearForm(lambda u, v, w: u.grad[0] * v.grad[0] + u.grad[1] * v.grad[1]).assemble(b)
    f = LinearForm(lambda v, w: (w.x[1] - cy) * v.grad[0] - (w.x[0] - cx) * v.grad[1]).assemble(b)
    om = solve(*condense(k, f, D=np.array([0])))
    om -= one @ om / area
    j = ixx + iyy - om @ k @ om
    ys, xs = np.linalg.solve([[iyy, -ixy], [ixy, -ixx]], [om @ mass @ x, om @ mass @ y])
    about = om - ys * x + xs * y
    return np.array([j, cx + xs, cy + ys, about @ mass @ about])


print("# Made by generate.py, which names the libraries and their versions. Lengths in mm.")
for name, rings in CASES.items():
    coarse, fine = solved(rings, 6000), solved(rings, 24000)
    print("\n[[case]]")
    print(f'name = "{name}"')
    print(f"rings = {[[list(map(float, p)) for p in r] for r in rings]}")
    for key, value, change in zip(["torsion_constant", "shear_centre_x", "shear_centre_y", "warping_constant"], fine, np.abs(fine - coarse)):
        print(f"{key} = {value:.9e}")
        print(f"{key}_change = {change:.1e}")
