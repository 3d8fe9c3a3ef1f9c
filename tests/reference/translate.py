#!/usr/bin/env python3
"""Translate published reference cases into whole files of the notation, with what must come out.

usage: python3 translate.py sections.toml stress.toml torsion.toml rolled.toml beams.toml mistakes.toml

Each file given is one of published cases, whose fields are: `given` (values with units, or
rectangles, or a beam), `expected` (the published number, its unit, its tolerance from the digits
printed, and `recompute`, an expression that gives it), and the source. For each, a file of the same
name is written beside this script: the published number in SI, its tolerance, and a `.haunch` file
whose value lines say the same as `recompute`. Cases that the notation cannot say are listed with the
reason in README.md beside this script, between the two marks. Every published item is listed in
collection.tsv, by which a test sees that none is lost.

Python's standard library is all it needs. The tests do not run it: they read what it wrote.
"""

import ast
import math
import pathlib
import re
import sys
import tomllib
from fractions import Fraction

HERE = pathlib.Path(__file__).resolve().parent

# ------------------------------------------------------------------------------------ units
INCH, FOOT = Fraction(254, 10000), Fraction(3048, 10000)
POUND_FORCE = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
SI = {
    "mm": Fraction(1, 1000), "cm": Fraction(1, 100), "m": Fraction(1), "inch": INCH, "foot": FOOT,
    "N": Fraction(1), "kN": Fraction(1000), "MN": Fraction(10**6),
    "lbf": POUND_FORCE, "kip": 1000 * POUND_FORCE,
    "Pa": Fraction(1), "kPa": Fraction(1000), "MPa": Fraction(10**6), "GPa": Fraction(10**9),
    "rad": Fraction(1), "deg": None,
}
SPELLING = {"inch": "in", "foot": "ft"}


def unit_parts(unit):
    """`kip/inch^2` as [("kip", 1), ("inch", -2)]."""
    parts = []
    for index, side in enumerate(unit.split("/")):
        for factor in side.split("*"):
            word, _, power = factor.partition("^")
            parts.append((word, int(power or 1) * (-1 if index else 1)))
    return parts


def si_value(value, unit):
    if unit in ("", "1"):
        return float(value)
    if unit == "deg":
        return float(value) * 3.141592653589793 / 180
    factor = Fraction(1)
    for word, power in unit_parts(unit):
        factor *= SI[word] ** power
    return float(Fraction(str(value)) * factor)


def spelled(unit):
    for long, short in SPELLING.items():
        unit = re.sub(rf"\b{long}\b", short, unit)
    return unit


def quantity(value, unit):
    return f"{value} {spelled(unit)}".strip() if unit not in ("", "1") else f"{value}"


# ------------------------------------------------------------------------------------ expressions
class Untranslatable(Exception):
    """The notation has no words for this; the message says why."""


OPERATORS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "^"}
LEVEL = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.Pow: 4}
SECTION = {
    "A": "area", "Ix": "Ixx", "Iy": "Iyy", "Ixy": "Ixy", "I1": "I_major", "I2": "I_minor",
    "theta1": "principal_angle", "ctop": "to_top", "cbot": "to_bottom", "cright": "to_right",
    "cleft": "to_left", "rx": "gyration_x", "ry": "gyration_y",
    "J_fe": "torsion_constant", "Iw_fe": "warping_constant", "Stop": "section_modulus_top", "Sbot": "section_modulus_bottom",
    "Zx": "plastic_modulus_x", "Zy": "plastic_modulus_y", "cy": "ybar", "cx": "xbar",
}


class Case:
    """One case on its way into the notation."""

    def __init__(self, case):
        self.case, self.id = case, case["id"]
        given = case.get("given", {})
        self.values = {name: v for name, v in given.items() if isinstance(v, dict) and "value" in v}
        self.used, self.first = set(), []
        self.blocks, self.points, self.forces, self.lines = [], [], [], []
        self.unit = spelled(given.get("rects_unit", "")) or None
        self.supports = []
        if "rects" in given:
            self.section(given["rects"])
        if "n_rects" in given:
            self.composite(given["n_rects"])
        if "beam" in given:
            self.beam(given["beam"])
        if given.get("shape") == "ELLIPSE":
            self.shape("ellipse rod (2 * a) x (2 * b)")
        elif "shape" in given:
            self.shape(f'rolled size "{case["title"]}"')

    # -------------------------------------------------------------------------------- sections
    def section(self, rects, name="shape", of=""):
        solid = [r for r in rects if len(r) < 5 or r[4] > 0]
        x0, y0, w0, _ = solid[0][:4]
        self.shift = (x0 + w0 / 2, y0)
        lines = [f"section {name}{of}"]
        ordered = [solid[0]] + [r for r in rects if r is not solid[0]]
        for index, rect in enumerate(ordered):
            x, y, w, h = rect[:4]
            word = "deduct rect" if len(rect) > 4 and rect[4] < 0 else "rect"
            place = "" if index == 0 else f"  at ({self.x(x)}, {self.y(y)})"
            lines.append(f"    {word} r{index + 1} {w} x {h} {self.unit}{place}")
        self.blocks.append(lines)

    def shape(self, line):
        """A section of one part, whose frame starts at its left and its bottom."""
        self.blocks.append(["section shape", f"    {line}"])
        self.used |= set(re.findall(r"\b[ab]\b", line.partition("(")[1] + line.partition("(")[2]))
        self.shift = None

    def composite(self, rects):
        ratios = sorted({r[4] for r in rects})
        for ratio in ratios:
            self.blocks.append([f"material n{self.ratio(ratio)}", f"    E = {ratio} * 0.1 GPa"])
        x0, y0, w0, _ = rects[0][:4]
        self.shift = (x0 + w0 / 2, y0)
        lines = ["section shape of n1"]
        for index, (x, y, w, h, ratio) in enumerate(rects):
            place = "" if index == 0 else f"  at ({self.x(x)}, {self.y(y)})"
            lines.append(f"    rect r{index + 1} {w} x {h} {self.unit}{place} of n{self.ratio(ratio)}")
        self.blocks.append(lines)

    @staticmethod
    def ratio(ratio):
        return str(ratio).replace(".", "_")

    def x(self, x):
        return f"{neat(x - self.shift[0])} {self.unit}"

    def y(self, y):
        return f"{neat(y - self.shift[1])} {self.unit}"

    def point(self, x, y, part=None):
        place = f"at ({self.x(x)}, {self.y(y)})" + (f" of {part}" if part else "")
        if place not in self.points:
            self.points.append(place)
        return f"p{self.points.index(place) + 1}"

    def action(self, *fields):
        for name, lines in self.forces:
            if lines == list(fields):
                return name
        name = f"action{len(self.forces) + 1}"
        self.forces.append((name, list(fields)))
        return name

    # -------------------------------------------------------------------------------- beams
    def beam(self, beam):
        self.length = beam["L"]
        rigidity = RIGIDITY.get(self.id)
        lines = ["material metal"]
        if rigidity:
            lines.append("    E = 1 MPa")
            self.first.append(f"EI = {rigidity}")
            self.first.append("I_wanted = EI / (1 MPa)")
        elif beam["EI"] == "E*I":
            lines.append("    E = E")
            self.used.add("E")
            self.first.append(f"I_wanted = {self.name('I')}")
        elif beam["EI"] == "E*b*h**3/12":
            lines.append("    E = E")
            self.used.add("E")
            self.first.append(f"I_wanted = {self.name('b')} * {self.name('h')}^3 / 12")
        else:
            raise Untranslatable(f"flexural rigidity {beam['EI']}")
        self.blocks.append(lines)
        self.blocks.append(["section bar of metal", "    rect plate (12 * I_wanted / (200 mm)^3) x 200 mm"])
        lines = ["beam member of bar", f"    length = {self.length_of(beam['L'])}"]
        for index, (place, kind) in enumerate(beam["supports"]):
            word = "roller" if kind == "pin" and index else kind
            self.supports.append(place)
            lines.append(f"    support {word} at {self.place(place)}")
        for load in beam["loads"]:
            lines.append("    load acting " + self.load(load))
        self.blocks.append(lines)

    def load(self, load):
        kind, *rest = load
        if kind == "P":
            return f"{self.operand(rest[0])} at {self.place(rest[1])}"
        if kind == "C":
            return f"{self.operand(rest[0])} clockwise at {self.place(rest[1])}"
        first, last, start, end = rest
        stretch = f"from {self.place(start)} to {self.place(end)}"
        if first == last:
            return f"{self.operand(first)} {stretch}"
        return f"{self.intensity(first)} to {self.intensity(last)} {stretch}"

    def intensity(self, text):
        return "0 kN/m" if text == "0" else self.operand(text)

    def operand(self, text):
        return self.expression(ast.parse(str(text), mode="eval").body, 9)

    def place(self, text):
        if text == "0":
            return "start"
        if text == self.length:
            return "end"
        return self.length_of(text)

    def length_of(self, text):
        """A length along the beam; numbers without a unit are metres."""
        node = ast.parse(str(text), mode="eval").body
        if any(isinstance(part, ast.Name) for part in ast.walk(node)):
            return self.metres(node)
        return f"{neat(float(Fraction(eval(re.sub(r'[0-9.]+', lambda m: f'Fraction({m.group(0)!r})', text)))))} m"

    def metres(self, node):
        if isinstance(node, ast.Constant):
            return f"{node.value} m"
        if isinstance(node, ast.BinOp) and isinstance(node.op, (ast.Add, ast.Sub)):
            return f"{self.metres(node.left)} {OPERATORS[type(node.op)]} {self.metres(node.right)}"
        return self.expression(node)

    # -------------------------------------------------------------------------------- expressions
    def name(self, name):
        if name not in self.values:
            raise Untranslatable(f"no value named {name}")
        self.used.add(name)
        return RENAMED.get(name, name)

    def translate(self, text):
        return self.expression(ast.parse(text, mode="eval").body)

    def expression(self, node, level=0):
        if isinstance(node, ast.Constant):
            return repr(node.value)
        if isinstance(node, ast.Name):
            if node.id == "u":
                return f"(1 {self.unit})"
            return "pi" if node.id == "pi" else self.name(node.id)
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            inner = self.expression(node.operand, 3)
            if inner.startswith("(-member."):
                return inner[2:-1]
            return f"(-{inner})" if level > 1 else f"-{inner}"
        if isinstance(node, ast.BinOp):
            return self.binary(node, level)
        if isinstance(node, ast.Attribute):
            return self.member(node)
        if isinstance(node, ast.Call):
            return self.call(node)
        raise Untranslatable(ast.dump(node))

    def binary(self, node, level):
        own = LEVEL[type(node.op)]
        if own == 4:
            base = self.expression(node.left, 5)
            return f"{base}^{self.expression(node.right, 9)}"
        if own == 2 and isinstance(node.op, ast.Mult) and isinstance(node.left, ast.Constant) \
                and isinstance(node.right, ast.Name) and node.right.id == "u":
            return f"{node.left.value} {self.unit}" if level < 4 else f"({node.left.value} {self.unit})"
        text = f"{self.expression(node.left, own)} {OPERATORS[type(node.op)]} {self.expression(node.right, own + 1)}"
        return f"({text})" if level > own else text

    def member(self, node):
        name = node.attr
        if name == "Sy":
            return "min(shape.section_modulus_left, shape.section_modulus_right)"
        if name == "Sx":
            return "min(shape.section_modulus_top, shape.section_modulus_bottom)"
        if self.shift is None:
            return f"shape.{ {'cx': 'to_left', 'cy': 'to_bottom'}.get(name) or SECTION[name]}"
        if name in SECTION:
            return self.shifted(f"shape.{SECTION[name]}", {"cy": self.shift[1], "cx": self.shift[0]}.get(name, 0))
        x, y = self.shift
        about_y = self.shifted("shape.ybar", y)
        about_x = self.shifted("shape.xbar", x)
        special = {
            "ypna": self.shifted("shape.plastic_centre_y", y),
            "Ix0": f"(shape.Ixx + shape.area * {about_y}^2)",
            "Iy0": f"(shape.Iyy + shape.area * {about_x}^2)",
            "Ixy0": f"(shape.Ixy + shape.area * {about_x} * {about_y})",
        }
        if name in special:
            return special[name]
        raise Untranslatable(f"section result {name}")

    def shifted(self, result, by):
        """A result of the section's frame in the frame of the drawing."""
        return f"({result} + {neat(by)} {self.unit})" if by else result

    def call(self, node):
        function = node.func
        if isinstance(function, ast.Name):
            arguments = ", ".join(self.expression(a) for a in node.args)
            return f"{function.id}({arguments})"
        owner, method = function.value.id, function.attr
        if owner == "S" and method == "sigma":
            x, y = (self.drawn(a) for a in node.args[:2])
            return self.stress(self.point(x, y), node.args[2])
        if owner == "T" and method == "sigma":
            y, ratio = self.drawn(node.args[0]), node.args[1].value
            return self.stress(self.part_point(y, ratio), node.args[2])
        if owner == "S" and method == "Q":
            if isinstance(node.args[0], ast.Attribute):
                return "shape.first_moment(shape.ybar)"
            return f"shape.first_moment({self.y(self.drawn(node.args[0]))})"
        if owner == "S" and method == "Qpart":
            return self.part_moment(*(self.drawn(a) for a in node.args))
        if owner == "B":
            return self.beam_result(method, node.args)
        raise Untranslatable(f"{owner}.{method}")

    def drawn(self, node):
        """A length in the drawing's unit as a number."""
        if isinstance(node, ast.Constant):
            return float(node.value)
        if isinstance(node, ast.UnaryOp):
            return -self.drawn(node.operand)
        return self.drawn(node.left)

    def stress(self, point, moment):
        name = moment.id
        if self.values[name]["value"] < 0:
            field = f"M = -{self.name(name)} hogging"
        else:
            field = f"M = {self.name(name)} sagging"
        return f"{self.action(field)}.stress({point})"

    def part_point(self, y, ratio):
        for index, (x, bottom, w, h, n) in enumerate(self.case["given"]["n_rects"]):
            if n == ratio and bottom - 1e-9 <= y <= bottom + h + 1e-9:
                return self.point(x + w / 2, y, f"r{index + 1}")
        raise Untranslatable(f"no part with {ratio} at {y}")

    def part_moment(self, xa, ya, xb, yb):
        """First moment of a rectangle that is material (or the whole of what is above its foot)."""
        rects = self.case["given"]["rects"]
        left, right = min(r[0] for r in rects), max(r[0] + r[2] for r in rects)
        top = max(r[1] + r[3] for r in rects)
        if xa <= left and xb >= right and yb >= top:
            return f"abs(shape.first_moment({self.y(ya)}))"
        width, height = neat(xb - xa), neat(yb - ya)
        return f"({width} {self.unit} * {height} {self.unit} * abs({self.y((ya + yb) / 2)} - shape.ybar))"

    def beam_result(self, method, arguments):
        if method in ("Mmax", "down") and not arguments:
            return {"Mmax": "member.M_max", "down": "member.deflection_max"}[method]
        if method == "Mmax" and where_of(arguments) == "0,L":
            return "member.M_max"
        places = {"xdown": "member.place_of_deflection_max", "xMmax": "member.place_of_M_max"}
        if method in places and where_of(arguments) in ("", "0,L"):
            return places[method]
        if method in ("xdown", "xMmax", "xup", "up", "Mmax", "Mmin", "down"):
            raise Untranslatable("place of an extreme value, or an extreme value over a part")
        where = where_of(arguments[:1])
        if method == "R":
            return f"member.R{self.supports.index(where) + 1}"
        at = "member.{}(" + self.metres(arguments[0]) + ")"
        return {
            "M": at.format("M"), "V": at.format("V"), "Mfix": f"abs({at.format('M')})",
            "v": f"(-{at.format('deflection')})", "slope": f"(-{at.format('slope')})",
        }[method]

    # -------------------------------------------------------------------------------- the file
    def text(self):
        lines = []
        for name, value in self.values.items():
            if name in self.used:
                lines.append(f"{RENAMED.get(name, name)} = {quantity(value['value'], value['unit'])}")
        body = [*self.first]
        for block in self.blocks:
            points = self.points if block[0].startswith("section shape") else []
            extra = [f"    point p{index} {place}" for index, place in enumerate(points, 1)]
            body += ["", *block, *extra]
        for name, fields in self.forces:
            body += ["", f"forces {name} on shape", *(f"    {field}" for field in fields)]
        return "\n".join([*lines, *body, "", *self.lines]).strip() + "\n"


def where_of(arguments):
    return ",".join(ast.unparse(a).replace(" ", "") for a in arguments)


def neat(number):
    number = round(number, 9)
    return str(int(number)) if number == int(number) else repr(number)


# Names that mean something else in the notation, or are a unit's.
RENAMED = {"N_": "N_axial"}

# Flexural rigidities that the source leaves open or counts as 1.
RIGIDITY = {"E56": "1000 N*m^2", "E59": "1e6 N*m^2", "E61": "1 N*m^2", "E62": "1 lbf*ft^2"}

# Items whose published expression is a formula, where the notation has a result of its own that
# must come to the same: the value line, and the forces that it needs.
SAGGING, HOGGING = "M = M sagging", "M = M hogging"


def both_axes(case):
    angle = "t" if case.id == "F24" else "a"
    case.used |= {"M", angle}
    return case.action(f"M = M * cos({angle}) sagging", f"My = M * sin({angle}) left in tension")


def off_both_axes(case):
    case.used |= {"P", "ex", "ez"}
    return case.action("N = P compression", "M = P * ez sagging", "My = P * ex left in tension")


def with_moment(case, sense):
    case.used.add("M")
    return case.action(sense)


def with_shear(case, name="V"):
    case.used.add(name)
    return case.action(f"V = {name}")


def largest(case, bound):
    case.used.add(bound)
    name = case.action("M = 1 kip*in sagging", f"limit tension <= {bound}", f"limit compression <= {bound}")
    return f"largest M of {name}"


def pressed_and_bent(case):
    case.used |= {"N_", "M"}
    return case.action("N = N_axial compression", HOGGING)


OWN_RESULT = {
    ("F01", "M"): lambda c: largest(c, "s"),
    ("F04", "with ribs"): lambda c: f"-{with_moment(c, SAGGING)}.stress_top",
    ("F19", "flange face (22 mm)"): lambda c: f"{with_moment(c, HOGGING)}.stress_top",
    ("F19", "stem end (38 mm)"): lambda c: f"{with_moment(c, HOGGING)}.stress_bottom",
    ("F20", "M"): lambda c: largest(c, "s"),
    ("F24", "larger corner stress"): lambda c: f"{both_axes(c)}.stress({c.point(0, 0)})",
    ("F24", "smaller corner stress (opposite sign)"): lambda c: f"{both_axes(c)}.stress({c.point(0, 300)})",
    ("F26", "largest stress"): lambda c: f"{both_axes(c)}.stress({c.point(2.5, 0)})",
    ("F33", "sum (both compression in the book)"): lambda c: f"-{pressed_and_bent(c)}.stress_bottom",
    ("F34", "corner A"): lambda c: f"{off_both_axes(c)}.stress({c.point(120, 80)})",
    ("F34", "corner B"): lambda c: f"{off_both_axes(c)}.stress({c.point(0, 80)})",
    ("F34", "corner C"): lambda c: f"{off_both_axes(c)}.stress({c.point(0, 0)})",
    ("F34", "corner D"): lambda c: f"{off_both_axes(c)}.stress({c.point(120, 0)})",
    ("F40", "tau max"): lambda c: f"{with_shear(c)}.shear_stress_max",
    ("F41", "tau max"): lambda c: f"{with_shear(c)}.shear_stress_max",
    ("F42", "tau max"): lambda c: f"{with_shear(c)}.shear_stress_max",
    ("F44", "at the neutral axis"): lambda c: f"{with_shear(c)}.shear_stress({c.y(120)})",
    ("F58", "shear stress there (magnitude)"): lambda c: f"{with_shear(c)}.shear_stress({c.y(3)})",
    ("F60", "tau max"): lambda c: tube_in_shear(c),
    ("D10", "tau_max"): lambda c: plates_in_torsion(c),
    ("D17", "e from the web centreline"): lambda c: thin_channel(c),
    ("D24", "distance of the shear centre from the circle's centre"): lambda c: thin_arc(c, 0.002, 2 * math.pi - 0.002),
    ("D25", "distance of the shear centre from the circle's centre"): lambda c: thin_arc(c, -math.pi / 2, math.pi / 2),
    # The right half goes down as the left goes up.
    ("E11", "x of it"): lambda c: "L - member.place_of_deflection_max",
    ("E11", "deflection max (upward, left half)"): lambda c: "(-member.deflection(L / (2 * sqrt(3))))",
    ("E31", "deflection up in the span"): lambda c: "(-member.deflection(L / sqrt(3)))",
    ("E61", "EI times the midspan deflection"): lambda c: "member.deflection(3 m) * EI",
    ("E61", "EI times the deflection at E"): lambda c: "member.deflection(end_of_beam) * EI",
    ("E62", "EI times the midspan deflection"): lambda c: "member.deflection(L / 2) * EI",
    ("E56", "EI times the slope at A"): lambda c: "member.slope(0 m) * EI",
    ("E56", "EI times the displacement at C"): lambda c: "member.deflection(4 m) * EI",
}


# ------------------------------------------------------------------------------------ torsion
def rectangle_coefficient(case, member, power):
    case.used.add("ratio")
    if not case.blocks:
        case.first += ["b = 100 mm", "a = ratio * b"]
        case.shape("rect plate a x b")
    return f"shape.{member} / (a * b^{power})"


def plates_in_torsion(case):
    case.used |= {"T", "tf", "bf", "tw", "d"}
    case.blocks += [["section flange", "    rect plate bf x tf"], ["section web", "    rect plate tw x (d - 2 * tf)"]]
    return "T * tf / (2 * flange.torsion_constant + web.torsion_constant)"


def thin_channel(case):
    case.used |= {"b", "h", "t"}
    case.first.append("w = t / 10  # the published number is that of thin walls, whatever their thickness")
    case.shape("channel wall (b + w/2) x (h + w) x w x w")
    return "shape.xbar - shape.to_left + w/2 - shape.shear_centre_x"


def thin_arc(case, start, end):
    """The shear centre of a thin round wall from one angle to another, drawn as a polygon."""
    radius, wall, steps = case.values["R"]["value"], case.values["t"]["value"] / 4, 180
    sides = [(radius + wall / 2, range(steps + 1)), (radius - wall / 2, range(steps, -1, -1))]
    corners = [
        (round(r * math.cos(a), 7) + 0.0, round(r * math.sin(a), 7) + 0.0)
        for r, places in sides
        for a in (start + (end - start) * place / steps for place in places)
    ]
    *rest, (x, y) = corners
    outline = " ".join(f"({x}, {y})" for x, y in rest) + f" ({x} mm, {y} mm)"
    case.first.append("# A wall a quarter as thick: the published number is that of a thin one, whatever its thickness.")
    case.shape(f"polygon wall {outline}")
    return "abs(shape.shear_centre_x)"


def tube_in_shear(case):
    case.unit = "in"
    case.used |= {"r1", "r2", "P"}
    case.blocks.append(["section shape", "    round tube pole (2 * r2) x (r2 - r1)"])
    return f"{with_shear(case, 'P')}.shear_stress_max"


def value_name(case, title):
    words = re.sub(r"\(.*?\)", "", title)
    name = re.sub(r"\W+", "_", words).strip("_") or "item"
    return f"{name}_is" if name in case.values or name in TAKEN else name


TAKEN = {"M", "N", "V", "EI", "in", "m", "s", "g", "t"}


COEFFICIENTS = {
    "rect_J_coef(ratio)[0]": ("torsion_modulus", 2),
    "rect_J_coef(ratio)[1]": ("torsion_constant", 3),
}
# The published value comes from a formula of its own, which is translated; the section's own result
# is compared with it within `advice_tol`.
NUMERICALLY = {"It": "S.J_fe", "Iw": "S.Iw_fe"}


def items_of(raw):
    """The expected items, those compared with the numerical solution too as items of their own."""
    for item in raw["expected"]:
        if "advice_tol" in item and "_fe" in item["recompute"]:
            yield {**item, "rel_tol": item["advice_tol"]}
            continue
        yield item
        if item["name"] in NUMERICALLY and "advice_tol" in item:
            own = NUMERICALLY[item["name"]]
            yield {**item, "name": f"{item['name']} numerically", "recompute": own, "rel_tol": item["advice_tol"]}


# The closed form for thin walls, where the case names it.
CLOSED_FORMS = {("D19", "Iw")}


def translate_case(raw):
    case = Case(raw)
    expected, names = [], set()
    for item in items_of(raw):
        own = OWN_RESULT.get((case.id, item["name"]))
        if (case.id, item["name"]) in CLOSED_FORMS:
            item = {**item, "recompute": item["formula"]}
        if item["recompute"] in COEFFICIENTS:
            member, power = COEFFICIENTS[item["recompute"]]
            own = lambda c, member=member, power=power: rectangle_coefficient(c, member, power)
        try:
            expression = own(case) if own else case.translate(item["recompute"])
        except Untranslatable as reason:
            LEFT.append((case.id, item["name"], str(reason)))
            continue
        expression = expression.replace("end_of_beam", "8 m")
        name = value_name(case, item["name"])
        while name in names:
            name += "_2"
        names.add(name)
        unit = spelled(item["unit"])
        shown = f"  [{unit}]" if unit not in ("", "1") else ""
        case.lines.append(f"{name} = {expression}{shown}")
        expected.append((name, item))
    return case.text(), expected


# ------------------------------------------------------------------------------------ mistakes
GIVEN = {
    "A1": "1800 mm^2", "A2": "1350 mm^2", "y1": "6 mm", "y2": "78 mm", "b": "90 mm", "h": "210 mm",
    "Ic": "2.4e6 mm^4", "A": "3600 mm^2", "d": "72 mm", "I": "1.3e7 mm^4", "c": "105 mm",
    "M": "14 kN*m", "y": "81 mm", "S": "1.6e5 mm^3", "N": "35 kN", "V": "22 kN", "Q": "9.5e4 mm^3",
    "t": "9 mm", "F": "3.1 kN", "w": "4.2 kN/m", "L": "5.4 m", "P": "13 kN", "E": "204 GPa",
    "T": "1.9 kN*m", "Am": "7700 mm^2", "E1": "204 GPa", "E2": "11 GPa", "rho": "7850 kg/m^3",
    "sigma_allow": "145 MPa", "s": "360 mm", "n": "2",
}
ASKED = {
    "length": "any length", "length^4": "any second moment of area", "length^3": "any section modulus",
    "force/length^2": "any stress", "force/length": "any force per length", "force": "any force",
    "force*length": "any moment", "1": "any ratio",
}


def formula_lines(formula, dimension):
    left, _, right = formula.partition(" = ")
    right = right.replace("sum(A_i*y_i)", "(A1*y1 + A2*y2)").replace("sum(A_i)", "(A1 + A2)")
    right = right.replace("sum(y_i)", "(y1 + y2)").replace("**", "^")
    right = re.sub(r"\bg\b", "g_n", right)
    names = sorted(set(re.findall(r"[A-Za-z_]\w*", right)) - {"pi", "g_n"})
    lines = [f"{name} = {GIVEN[name]}" for name in names]
    result = left if left not in names else f"{left}_is"
    return "\n".join([*lines, f"{result} = {right}  [{ASKED[dimension]}]"]) + "\n"


def translate_mistake(raw):
    right_dimension = "force*length" if raw["id"] == "G53" else raw["dimension"]
    return formula_lines(raw["wrong"], raw["dimension"]), formula_lines(raw["right"], right_dimension)


# ------------------------------------------------------------------------------------ writing
LEFT = []
ITEMS = []


def text_of(value):
    return "'''\n" + value + "'''"


def string(value):
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def head(raw):
    out = ["[[case]]", f"id = {string(raw['id'])}"]
    for field in ("title", "source", "provenance"):
        if field in raw:
            out.append(f"{field} = {string(raw[field])}")
    return out


def translate_file(path):
    cases = tomllib.loads(path.read_text(encoding="utf-8"))["case"]
    out = ["# Translated from published cases by translate.py; do not edit by hand."]
    count = items = 0
    for raw in cases:
        ITEMS.extend((path.name, raw["id"], item["name"]) for item in raw.get("expected", [{"name": raw.get("wrong")}]))
        if "wrong" in raw:
            if raw["wrong_is"].startswith("dimensionally fine") and " = " not in raw["right"] or raw["id"] >= "G54":
                LEFT.append((raw["id"], raw["wrong"], "prose, or the formula's dimensions are right and only the numbers' units are not: quantities with units leave no place for it"))
                continue
            wrong, right = translate_mistake(raw)
            out += ["", *head({**raw, "title": f"{raw['topic']}: {raw['why']}"}),
                    f"dimension_sees_it = {'true' if raw['wrong_is'] == 'dimensionally wrong' else 'false'}",
                    f"wrong = {text_of(wrong)}", f"right = {text_of(right)}"]
            count, items = count + 1, items + 2
            continue
        try:
            text, expected = translate_case(raw)
        except Untranslatable as reason:
            LEFT.append((raw["id"], raw["title"], str(reason)))
            continue
        if not expected:
            continue
        out += ["", *head(raw), f"file = {text_of(text)}"]
        for name, item in expected:
            si = si_value(item["value"], item["unit"])
            out += ["", "[[case.expected]]", f"name = {string(name)}", f"item = {string(item['name'])}",
                    f"published = {string(str(item.get('published', '')) + ' ' + item['unit'])}",
                    f"si = {si!r}", f"rel_tol = {item['rel_tol']!r}"]
            items += 1
        count += 1
    (HERE / path.name).write_text("\n".join(out) + "\n", encoding="utf-8")
    print(f"{path.name}: {count} of {len(cases)} cases, {items} items")


def write_left():
    readme = HERE / "README.md"
    text = readme.read_text(encoding="utf-8")
    begin, end = "<!-- left begin -->", "<!-- left end -->"
    rows = [f"| {i} | {w.replace('|', '/')} | {r} |" for i, w, r in LEFT]
    table = "\n".join(["| case | what | why not here |", "|---|---|---|", *rows])
    before, _, rest = text.partition(begin)
    _, _, after = rest.partition(end)
    readme.write_text(f"{before}{begin}\n{table}\n{end}{after}", encoding="utf-8")


def write_collection():
    rows = ["# Every published item: file, case, what. Written by translate.py.", *("\t".join(item) for item in ITEMS)]
    (HERE / "collection.tsv").write_text("\n".join(rows) + "\n", encoding="utf-8")


def main():
    for argument in sys.argv[1:]:
        translate_file(pathlib.Path(argument))
    write_left()
    write_collection()
    print(f"{len(LEFT)} left, listed in README.md")


if __name__ == "__main__":
    main()
