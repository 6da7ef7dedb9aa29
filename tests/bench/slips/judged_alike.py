"""Slips after which the build is the same but for what is turned over: an edge for the edge across of a part that is the
same either way round, and a key left out that says what counts without it, or may be left out."""

import math
import re
import tomllib
from typing import Any

from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Point
from docgen.resolve import Piece
from slips.judged_scaled import CLOSING_RE, plain_mm
from slips.operators import ACROSS, Slip
from slips.told import Checker, even_points

SAME_MM = 0.5
USUAL_PITCH_MM = 25.4
LITTLE_SHARE = 0.2
EDGE_RE = re.compile(r"\b(left|bottom|right|top|start|end)\b")
AXES = {"left": 0, "right": 0, "start": 0, "end": 0, "top": 1, "bottom": 1}
LEFT_OUT = {
    "tip": "the usual tip of such a strap is reckoned",
    "length": "foam as long as its strap",
    "angle": "by how much a bend turns may be left out: less is drawn",
}


def why_free_alike(slip: Slip, text: str, checker: Checker) -> str:
    """The reason why this untold slip makes another right build, or an empty string; `text` is the right build."""
    if slip.kind == "an edge for the edge across":
        return _why_turned(slip, text, checker)
    if slip.kind == "a key left out of an entry":
        return _why_without(slip, text, checker)
    return ""


def _why_turned(slip: Slip, text: str, checker: Checker) -> str:
    """An edge across, of a part that is the same turned over: its edges and marks lie alike across its middle."""
    if ".meet." not in slip.path:
        return ""
    side = slip.was.strip('"')
    part, _, edges = side.partition(":")
    words, now = ({*EDGE_RE.findall(one.partition(":")[2])} for one in (side, slip.now.strip('"')))
    if words == now:
        return ""  # only where a run ends
    axes = {AXES[word] for word in words ^ now}
    data, name = tomllib.loads(text), part.split()[0]
    strips = data.get("joins", {}).get(name, {}).get("of", [name])
    pieces = [one for one in checker.pieces(text) if one.name in strips]
    is_one = len(axes) == 1 and len(EDGE_RE.findall(edges)) == 1
    if not (pieces and is_one and all(_is_same_over(piece, axis) for piece in pieces for axis in axes)):
        return ""
    if any(one.get("piece") == name for host in data["pieces"].values() for one in host.get("landings", ())):
        return ""  # where it lies is written, and with that which of its edges is sewn
    others = [one for one in re.findall(rf'"({re.escape(name)}[^"]*: [^"]*)"', text) if one != side]
    ends = {ACROSS[word] for word in words} | words
    if any({*EDGE_RE.findall(one.partition(":")[2])} & ends for one in others):
        return ""  # what is sewn there, or across, tells which edge it is
    return "a part that is the same turned over, and of which nothing else tells which edge it is"


def _is_same_over(piece: Piece, axis: int) -> bool:
    """Whether a piece with all its marks is the same turned over across its middle."""
    if piece.hems or len(piece.marks.notches) % 2:
        return False
    twice_mm = 2 * outline_box(piece.outline).centre[axis]
    marks = piece.marks
    kinds = [even_points(piece), [hole.at for hole in marks.holes], [end.at for end in piece.strap_landings]]
    kinds += [
        [one.start for one in lines] + [one.end for one in lines]
        for lines in (marks.folds, marks.slits, piece.dividers)
    ]
    kinds += [
        [path_box(one.outline).centre for one in marks.landings],
        [path_box(one.path).centre for one in marks.skives],
    ]
    return all(
        any(math.dist(_over(at, axis, twice_mm), other) < SAME_MM for other in spots) for spots in kinds for at in spots
    )


def _over(at: Point, axis: int, twice_mm: float) -> Point:
    return Point(twice_mm - at.x, at.y) if axis == 0 else Point(at.x, twice_mm - at.y)


def _why_without(slip: Slip, text: str, checker: Checker) -> str:
    """What an entry says, left out of it."""
    key, _, value = slip.was.partition(" = ")
    lines = text.splitlines()[: slip.lines[0]]
    table = next((line.strip("[]") for line in reversed(lines) if line.startswith("[")), "")
    if checker.shapes(slip.text) == checker.shapes(text):
        return "what counts where nothing is said"
    if key == "edge" and _is_unnamed(text, table, value.strip('"')):
        return "an edge without a name, that nothing names"
    if key == "takes" and _is_said_at_its_mate(tomllib.loads(slip.text), table, value.strip('"')):
        return "one of two holes that lie on each other once it is folded: said at the other"
    if key == "pitch" and abs(plain_mm(value) - USUAL_PITCH_MM) <= LITTLE_SHARE * USUAL_PITCH_MM:
        return "holes as far apart as is usual, but for a fifth of that"
    if table.startswith("variants"):
        return "a variant with that measure as the build has it"
    return LEFT_OUT.get(key, "")


def _is_unnamed(text: str, table: str, name: str) -> bool:
    """Whether nothing names this edge of its part: no side of that, and no place in its own table."""
    part = re.escape(table.partition(".")[2])
    word = rf"(?<![\w-]){re.escape(name)}(?![\w-])"
    own = text.partition(f"[{table}]\n")[2].partition("\n[")[0]
    said = re.sub(r'(?m)#.*$|^\s*(?:note|title)\s*=.*$|edge = "[^"]*"', "", own)
    return not re.search(word, said) and not re.search(rf'"{part}(?: \d+)?: [^"]*{word}', text)


def _is_said_at_its_mate(data: dict[str, Any], table: str, name: str) -> bool:
    """Whether another hole of the same folded part takes it, and no more of it are counted than holes take; nothing of what
    closes, which has two halves."""
    kind, _, part = table.partition(".")
    own = data.get(kind, {}).get(part, {})
    item = data["hardware"].get(name, {})
    if CLOSING_RE.search(f"{item.get('kind', '')} {item.get('what', '')}") or not own.get("folds"):
        return False
    taken = sum(piece.get("cut", 1) * _takes(piece, name) for piece in data["pieces"].values())
    return bool(_takes(own, name)) and int(item.get("count", 0)) <= taken


def _takes(piece: dict[str, Any], name: str) -> int:
    rows = [one for key in ("holes", "hole-rows") for one in piece.get(key, ()) if one.get("takes") == name]
    return sum(int(one.get("count", 1)) for one in rows)
