#!/usr/bin/env python3
"""Work out the expected numbers of the language pages by hand arithmetic, apart from the program.

usage: python3 derive.py [--write] [page.md ...]    (default: all pages)
       --write puts the worked-out number where the page says another, to as many digits

Each line `NAME = NUMBER UNIT  # EXPRESSION` of an `expect` block is compared with its expression,
which is worked out with exact fractions (floats only where a root, a circular function or pi comes
in) from the names of the `working` blocks above it. It must agree to the digits written.
Python's standard library is all it needs. The tests of the program do not run it.
"""

import math
import pathlib
import re
import sys
from fractions import Fraction

NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:e-?\d+)?")
FUNCTIONS = {
    "sqrt": math.sqrt, "floor": math.floor, "sin": math.sin, "cos": math.cos, "tan": math.tan,
    "atan2": math.atan2, "log": math.log, "exp": math.exp, "pi": math.pi,
    "min": min, "max": max, "abs": abs, "Fraction": Fraction,
}
EXPECTED = re.compile(r"^\s*(?:check\s+)?(\"[^\"]*\"|\S+)\s+(?:=|holds|fails)\s+(-?[\d.]+(?:e-?\d+)?)(?:\s+(.*?))?\s*#\s*(.+)$")


def exact(text):
    return NUMBER.sub(lambda m: f"Fraction('{m.group(0)}')", text)


def half_of_last_digit(number):
    mantissa, _, power = number.partition("e")
    places = len(mantissa.partition(".")[2])
    return Fraction(1, 2) * Fraction(10) ** (int(power or 0) - places)


def written_like(value, number):
    """The value to as many significant digits as `number` has, in the same form."""
    mantissa, has_power, _ = number.partition("e")
    digits = len(mantissa.lstrip("-").replace(".", "").lstrip("0")) or 1
    if has_power:
        return re.sub(r"e\+?(-?)0*", r"e\1", f"{float(value):.{digits - 1}e}")
    places = len(mantissa.partition(".")[2])
    return f"{float(value):.{places}f}"


def derive(page, write):
    names, wrong, count = dict(FUNCTIONS), 0, 0
    block = None
    lines = page.read_text(encoding="utf-8").splitlines()
    for line_number, line in enumerate(lines, 1):
        if line.startswith("```"):
            block = None if block is not None else (line[3:].split() or [""])[0]
            continue
        if block == "working" and line.strip():
            exec(exact(line), names)
        match = EXPECTED.match(line) if block == "expect" else None
        if not match:
            continue
        name, number, _, expression = match.groups()
        value = eval(exact(expression), names)
        count += 1
        given = Fraction(number)
        if abs(Fraction(value) - given) > half_of_last_digit(number) * Fraction(1001, 1000):
            print(f"{page.name}:{line_number}: {name} is {float(value):.10g}, the page says {number}")
            lines[line_number - 1] = line.replace(number, written_like(value, number), 1)
            wrong += 1
    if write and wrong:
        page.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return count, wrong


def main():
    here = pathlib.Path(__file__).resolve().parent
    write = "--write" in sys.argv
    pages = [pathlib.Path(p) for p in sys.argv[1:] if p != "--write"] or [
        *sorted(here.glob("*.md")), here.parent / "examples.md", here.parent.parent / "README.md"]
    total = [derive(page, write) for page in pages if page.exists()]
    count, wrong = sum(c for c, _ in total), sum(w for _, w in total)
    print(f"{count} numbers worked out, {wrong} wrong")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
