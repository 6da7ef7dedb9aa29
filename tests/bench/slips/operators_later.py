"""Further ways in which one line goes wrong: a name left out of a list, width for height, a sign."""

import re
import tomllib
from collections.abc import Iterator

from slips.operators import Slip, enter_lines, is_words, operator
from slips.scalars import Scalar

NAMES_RE = re.compile(r'^(\s*)([\w-]+)(\s*=\s*)\[((?:"[\w-]+(?:: [^"]*)?"(?:, )?){2,})\]\s*(#.*)?$')
SIZE_RE = re.compile(r'^(\s*size\s*=\s*\[)("[^"]+"), ("[^"]+")(\].*)$')
ENTERED = ("a name left out of a list", "width and height the other way about", "minus for plus, or plus for minus")
LISTED = ("meet", "of", "pieces", "seams", "straps", "hardware", "skives", "joins", "lines")


@enter_lines(ENTERED[0])
def name_left_out(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if (match := NAMES_RE.match(line.rstrip("\n"))) and match[2] in LISTED:
            names = re.findall(r'"[^"]+"', match[4])
            for left_out in dict.fromkeys(names):
                kept = list(names)
                kept.remove(left_out)
                new = f"{match[1]}{match[2]}{match[3]}[{', '.join(kept)}]\n"
                yield from _slip(
                    "a name left out of a list", lines, number, f"{match[2]}: {left_out}", "left out", [new]
                )


@enter_lines(ENTERED[1])
def sizes_exchanged(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        match = SIZE_RE.match(line.rstrip("\n"))
        if match and match[2] != match[3] and '"solve"' not in match.group(2, 3):
            new = f"{match[1]}{match[3]}, {match[2]}{match[4]}\n"
            yield from _slip(ENTERED[1], lines, number, line.strip(), new.strip(), [new])


@operator(ENTERED[2])
def sign_turned(_text: str, scalar: Scalar) -> Iterator[str]:
    words = str(scalar.value)
    if not is_words(scalar) and scalar.path[0] != "spec":
        for match in re.finditer(r" ([+-]) ", words):
            other = "-" if match[1] == "+" else "+"
            yield f'"{words[: match.start(1)]}{other}{words[match.end(1) :]}"'


def _slip(kind: str, lines: list[str], number: int, was: str, now: str, new: list[str]) -> Iterator[Slip]:
    """The slip, where the text is TOML still."""
    changed = "".join([*lines[:number], *new, *lines[number + len(new) :]])
    try:
        tomllib.loads(changed)
    except tomllib.TOMLDecodeError:
        return
    yield Slip(kind, f"line {number + 1}", was, now, changed, (number + 1,))
