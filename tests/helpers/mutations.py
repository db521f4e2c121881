"""Scenario texts spoilt at random: bytes, tokens, values, keys and structure.

A mutation is a function of a random generator and a text. Values and keys are replaced by ones
chosen to hurt, and by valid ones of another place, so that many spoilt texts get past the TOML
reader and a share of them even past the rules.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable

Mutation = Callable[[random.Random, str], str]

_TOKEN = re.compile(r'"[^"\n]*"|[A-Za-z_][A-Za-z0-9_-]*|[0-9.]+|\S')
_VALUE = re.compile(r"(?<== )[^\n]+")
_TEXT = re.compile(r'"[^"\n]*"')
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_UNIT = re.compile(r'(?<=[0-9] )[a-zA-Z/]+(?=")')
_KEY = re.compile(r"^[a-z_]+(?= = )", re.MULTILINE)
_HEADER = re.compile(r"^\[+[a-z.]+\]+", re.MULTILINE)

VALUES = (
    *("nan", "inf", "-inf", "true", "false", "0", "-1", "1e400", "-0.0", "1e-320", "[]", "{}"),
    *('""', '" "', '"nan in"', '"inf lbf"', '"1e400 in"', '"-1e308 in"', '"0 in"', '"-3 in"'),
    *('"12 lbf"', '"14 1/2"', '"14 1/2 in"', '"1/0 in"', '"1,725 rpm"', '"5 ft 3 1/2 in"'),
    *('"1e9999999999999999999 m"', '"3 inhc"', '"3 degC"', '"3 dBm"', '"3 m^99999999"', '"3 m^-4"'),
    *('"((((((in"', '"3 in in in in"', '"3 1/in"', '"3 furlong"', '"0 N"', '"1e12 N"', '"1e12 W"'),
    *('"1e-6 m"', '"10 km"', '"1e6 rad/s"', '"1e-6 rad/s"', '"up"', '"left"', '"90 deg"', '"A"'),
    *(
        "\"__import__('os').getcwd()\"",
        '"{0.__class__}"',
        '"%s%n"',
        '"\\u0000"',
        '"\\n\\u001b[31m"',
    ),
    *(
        '"\\u202e in"',
        '"½ in"',
        '"14½\\""',
        '"٣ in"',
        '"M10"',
        '"M10x1.5-LH"',
        '"#10-24"',
        '"3/8-0"',
    ),
    *("'''x\n[motor]\n'''", '["0 in", "0 in"]', '["0 in"]', '["0 in", "0 lbf"]', '[["0 in"]]'),
    *('["-12 deg", "12 deg"]', '["12 deg", "-12 deg"]', "[1, 2]", "[true, nan]", "[[[[[[[]]]]]]]"),
    *("1979-05-27", "07:32:00", "0xffffffffffffffffffffffffffffffff", f"1{'0' * 400}", '"crossed"'),
    *('"idler"', '"link"', '"none"', '"jack-in-base"', '"both"', '"cw"', f'"{"9" * 90} in"', "1.5"),
    *(
        f'"{"x" * 3000}"',
        '{a = {b = {c = "quarter-turn"}}}',
        '"16 in \\\\ 3"',
        '"10 kg"',
        '"25 psi"',
        '"0.003 in"',
        '"100 mm"',
        '"200 lbf"',
    ),
)
# Oils and services, flags.
VALUES += (
    *('"ISO VG 68 at 50 degC"', '"VG 68, 120 degF"', '"VG 46 @ 300 K"', '"ISO VG 69 at 50 degC"'),
    *('"VG 68 at"', '"VG 68"', '"VG 68 at 1e400 degC"', '"VG 68 at nan degC"', '"VG 68, 5/0 degC"'),
    *(
        '"VG 68 at 50 deg"',
        '"VG 99999999 at 50 degC"',
        '"VG ٦ at ٦ °C"',
        '"true"',
        '"light-line-shaft"',
        "false",
        "1.3",
    ),
)
KEYS = (
    *(
        "lenght",
        "pully_diameter",
        "idler",
        "crossed",
        "a.b.c",
        '"a\\nb"',
        "''",
        "__class__",
        "name",
    ),
    *("thread", "advance_per_turn", "base_pin", "tip", "drive", "stiffness_factor", "stiffness"),
    *("spring", "rate", "free_length", "stop"),
    "model_config",
    *("section", "weight", "center_of_mass", "starting_limit", "position", "copy", "load"),
    *(
        "grip",
        "limits",
        "limit",
        "may_change",
        "may-change",
        "rotation",
        "loads",
        "clearance",
        "oil",
    ),
    *("cap_direction", "cap_dowelled", "groove_direction", "service", "shaft_diameter", "hinge"),
    *("build", "bolt", "shaft", "belt_length", "weights", "traction_factor"),
)


def _swap(pattern: re.Pattern[str], replacements: tuple[str, ...] | None = None) -> Mutation:
    """Return the mutation that puts something else in place of one match of the pattern."""

    def mutation(rng: random.Random, text: str) -> str:
        matches = list(pattern.finditer(text))
        if not matches:
            return text
        one = rng.choice(matches)
        new = rng.choice(replacements) if replacements else rng.choice(matches)[0]
        return text[: one.start()] + new + text[one.end() :]

    return mutation


def _byte(rng: random.Random, text: str) -> str:
    """Put in, take out or change a few bytes; what is then no UTF-8 becomes replacement signs."""
    data = bytearray(text.encode("utf-8", "replace"))
    for _ in range(rng.choice((1, 1, 2, 5))):
        at = rng.randrange(len(data) + 1)
        match rng.randrange(3):
            case 0:
                data.insert(at, rng.randrange(256))
            case 1:
                del data[at : at + rng.randrange(1, 9)]
            case _:
                data[at : at + 1] = bytes([rng.randrange(32, 127)])
    return data.decode("utf-8", "replace")


def _token(rng: random.Random, text: str) -> str:
    """Double, drop or move one token."""
    tokens = list(_TOKEN.finditer(text))
    if not tokens:
        return text
    one, other = rng.choice(tokens), rng.choice(tokens)
    match rng.randrange(3):
        case 0:
            return text[: one.end()] + " " + one[0] + text[one.end() :]
        case 1:
            return text[: one.start()] + text[one.end() :]
        case _:
            return text[: one.start()] + other[0] + text[one.end() :]


def _number(rng: random.Random, text: str) -> str:
    """Multiply one number by a power of ten, or turn its sign."""
    matches = list(_NUMBER.finditer(text))
    if not matches:
        return text
    one = rng.choice(matches)
    scaled = float(one[0]) * rng.choice((-1, 0, 0.5, 2, 10.0 ** rng.randrange(-15, 15)))
    return text[: one.start()] + rng.choice((f"{scaled:g}", repr(scaled))) + text[one.end() :]


def _lines(rng: random.Random, text: str) -> str:
    """Double, drop, move or cut off lines."""
    lines = text.split("\n")
    start = rng.randrange(len(lines))
    end = min(len(lines), start + rng.choice((1, 1, 1, 3, 8)))
    block = lines[start:end]
    match rng.randrange(4):
        case 0:
            lines[start:start] = block
        case 1:
            del lines[start:end]
        case 2:
            del lines[start:end]
            at = rng.randrange(len(lines) + 1)
            lines[at:at] = block
        case _:
            del lines[end:]
    return "\n".join(lines)


def _nesting(rng: random.Random, text: str) -> str:
    """Nest deeply, in lists, tables or dotted keys, at a random line."""
    depth = rng.choice((3, 30, 300, 3000))
    tables = "{a = " * depth + "1" + "}" * depth
    deep = rng.choice(("x = " + "[" * depth + "]" * depth, f"x = {tables}",
                       ".".join("a" * depth) + " = 1", f"[{'.'.join('a' * depth)}]"))  # fmt: skip
    lines = text.split("\n")
    lines.insert(rng.randrange(len(lines) + 1), deep)
    return "\n".join(lines)


MUTATIONS: dict[str, tuple[Mutation, ...]] = {
    "byte": (_byte,),
    "token": (_token,),
    "value": (
        _swap(_VALUE, VALUES),
        _swap(_VALUE),
        _swap(_TEXT, tuple(value for value in VALUES if value.startswith('"'))),
        _swap(_TEXT),
        _swap(_UNIT),
        _number,
    ),
    "key": (_swap(_KEY, KEYS), _swap(_KEY), _swap(_HEADER)),
    "structure": (_lines, _lines, _lines, _nesting),
}


def mutated(rng: random.Random, text: str, level: str) -> str:
    """Return the text after one to four mutations, the first of the level."""
    text = rng.choice(MUTATIONS[level])(rng, text)
    for _ in range(rng.choice((0, 0, 1, 3))):
        text = rng.choice(MUTATIONS[rng.choice(list(MUTATIONS))])(rng, text)
    return text
