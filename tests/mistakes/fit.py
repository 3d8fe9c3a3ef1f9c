"""Computes what each reason counts in the cost of a repair, from the looked-at cases of the corpus.

    WEIGHED_REPAIRS=folder cargo test -p haunch-tests --test mistakes
    python3 tests/mistakes/fit.py folder [id ...]

The test writes for each mistaken line the repairs that hold, each with its reasons and whether it is a right one.
The costs are those under which the right repairs are likeliest (conditional logit: the chance of a repair falls with
the exponential of its cost), held near the ones in `crates/calc/src/repair/costs.rs`. Needs numpy and scipy.
Printed: the new costs, and how often a right repair comes first and among three, with the present costs, with the
new ones, and with ones fitted to the other four fifths of the files (what may be hoped for elsewhere).
"""

import pathlib
import re
import sys

import numpy as np
from scipy.optimize import minimize

HERE = pathlib.Path(__file__).parent
COSTS = HERE.parent.parent / "crates/calc/src/repair/costs.rs"
# How much the present costs are held to: the spread of a cost about them.
SPREAD = 0.35
# Slips of hands tell more than mutants: how many times a case of theirs counts.
BY_HAND = 3.0
# A cost of 1 in units of the logarithm of the odds.
SCALE = 4.0


def present():
    rows = re.findall(r"\(Reason::(\w+), (-?[\d.]+), ", COSTS.read_text())
    return [name for name, _ in rows], np.array([float(cost) for _, cost in rows])


def read(folder, names):
    cases = []
    mutants = set(re.findall(r"^id = ['\"](.+)['\"]", "".join(
        (HERE / f"{name}.toml").read_text() for name in ("seen", "opened", "opened_later")), re.MULTILINE))
    for path in sorted(pathlib.Path(folder).iterdir()):
        rows, right = [], []
        for line in path.read_text().splitlines():
            mark, _title, *reasons = line.split("\t")
            row = np.zeros(len(names))
            for reason in reasons:
                name, much = reason.split(" ")
                row[names.index(name)] += float(much)
            rows.append(row)
            right.append(mark == "right")
        if rows:
            cases.append((path.name, np.array(rows), np.array(right), 1.0 if path.name in mutants else BY_HAND))
    return cases


def fitted(cases, start):
    cases = [case for case in cases if case[2].any() and not case[2].all()]

    def loss(costs):
        total, slope = 0.5 * np.sum(((costs - start) / SPREAD) ** 2), (costs - start) / SPREAD**2
        for _, rows, right, weight in cases:
            scores = -SCALE * (rows @ costs)
            scores -= scores.max()
            odds = np.exp(scores)
            of_all, of_right = odds / odds.sum(), odds * right / (odds * right).sum()
            total += weight * (np.log(odds.sum()) - np.log((odds * right).sum()))
            slope += weight * SCALE * (rows.T @ (of_right - of_all))
        return total, slope

    return minimize(loss, start, jac=True, method="L-BFGS-B").x


def ranks(cases, costs):
    found = []
    for _, rows, right, _ in cases:
        order = np.argsort(rows @ costs, kind="stable")
        at = [rank for rank, index in enumerate(order) if right[index]]
        found.append(at[0] if at else 99)
    return np.array(found)


def told(name, found):
    print(f"{name:32} {len(found):4} cases: first {100 * np.mean(found < 1):5.1f} %, among three "
          f"{100 * np.mean(found < 3):5.1f} %, at all {100 * np.mean(found < 99):5.1f} %")


def main():
    folder, *only = sys.argv[1:]
    names, start = present()
    cases = read(folder, names)
    if only:
        cases = [case for case in cases if any(case[0].startswith(start) for start in only)]
    told("present costs", ranks(cases, start))
    new = fitted(cases, start)
    told("new costs", ranks(cases, new))
    files = sorted({re.sub(r"-\d+$", "", name) for name, *_ in cases})
    apart = np.full(len(cases), 99)
    for fold in range(5):
        left_out = {file for index, file in enumerate(files) if index % 5 == fold}
        is_out = [re.sub(r"-\d+$", "", name) in left_out for name, *_ in cases]
        costs = fitted([case for case, out in zip(cases, is_out) if not out], start)
        of_these = ranks([case for case, out in zip(cases, is_out) if out], costs)
        apart[np.array(is_out)] = of_these
    told("fitted to the other files", apart)
    used = sum(np.abs(rows).sum(axis=0) for _, rows, *_ in cases)
    for name, old, cost, much in zip(names, start, new, used):
        print(f"    {name:24} {old:6.2f} {cost:6.2f}   {much:8.0f}")


if __name__ == "__main__":
    main()
