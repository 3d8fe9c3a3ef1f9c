"""Makes mistaken lines from right ones, the same ones every time.

    python3 tests/mistakes/mutants.py

Reads the right files in `seen/`, `opened/` and `opened_later/` and writes the mutants of each to a file of its name.
Each mutant is one slip in one formula: a wrong name, a power lost or too many, a fraction inverted, a factor on the wrong side of it, a
factor lost or too many, a root lost, another unit in the brackets. Only slips that leave the line dimensionally
wrong are kept. «…» in a mistaken line marks the part that was changed; where a factor was lost it marks the
product that lost it.
"""

import pathlib
import random
import re
from fractions import Fraction

HERE = pathlib.Path(__file__).parent
# How many mutants of one kind are taken from one formula, and how many from one file altogether.
SEEDS = {"seen": 11, "opened": 2027, "opened_later": 40417}
PER_FORMULA = 2
# How often each slip is made: judged from checking hand calculations, no source.
OFTEN = {"wrong name": 4, "power lost": 4, "factor lost": 3, "multiplied instead of divided": 2, "power too many": 2,
         "root lost": 2, "factor above the stroke": 2, "fraction inverted": 1, "factor too many": 1, "wrong unit": 1}

BASE = {"m": (1, 0, 0, 0), "s": (0, 0, 1, 0), "g": (0, 1, 0, 0), "K": (0, 0, 0, 1), "N": (1, 1, -2, 0),
        "Pa": (-1, 1, -2, 0), "Hz": (0, 0, -1, 0), "deg": (0, 0, 0, 0), "1": (0, 0, 0, 0), "t": (0, 1, 0, 0)}
NEIGHBOURS = {
    "mm": ["mm^2", "m^2"], "m": ["m^2"], "mm^2": ["mm", "mm^3"], "mm^3": ["mm^4", "mm^2"], "mm^4": ["mm^3"],
    "kN": ["kN/m", "kN*m"], "kN/m": ["kN", "kN/m^2"], "kN*m": ["kN", "kN/m"], "MPa": ["N/mm", "kN"],
    "kN/m^2": ["kN/m", "kN/m^3"], "kN*m^2": ["kN*m"], "kg": ["kN"], "s": ["Hz"], "m/s": ["m/s^2"], "1/m": ["m"],
}


def unit(text):
    """The exponents of a unit's chain."""
    total = [Fraction(0)] * 4
    for sign, word, power in re.findall(r"([*/]?)([A-Za-z]+|1)(?:\^(-?\d+))?", text):
        dimension = BASE.get(word) or BASE[word[1:]]
        factor = int(power or 1) * (-1 if sign == "/" else 1)
        total = [a + factor * b for a, b in zip(total, dimension)]
    return tuple(total)


RATIO = (Fraction(0),) * 4
TOKEN = re.compile(r"\s*(?:(\d+(?:\.\d+)?(?:e\d+)?)|([^\W\d]\w*)|(<=|>=|[-+*/^(),]))")


class Node:
    def __init__(self, kind, start, end, parts=(), text=""):
        self.kind, self.start, self.end, self.parts, self.text = kind, start, end, list(parts), text

    def walk(self):
        yield self
        for part in self.parts:
            yield from part.walk()


class Reader:
    """Reads a formula of the notation's arithmetic; numbers have no units in these."""

    def __init__(self, text):
        self.text, self.tokens, at = text, [], 0
        while text[at:].strip():
            found = TOKEN.match(text, at)
            if not found:
                raise ValueError(text)
            kind = "number" if found[1] else "name" if found[2] else "sign"
            word = found[1] or found[2] or found[3]
            self.tokens.append((kind, word, found.end() - len(word), found.end()))
            at = found.end()
        self.at = 0

    def peek(self):
        return self.tokens[self.at][1] if self.at < len(self.tokens) else ""

    def take(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def left(self, inner, signs):
        node = inner()
        while self.peek() in signs:
            sign = self.take()
            right = inner()
            node = Node(sign[1], node.start, right.end, [node, right])
            node.sign = sign
        return node

    def compare(self):
        return self.left(self.sum, ("<=", ">="))

    def sum(self):
        return self.left(self.product, ("+", "-"))

    def product(self):
        return self.left(self.power, ("*", "/"))

    def power(self):
        base = self.atom()
        if self.peek() == "^":
            self.take()
            exponent = self.atom()
            return Node("^", base.start, exponent.end, [base, exponent])
        return base

    def atom(self):
        kind, word, start, end = self.take()
        if kind == "number":
            return Node("number", start, end, text=word)
        if kind == "name" and self.peek() == "(":
            self.take()
            inner = self.sum()
            close = self.take()
            return Node("call", start, close[3], [inner], word)
        if kind == "name":
            return Node("name", start, end, text=word)
        inner = self.sum()
        close = self.take()
        return Node("group", start, close[3], [inner])


class Mixed(Exception):
    """Terms of different dimensions."""


def dimension(node, names):
    parts = [dimension(part, names) for part in node.parts]
    match node.kind:
        case "number":
            return RATIO
        case "name":
            return names[node.text]
        case "group":
            return parts[0]
        case "call":
            return tuple(x / 2 for x in parts[0])
        case "^":
            return tuple(x * int(node.parts[1].text) for x in parts[0])
        case "*":
            return tuple(a + b for a, b in zip(*parts))
        case "/":
            return tuple(a - b for a, b in zip(*parts))
        case _:
            if parts[0] != parts[1]:
                raise Mixed
            return RATIO if node.kind in ("<=", ">=") else parts[0]


def is_right(formula, wanted, names):
    try:
        return dimension(Reader(formula).compare(), names) == wanted
    except Mixed:
        return False


def factors(node, above=True):
    """The factors of a product or quotient, each with whether it stands above the stroke."""
    if node.kind == "*":
        return factors(node.parts[0], above) + factors(node.parts[1], above)
    if node.kind == "/":
        return factors(node.parts[0], above) + factors(node.parts[1], not above)
    if node.kind == "group" and node.parts[0].kind in ("*", "/"):
        return factors(node.parts[0], above)
    return [(node, above)]


def bracketed(text, node):
    return f"({text})" if node.kind in ("+", "-", "*", "/") else text


def slips(formula, wanted, names):
    """(kind of slip, mistaken formula with marks)"""
    tree = Reader(formula).compare()
    text = lambda node: formula[node.start:node.end]

    def put(node, new, slip, mark=True):
        marked = f"«{new}»" if mark else new
        yield slip, formula[:node.start] + marked + formula[node.end:]

    parents = {id(part): node for node in tree.walk() for part in node.parts}
    for node in tree.walk():
        parent = parents.get(id(node))
        if node.kind == "name":
            for other in names:
                if other != node.text and names[other] != names[node.text]:
                    yield from put(node, other, "wrong name")
            if names[node.text] != RATIO and (parent is None or parent.kind != "^"):
                yield from put(node, f"{node.text}^2", "power too many")
        if node.kind == "^" and node.parts[1].kind == "number":
            power = int(node.parts[1].text)
            base = text(node.parts[0])
            yield from put(node, base if power == 2 else f"{base}^{power - 1}", "power lost")
            yield from put(node, f"{base}^{power + 1}", "power too many")
        if node.kind == "call":
            yield from put(node, f"({text(node.parts[0])})", "root lost")
        if node.kind == "/":
            above, below = node.parts
            plain = below.parts[0] if below.kind == "group" and below.parts[0].kind in ("*", "/") else below
            yield from put(node, f"{bracketed(text(below), below)}/{bracketed(text(above), above)}",
                           "fraction inverted")
            yield from put(node, f"{text(above)}*{text(below)}", "multiplied instead of divided")
            # One factor from below the stroke put above it.
            if plain is not below:
                for factor, _ in factors(plain):
                    rest = [text(f) for f, up in factors(plain) if f is not factor and up]
                    if factor.kind != "number" and len(rest) == len(factors(plain)) - 1:
                        under = rest[0] if len(rest) == 1 else "(" + "*".join(rest) + ")"
                        marked = f"{text(above)}*«{text(factor)}»/{under}"
                        yield from put(node, marked, "factor above the stroke", False)
        if node.kind in ("*", "/") and (parent is None or parent.kind not in ("*", "/")):
            inside = factors(node)
            for factor, above in inside:
                if factor.kind == "number" or len(inside) < 2:
                    continue
                lost = without(formula, node, factor)
                if lost:
                    yield from put(node, lost, "factor lost")
            for other in names:
                if names[other] != RATIO and any(part.text == other for part in tree.walk()):
                    yield from put(node, f"{text(node)}*«{other}»", "factor too many", False)


def without(formula, product, factor):
    """A product's text without one of its factors."""
    text = formula[product.start:product.end]
    start, end = factor.start - product.start, factor.end - product.start
    before, after = text[:start], text[end:]
    if re.search(r"\*$", before):
        return before[:-1] + after
    if before.endswith("/"):
        return before[:-1] + after if not after or after[0] in "*/" else None
    if after.startswith("*"):
        return before + after[1:]
    return None


def lines(path):
    names = {"pi": RATIO, "g_n": unit("m/s^2")}
    formulas = []
    for line in path.read_text().splitlines():
        found = re.match(r"(?:(\w+) = |verify )(.*?)\s*(\[.*\])?$", line)
        if not found or line.startswith("#"):
            continue
        name, body, shown = found.groups()
        number = re.fullmatch(r"[\d.e-]+(?: (\S+))?", body.replace(" / 1 K", " 1/K"))
        if number:
            names[name] = unit(number[1]) if number[1] else RATIO
            continue
        if shown == "[any force]":
            wanted = unit("N")
        elif shown and shown != "[deg]":
            wanted = unit(shown[1:-1])
        else:
            wanted = RATIO
        formulas.append((line, name, body, shown, wanted))
        if name:
            names[name] = wanted
    return names, formulas


def mutants(path, chance):
    names, formulas = lines(path)
    for line, name, body, shown, wanted in formulas:
        assert is_right(body, wanted, names), line
        # A name that needs this line itself would make a ring, which is another mistake.
        later = {n for _, n, *_ in formulas[[f[0] for f in formulas].index(line):] if n}
        known = {n: d for n, d in names.items() if n not in later and n not in ("pi", "g_n")}
        known_all = {**known, "pi": RATIO, "g_n": names["g_n"]}
        if not shown and name:
            # Nothing says what the line has to be.
            continue
        kinds = {}
        for slip, mistaken in slips(body, wanted, {k: v for k, v in known_all.items() if k in known or k in body}):
            plain = mistaken.replace("«", "").replace("»", "")
            # A number alone with a unit in brackets is told of as such.
            if re.fullmatch(r"[\d.e-]+", plain):
                continue
            if not is_right(plain, wanted, known_all):
                kinds.setdefault(slip, []).append(mistaken)
        pad = lambda formula: (f"{name} = " if name else "verify ") + formula + (f"  {shown}" if shown else "")
        if shown:
            for other in NEIGHBOURS.get(shown[1:-1], []):
                kinds.setdefault("wrong unit", []).append(None if other is None else f"{body}\0{other}")
        order = sorted(kinds, key=lambda kind: chance.random() ** (1 / OFTEN[kind]), reverse=True)
        chosen = order[:PER_FORMULA]
        for slip in chosen:
            mistaken = chance.choice(kinds[slip])
            if slip == "wrong unit":
                formula, other = mistaken.split("\0")
                yield slip, line, f"{name} = {formula}  «[{other}]»"
            else:
                yield slip, line, pad(mistaken)


for part, seed in SEEDS.items():
    chance = random.Random(seed)
    out = ["# Made by mutants.py from the files of this name's folder; do not edit by hand.\n"]
    for path in sorted((HERE / part).glob("*.haunch")):
        for number, (slip, right, wrong) in enumerate(mutants(path, chance), 1):
            out.append(f"[[case]]\nid = '{path.stem}-{number}'\nfile = '{part}/{path.name}'\nslip = '{slip}'\n"
                       f"kind = 'dimensional'\nright = '{right}'\nwrong = '{wrong}'\n")
    (HERE / f"{part}.toml").write_text("\n".join(out))
