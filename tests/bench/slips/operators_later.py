"""Further ways in which a spec goes wrong: what has a mate moved off it, ends and edges across, the order within a step,
sizes of what a part lies on, rows of stitches, what is left out of a line or a sum, and what leads the wrong way."""

import itertools
import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from slips.operators import ACROSS, LENGTH_RE, Slip, enter_lines, is_words, number_of, operator
from slips.scalars import Scalar, table_lines

FAR = {"in": "3/4 in", "mm": "20 mm"}  # farther than leather gives, and nearer than another part of a bag
SIDE_RE = re.compile(r" (?=from (?:left|right|top|bottom|start|end)\b|(?:left|right) of centre)")
SPANS = ("size", "back", "turn", "overlap", "at", "over", "finished", "inset", "tip", "depth", "diameter")
WAYS = {"up": "down", "down": "up", "left": "right", "right": "left"}
TERM_RE = re.compile(r" [+-] (?:[\d./ ]+ (?:in|mm)|[a-z][a-z-]*(?: / \d)?)(?=$| [+-]| from | (?:left|right) of )")
ENTRY_RE = re.compile(r"\{[^{}\[\]]*(?:\[[^\[\]]*\])?[^{}\[\]]*\}")
KEY_RE = re.compile(r'([\w-]+) = (?:"[^"]*"|\[[^\]]*\]|[\w.]+)')
NAME_RE = re.compile(r"\b[a-z][a-z0-9-]*\b")
SEAMS_RE = re.compile(r"^seams\s*= \[(.*)\]")


@operator("a hole far off its place")
def hole_off(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key == "at" and re.search(r"\.(holes|punches)\.", scalar.dotted):
        words = str(scalar.value)
        far = FAR["in" if " in" in words or '"' in words else "mm"]
        for match in SIDE_RE.finditer(words):
            yield f'"{words[: match.start()]} + {far}{words[match.start() :]}"'


@operator("a landing far off its place")
def landing_off(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key == "at" and ".landings." in scalar.dotted:
        words = str(scalar.value)
        far = FAR["in" if " in" in words or '"' in words else "mm"]
        for match in SIDE_RE.finditer(words):
            yield f'"{words[: match.start()]} + {far}{words[match.start() :]}"'


@operator("an end that leads the other way")
def led_across(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key == "leads":
        yield f'"{WAYS[str(scalar.value)]}"'


@operator("a term of a sum left out")
def term_left_out(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar) or scalar.path[0] == "measures":
        return
    words = str(scalar.value)
    for match in TERM_RE.finditer(words):
        yield f'"{words[: match.start()]}{words[match.end() :]}"'


@operator("an inset outward in place of inward")
def inset_outward(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.path[0] == "pieces" and scalar.path[2:] == ("inset",) and LENGTH_RE.fullmatch(str(scalar.value)):
        yield f'"-{scalar.value}"'


@operator("an edge for the edge across")
def edge_across(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key not in ("meet", "edges", "on") or is_words(scalar):
        return
    words = str(scalar.value)
    head = words.find(":") + 1
    for match in re.finditer(r"\b(left|bottom|right|top|start|end)\b", words[head:]):
        at = head + match.start()
        yield f'"{words[:at]}{ACROSS[match[0]]}{words[at + len(match[0]) :]}"'


@operator("a length half or twice as long")
def half_or_twice(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar) or scalar.key not in SPANS or scalar.path[0] == "measures":
        return
    words = str(scalar.value)
    for match in LENGTH_RE.finditer(words):
        for new in (number_of(match[1]) * 2, number_of(match[1]) / 2):
            yield f'"{words[: match.start(1)]}{new:g}{words[match.end(1) :]}"'


@operator("a measure for its neighbour")
def measure_beside(text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar) or scalar.key in ("meet", "of", "what", "edge") or scalar.path[0] in ("measures", "variants"):
        return  # `edge` gives an edge its own name: a measure of that name is another thing
    names, words = list(tomllib.loads(text).get("measures", {})), str(scalar.value)
    for match in NAME_RE.finditer(words):
        if match[0] in names and len(names) > 1:
            other = names[(names.index(match[0]) + 1) % len(names)]
            yield f'"{words[: match.start()]}{other}{words[match.end() :]}"'


@operator("a part as large as what it lies on")
def as_large(text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.path[0] != "pieces" or len(scalar.path) != 4 or scalar.path[2] != "size":
        return
    pieces = tomllib.loads(text)["pieces"]
    for host in pieces.values():
        sizes = host.get("size", ())
        lands = any(one.get("piece") == scalar.path[1] for one in host.get("landings", ()))
        if lands and len(sizes) == 2 and "solve" not in (*sizes, scalar.value):
            yield f'"{sizes[int(scalar.path[3])]}"'


@enter_lines("rows of stitches too near or too far")
def rows_off(text: str) -> Iterator[Slip]:
    kind, stitches = "rows of stitches too near or too far", tomllib.loads(text).get("stitches", {})
    for start, end, head in table_lines(text):
        stitch = stitches.get(head.strip("[]").removeprefix("stitches."), {}) if "[stitches." in head else {}
        lines = text.splitlines(keepends=True)
        body = [line for line in lines[start + 1 : end] if not re.match(r"(rows|row-gap)\b", line)]
        for gap in ("0.5 mm", "25 mm") if stitch else ():
            rows = f'rows = {max(2, stitch.get("rows", 1))}\nrow-gap = "{gap}"\n'
            yield from _slip(kind, lines, start, head, gap, [*lines[: start + 1], rows, *body, *lines[end:]])


@enter_lines("a strap doubled that is not sewn")
def strap_doubled(text: str) -> Iterator[Slip]:
    kind, straps = "a strap doubled that is not sewn", tomllib.loads(text).get("straps", {})
    lines = text.splitlines(keepends=True)
    for start, _, head in table_lines(text):
        strap = straps.get(head.strip("[]").removeprefix("straps."))
        if strap and not strap.keys() & {"doubled", "stitch", "keeper-for"}:
            new = [*lines[: start + 1], "doubled = true\n", *lines[start + 1 :]]
            yield from _slip(kind, lines, start + 1, head, "doubled", new)


@enter_lines("the order within a step the other way about")
def order_within(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for (start, end, _), step in _steps(text):
        if "order" in step:
            continue
        ways = [[*step["seams"], *step["joins"]]] if step.get("joins") and step.get("seams") else []
        for way in ways:
            order = f"order = {way}\n".replace("'", '"')
            new = [*lines[:end], order, *lines[end:]] if lines[end - 1].strip() else None
            new = new or [*lines[: start + 1], order, *lines[start + 1 :]]
            yield from _slip("the order within a step the other way about", lines, start, step["do"], order, new)


@enter_lines("a seam sewn in an earlier step")
def seam_early(text: str) -> Iterator[Slip]:
    kind, lines = "a seam sewn in an earlier step", text.splitlines(keepends=True)
    sewing = [
        (number, number_of_step)
        for number_of_step, ((start, end, _), _) in enumerate(_steps(text))
        for number in range(start, end)
        if SEAMS_RE.match(lines[number])
    ]
    for (early, first), (late, second) in itertools.combinations(sewing, 2):
        if second - first < 2:
            continue
        names = [SEAMS_RE.match(lines[number])[1].split(", ") for number in (early, late)]
        for name in names[1]:
            rest = ", ".join(one for one in names[1] if one != name)
            new = list(lines)
            new[early] = f"seams = [{', '.join([*names[0], name])}]\n"
            new[late] = f"seams = [{rest}]\n" if rest else ""
            slips = _slip(kind, lines, early, f"{name} of step {second + 1}", f"in step {first + 1}", new)
            head = next(at for at in range(late, -1, -1) if lines[at].startswith("[["))
            end = next((at for at in range(late, len(lines)) if lines[at].startswith("[")), len(lines))
            gone = 0 if rest else 1  # of the step it is taken from nothing else is left out
            yield from (replace(slip, lines=(early + 1, *range(head + 1, end + 1 - gone))) for slip in slips)


@enter_lines("an entry left out of a line")
def entry_left_out(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        entries = ENTRY_RE.findall(line) if re.match(r"(notches|holes|skives|folds|hems|ends|landings)\b", line) else []
        for entry in entries if len(entries) > 1 else ():
            new = line.replace(f"{entry}, ", "", 1) if f"{entry}, " in line else line.replace(f", {entry}", "", 1)
            changed = [*lines[:number], new, *lines[number + 1 :]]
            yield from _slip("an entry left out of a line", lines, number, f"{line.split()[0]}: {entry}", "", changed)


@enter_lines("a key left out of an entry")
def key_left_out(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        for entry in ENTRY_RE.finditer(line) if not line.startswith(("#", "[")) else ():
            keys = [match for match in KEY_RE.finditer(entry[0]) if match[1] not in ("note", "title")]
            for match in keys if len(keys) > 1 else ():
                kept = [one[0] for one in KEY_RE.finditer(entry[0]) if one[1] != match[1]]
                new = f"{line[: entry.start()]}{{ {', '.join(kept)} }}{line[entry.end() :]}"
                changed = [*lines[:number], new, *lines[number + 1 :]]
                yield from _slip("a key left out of an entry", lines, number, match[0], "left out", changed)


def _steps(text: str) -> Iterator[tuple[tuple[int, int, str], dict[str, Any]]]:
    tables = [one for one in table_lines(text) if one[2] == "[[steps]]"]
    yield from zip(tables, tomllib.loads(text).get("steps", ()), strict=False)


def _slip(kind: str, lines: list[str], number: int, was: str, now: str, new: list[str]) -> Iterator[Slip]:
    """The slip, where the text is TOML still."""
    text = "".join(new)
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    if text != "".join(lines):
        yield Slip(kind, f"line {number + 1}", was.strip(), now.strip(), text, (number + 1,))
