"""Random beams, solved by the direct stiffness method with 60 digits.

Writes beams.toml. Ran with Python 3.11.7 and mpmath 1.3.0; nothing else is needed.
Cubic elements between all places where something acts or changes are exact at their ends for
loads that change linearly, so that the only error is the rounding of 60 digits.
Signs: deflection w positive down, slope w', loads down, reactions up, moment sagging, shear V = M'.
"""
import random
from mpmath import mp, mpf, matrix, lu_solve

mp.dps = 60
random.seed(20)


def random_beam(kind):
    spans = random.randint(1, 6)
    scale = {"usual": (1, 2), "unequal": (-3, 2)}[kind]
    lengths = [round(10 ** random.uniform(*scale), 4) / 10 for _ in range(spans)]
    places, x = [0.0], 0.0
    for length in lengths:
        x = round(x + max(length, 1e-3), 4)
        places.append(x)
    left, right = random.random() < 0.3, random.random() < 0.3      # overhangs
    total = places[-1]
    if left:
        over = round(lengths[0] * 0.3 + 1e-3, 4)
        places = [round(p + over, 4) for p in places]
        total = places[-1]
    if right:
        total = round(total + lengths[-1] * 0.4 + 1e-3, 4)
    supports = []
    for i, p in enumerate(places):
        roll = random.random()
        if roll < 0.15:
            supports.append([p, "spring", round(10 ** random.uniform(3, 9), 1)])
        elif roll < 0.3 and i in (0, len(places) - 1):
            supports.append([p, "fixed", 0.0])
        else:
            supports.append([p, "pin", 0.0])
    hinges = []
    for i in range(1, spans - 1, 2):                                 # one hinge in an inner span
        if random.random() < 0.5:
            hinges.append(round(places[i] + (places[i + 1] - places[i]) * random.uniform(0.1, 0.9), 5))
    steps = sorted({0.0, total, *(round(random.uniform(0.05, 0.95) * total, 4) for _ in range(random.randint(0, 3)))})
    stretches = [[a, b, round(10 ** random.uniform(5, 8), 0)] for a, b in zip(steps, steps[1:])]
    anywhere = lambda: round(random.uniform(0.0, 1.0) * total, 4)
    loads = []
    for _ in range(random.randint(1, 5)):
        loads.append(["force", anywhere(), 0.0, round(random.uniform(-5e4, 1e5), 1), 0.0])
    for _ in range(random.randint(0, 2)):
        loads.append(["couple", anywhere(), 0.0, round(random.uniform(-5e4, 5e4), 1), 0.0])
    for _ in range(random.randint(0, 3)):
        a, b = sorted((anywhere(), anywhere()))
        if b - a > 1e-3:
            loads.append(["distributed", a, b, round(random.uniform(0, 2e4), 1), round(random.uniform(0, 2e4), 1)])
    if random.random() < 0.4:
        loads.append(["settlement", float(random.randrange(len(supports))), 0.0, round(random.uniform(-0.01, 0.02), 5), 0.0])
    if random.random() < 0.4:
        a, b = sorted((anywhere(), anywhere()))
        if b - a > 1e-3:
            loads.append(["curvature", a, b, round(random.uniform(-2e-3, 2e-3), 7), 0.0])
    return dict(length=total, supports=supports, hinges=hinges, stretches=stretches, loads=loads)


def solve(beam):
    exact = mpf                                                      # the very number that f64 holds
    nodes = {exact(0.0), exact(beam["length"])}
    nodes |= {exact(s[0]) for s in beam["supports"]} | {exact(h) for h in beam["hinges"]}
    nodes |= {exact(s[0]) for s in beam["stretches"]}
    for kind, a, b, *_ in beam["loads"]:
        if kind != "settlement":
            nodes.add(exact(a))
        if kind in ("distributed", "curvature"):
            nodes.add(exact(b))
    nodes = sorted(nodes)
    hinges = {exact(h) for h in beam["hinges"]}
    # Freedoms: deflection of each node; slope before and after it (one unless hinged).
    count, freedoms = 0, []
    for x in nodes:
        w = count; before = count + 1
        after = before + 1 if x in hinges else before
        count = after + 1
        freedoms.append((w, before, after))
    K, F = matrix(count, count), matrix(count, 1)
    elements = []
    for i, (a, b) in enumerate(zip(nodes, nodes[1:])):
        h, middle = b - a, (a + b) / 2
        EI = next(exact(s[2]) for s in beam["stretches"] if exact(s[0]) < middle < exact(s[1]))
        qa = qb = kappa = mpf(0)
        for kind, p, q, v1, v2 in beam["loads"]:
            p, q, v1, v2 = map(exact, (p, q, v1, v2))
            if kind == "distributed" and p < middle < q:
                qa += v1 + (v2 - v1) * (a - p) / (q - p)
                qb += v1 + (v2 - v1) * (b - p) / (q - p)
            if kind == "curvature" and p < middle < q:
                kappa += v1
        k = EI / h**3 * matrix([[12, 6*h, -12, 6*h], [6*h, 4*h*h, -6*h, 2*h*h], [-12, -6*h, 12, -6*h], [6*h, 2*h*h, -6*h, 4*h*h]])
        # Work-equivalent loads: integral of q times the Hermite functions, and of -EI*kappa*N''.
        f = matrix([h*(7*qa + 3*qb)/20, h*h*(3*qa + 2*qb)/60, h*(3*qa + 7*qb)/20, -h*h*(2*qa + 3*qb)/60])
        f += matrix([0, EI*kappa, 0, -EI*kappa])
        dofs = [freedoms[i][0], freedoms[i][2], freedoms[i + 1][0], freedoms[i + 1][1]]
        for r in range(4):
            F[dofs[r]] += f[r]
            for c in range(4):
                K[dofs[r], dofs[c]] += k[r, c]
        elements.append((k, f, dofs))
    at = {x: i for i, x in enumerate(nodes)}
    settlements = [mpf(0)] * len(beam["supports"])
    for kind, a, b, v1, v2 in beam["loads"]:
        if kind == "force":
            F[freedoms[at[exact(a)]][0]] += exact(v1)
        if kind == "couple":                                         # clockwise turns w' up
            F[freedoms[at[exact(a)]][1]] += exact(v1)
        if kind == "settlement":
            settlements[int(a)] += exact(v1)
    K0, F0 = K.copy(), F.copy()
    fixed = {}
    for (x, kind, stiffness), s in zip(beam["supports"], settlements):
        w, before, _ = freedoms[at[exact(x)]]
        if kind == "spring":
            K[w, w] += exact(stiffness); F[w] += exact(stiffness) * s
        else:
            fixed[w] = s
            if kind == "fixed":
                fixed[before] = mpf(0)
    for d, value in fixed.items():
        for r in range(count):
            F[r] -= K[r, d] * value
            K[r, d] = K[d, r] = mpf(0)
        K[d, d], F[d] = mpf(1), value
    u = lu_solve(K, F)
    residual = K0 * u - F0
    reactions = [[-residual[freedoms[at[exact(x)]][0]], residual[freedoms[at[exact(x)]][1]] if kind == "fixed" else mpf(0)]
                 for x, kind, _ in beam["supports"]]
    # Element end forces: r = k*u - f, in the directions of w (down) and w' (clockwise).
    ends = []
    for k, f, dofs in elements:
        r = k * matrix([u[d] for d in dofs]) - f
        w0, t0, w1, t1 = (u[d] for d in dofs)
        ends.append([-r[0], r[1], t0, w0, r[2], -r[3], t1, w1])
    return nodes, reactions, ends


def number(x):
    return repr(float(x))


def rows(values):
    return "[" + ", ".join("[" + ", ".join(f'"{v}"' if isinstance(v, str) else number(v) for v in row) + "]" for row in values) + "]"


out = ["# Random beams and their solution with 60 digits, written by generate.py, which describes them.",
       "# supports [place, kind, stiffness], stretches [from, to, EI], loads [kind, from (or place, or",
       "# support), to, value at from, value at to], reactions [up, clockwise fixing moment], pieces",
       "# [from, to, then at the beginning V, M, slope, deflection, and the same at the end]. All SI.", ""]
for i in range(60):
    beam = random_beam("usual" if i < 40 else "unequal")
    nodes, reactions, ends = solve(beam)
    out.append("[[beam]]")
    out.append(f"length = {number(beam['length'])}")
    out.append(f"supports = {rows(beam['supports'])}")
    out.append(f"hinges = [{', '.join(map(number, beam['hinges']))}]")
    out.append(f"stretches = {rows(beam['stretches'])}")
    out.append(f"loads = {rows(beam['loads'])}")
    out.append(f"reactions = {rows(reactions)}")
    out.append(f"pieces = {rows([[a, b, *e] for a, b, e in zip(nodes, nodes[1:], ends)])}")
    out.append("")
open("beams.toml", "w").write("\n".join(out))
