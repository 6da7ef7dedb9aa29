"""Lengths half or twice as long, sums that lack a term and parts that land elsewhere that make another right build: judged
as other figures that slip by as much, but for those that have a twin in the build, which contradicts them."""

import math
import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.resolve import Piece
from slips.judged import RULES
from slips.judged_further import FURTHER
from slips.operators import ACROSS, LENGTH_RE, Slip, number_of
from slips.scalars import Scalar, find_scalars
from slips.told import Checker

TERM, LANDING = "a term of a sum left out", "a landing far off its place"
KINDS = ("a length half or twice as long", TERM, LANDING)
ALONE_RE = re.compile(r"^(straps\.[\w-]+\.(finished|wears)|holds\..*|inside\..*)$")  # nothing else hangs on these
INCH_MM = 25.4
A_LITTLE_MM = 6.4  # a quarter inch
NEAR_SIZE_MM = 10.0  # sizes that differ by no more are made to fit each other
ROW_MM = (1.9, 13.0)  # a row lies 2 mm (fine work) to 13 mm (turned seams) from its edge: common practice
TWINS = {**ACROSS, "front": "back", "back": "front", "upper": "lower", "lower": "upper"}
CLOSING_RE = re.compile(r"^(?!.*\brivet).*\b(snap|stud|cap|socket|button|clasp|lock|magnet)\b", re.IGNORECASE)
OWN_RULES = (
    (r"^straps\.[\w-]+\.ends\.\d\.back$", "an end that lies back farther or less"),
    (r"^straps\.[\w-]+\.ends\.\d\.skive\.over$", "a skive that is longer or shorter"),
    (r"^straps\.[\w-]+\.holes\.tip$", "a strap of another length beyond its last hole"),
    (r"^straps\.[\w-]+\.(finished|wears)$", "a strap of another length"),
    (r"^straps\.[\w-]+\.overlap$|^joins\.[\w-]+\.overlap$|\.hems\.\d\.turn$", "as much over each other"),
    (r"^straps\.[\w-]+\.punches\.\d\.at$", "a hole elsewhere in what lies back, through both layers once it is turned"),
    (r"\.landings\.\d\.over$", "a strap that lies fast farther or less, with the same rivets"),
    (r"^materials\.[\w-]+\.size", "a sheet of board of another size, out of which all is cut"),
    (r"^inside\.", "a room otherwise than worked out, in which all goes"),
    (r"^pieces\.[\w-]+\.points\.", "a corner elsewhere, where no seam says where"),
    (r"^pieces\.[\w-]+\.holes\.\d+\.at$", "a hole elsewhere, which no other has to meet"),
    (r"^pieces\.[\w-]+\.inset$", "a part that lies a little farther in, or out"),
)


def why_free_scaled(slip: Slip, text: str, checker: Checker) -> str:
    """The reason why this untold slip makes another right build, or an empty string; `text` is the right build."""
    if slip.kind not in KINDS or has_twin(text, slip):
        return ""
    if slip.path.endswith(".inset") and slip.path.startswith("stitches."):
        is_usual = ROW_MM[0] <= plain_mm(slip.now) <= ROW_MM[1]
        return "a row as near to its edge, or as far from it, as rows are sewn" if is_usual else ""
    if slip.path.startswith("pieces.") and ".size." in slip.path and _fitted(slip, text, checker):
        return ""
    by_mm = _left_out_mm(slip) if slip.kind == TERM else abs(_changed_mm(slip.was, slip.now))
    if slip.kind == TERM and by_mm > A_LITTLE_MM and not ALONE_RE.match(slip.path):
        return ""  # what is added or taken away is there for something
    if slip.kind == LANDING and _crosses(slip, text, checker):
        return ""
    if ".holes." in slip.path and by_mm > A_LITTLE_MM and _closes(slip):
        return ""
    kind = "a quarter inch more or less" if by_mm <= A_LITTLE_MM else "digits turned round or one lost"
    alike = replace(slip, kind=kind)
    found = (rule.reason for rule in (*RULES, *FURTHER) if not rule.build and rule.covers("", alike))
    own = (reason for pattern, reason in OWN_RULES if re.search(pattern, slip.path))
    is_bend = slip.path.startswith("pieces.") and ".folds." in slip.path and by_mm <= A_LITTLE_MM
    bend = "a bend no more than a quarter inch elsewhere, which leather gives" if is_bend else ""
    return next(found, "") or next(own, "") or bend


def plain_mm(words: str) -> float:
    """The first length that is written, mm; infinite where there is none."""
    match = LENGTH_RE.search(words)
    return number_of(match[1]) * (INCH_MM if match[2] == "in" else 1.0) if match else math.inf


def has_twin(text: str, slip: Slip) -> bool:
    """Whether the same figure stands at the place of its twin: the same key of a part that is called as the other side, of
    the end across of the same strap, or of what lies across the middle of the same part."""
    scalars = find_scalars(text)
    own = next((one for one in scalars if one.dotted == slip.path and one.line in slip.lines), None)
    data = tomllib.loads(text)
    twins = {path: one for path in _twin_paths(own) for one in scalars if one.path == path} if own else {}
    if own is None:
        return False
    if any(_is_meant_alike(data, own, other) for other in twins.values()):
        return True
    across = {*_across(str(own.value))}
    if own.path[0] == "straps":
        ends = data["straps"][own.path[1]].get("ends", [{}, {}])
        if ends[0].get("back") != ends[-1].get("back"):
            return False  # each end has its holes where it lies back
    is_place = own.key == "at"
    return is_place and any(
        one.path[:3] == own.path[:3] and one.path[-1] == "at" and one.value in across for one in scalars
    )


def _twin_paths(own: Scalar) -> Iterator[tuple[str | int, ...]]:
    """Where the twin of a value would stand."""
    table, name, *rest = own.path
    if not isinstance(name, str):
        return
    for old, new in TWINS.items():
        if re.search(rf"(?<![a-z]){old}(?![a-z])", name):
            yield (table, re.sub(rf"(?<![a-z]){old}(?![a-z])", new, name), *rest)
    if table == "straps" and len(rest) > 2 and rest[0] == "ends":
        yield (table, name, "ends", 1 - int(rest[1]), *rest[2:])


def _is_meant_alike(data: dict[str, Any], own: Scalar, other: Scalar) -> bool:
    """Whether both are one figure; of the ends of straps those that go round the same fitting."""
    if own.value != other.value:
        return False
    if own.path[0] != "straps" or own.path[2] != "ends":
        return True
    ends = [data["straps"][one.path[1]]["ends"][int(one.path[3])] for one in (own, other)]
    return bool(ends[0].get("around")) and ends[0].get("around") == ends[1].get("around")


def _across(words: str) -> Iterator[str]:
    """The same place across the middle of what it is on."""
    for pair in (("left", "right"), ("top", "bottom"), ("start", "end")):
        found = [word for word in pair if re.search(rf"\bfrom {word}\b|\b{word} of centre\b", words)]
        for word in found:
            yield re.sub(rf"\b{word}\b", ACROSS[word], words)


def _changed_mm(was: str, now: str) -> float:
    """By how much the one length that differs does, mm."""
    pairs = zip(LENGTH_RE.findall(was), LENGTH_RE.findall(now), strict=False)
    found = [(number_of(one), number_of(other), unit) for (one, unit), (other, _) in pairs if one != other]
    one, other, unit = found[0] if found else (0.0, math.inf, "mm")
    return (other - one) * (INCH_MM if unit == "in" else 1.0)


def _closes(slip: Slip) -> bool:
    """Whether a hole takes half of what closes, whose other half it has to meet."""
    data = tomllib.loads(slip.text)
    table, name, key, number, *_ = slip.path.split(".")
    rows = data[table][name].get(key, [])
    if not isinstance(rows, list):
        return False  # a row of buckle holes
    hole = rows[int(number)]
    item = data.get("hardware", {}).get(hole.get("takes", ""), {})
    if len([one for one in rows if one.get("takes")]) > 1 and not data[table][name].get("folds"):
        return False  # closed on itself: another size of the same
    return bool(hole.get("slit") or CLOSING_RE.search(f"{item.get('kind', '')} {item.get('what', '')}"))


def _left_out_mm(slip: Slip) -> float:
    """How long a term that is left out is, mm; infinite where it is a measure's name."""
    kept = LENGTH_RE.findall(slip.now)
    gone = [one for one in LENGTH_RE.findall(slip.was) if one not in kept]
    return abs(plain_mm(" ".join(gone[0]))) if len(gone) == 1 else math.inf


def _crosses(slip: Slip, text: str, checker: Checker) -> bool:
    """Whether what lands lies over a fold of its base, or beyond its edge, that it did not lie over before."""
    name = slip.path.split(".")[1]
    counts = []
    for one in (text, slip.text):
        base = next(piece for piece in checker.pieces(one) if piece.name == name)
        boxes = [path_box(landing.outline) for landing in (*base.marks.landings, *base.strap_landings)]
        own = outline_box(base.outline)
        folds = [path_box(fold.path) for fold in base.marks.folds]
        over = [(box, fold) for box in boxes for fold in folds if _overlap(box, fold)]
        out = [
            box
            for box in boxes
            if min(box.left - own.left, own.right - box.right, box.bottom - own.bottom, own.top - box.top) < -1
        ]
        counts.append(len(over) + len(out))
    return counts[1] > counts[0]


def _overlap(one: Box, other: Box) -> bool:
    """Whether they lie over each other, one of which may be a line."""
    across = one.left <= other.right and other.left <= one.right
    return across and one.bottom <= other.top and other.bottom <= one.top


def _fitted(slip: Slip, text: str, checker: Checker) -> bool:
    """Whether a part that is in no seam, nor laid on another, was as wide or high as another that was not made like it."""
    data = tomllib.loads(text)
    name = slip.path.split(".")[1]
    sides = [side.split(":")[0].split()[0] for seam in data.get("seams", {}).values() for side in seam["meet"]]
    lands = [one.get("piece") for piece in data["pieces"].values() for one in piece.get("landings", ())]
    if name in sides or name in lands:
        return False
    before, after = (
        {piece.name: _extent(piece, int(slip.path[-1])) for piece in checker.pieces(one)} for one in (text, slip.text)
    )
    return any(
        abs(before[name] - before[other]) <= NEAR_SIZE_MM < abs(after[name] - mm)
        for other, mm in after.items()
        if other != name and other in before
    )


def _extent(piece: Piece, axis: int) -> float:
    box = outline_box(piece.outline)
    return float((box.width, box.height)[axis])
