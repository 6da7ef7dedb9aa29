"""Slips of any build that make another right one, by where its parts lie and what its steps have in hand: a pocket
elsewhere on a plain panel, one more to spare, two steps of which neither hinders the other, a thread as heavy as others."""

import math
import re
import tomllib
from typing import Any

from docgen.geometry.measure import inside_finder
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box, Path, Point
from docgen.resolve import Piece
from docgen.tables.hardware import count_spares, find_kind
from docgen.tables.thread import thread_diameter_mm
from slips.operators import Slip, number_of
from slips.told import Checker

PLACE_RE = re.compile(
    r"\b(top|upper|mouth|foot|bottom|lower|left|right|beneath|below|above|under|middle|centre|rim)\b", re.I
)
LANDING_RE = re.compile(r"^pieces\.([\w-]+)\.landings\.(\d+)\.at")
CLEAR_MM = 10.0  # so far from every edge a part plainly lies on the panel, and not along its edge
A_LITTLE_MM = 6.4  # a quarter inch
USUAL_TIMES = 5.0  # a stitch by hand is so many thread thicknesses long with the thread that is usual for its iron
ONLY_SEWN = {"do", "note", "group", "tools", "minutes", "seams", "pieces", "hardware", "trimmings"}


def why_free_anywhere(slip: Slip, text: str, checker: Checker) -> str:
    """The reason why this untold slip makes another right build, or an empty string; `text` is the right build."""
    data = tomllib.loads(slip.text)
    if _is_to_spare(data, slip):
        return "one to spare of what can be spoiled when it is set"
    if slip.kind.startswith("two steps"):
        return _why_either_order(data, slip)
    if slip.was == "[[accept]]":
        return "nothing is told any more of what was accepted"
    if slip.kind == "a line deleted" and slip.was.startswith("lines") and _lands_there(text, slip):
        return "where it lies is said by its landing as well"
    if slip.path.endswith(".marks") and _has_own_notches(data, slip):
        return "the notches of its model, which it has of its own"
    if slip.path.endswith(".holes.pitch") and 10.0 <= _mm(slip.now) <= 30.0:
        return "holes as far apart as those of straps mostly are"
    if re.fullmatch(r"pieces\.[\w-]+\.laid\.\d\.at", slip.path) and abs(_mm(slip.now) - _mm(slip.was)) <= A_LITTLE_MM:
        return "a zip a little elsewhere on its panel"
    if re.fullmatch(r"straps\.[\w-]+\.width", slip.path) and _goes_through_nothing(data, slip):
        return "a strap a little wider or narrower that goes through no fitting"
    if slip.path.endswith(".thread") and _is_usual_thread(data, slip):
        return "by hand a thread as heavy as is usual for that stitch"
    if (match := LANDING_RE.match(slip.path)) and _lies_freely(data, match, text, slip, checker):
        return "a pocket or patch elsewhere on its plain panel, clear of all that is there"
    return ""


def _mm(words: str) -> float:
    """A plain length at the beginning of what is written, mm; infinite where there is none."""
    match = re.match(r'"?([\d./ ]+?) ?(mm|in)\b', words)
    return number_of(match[1]) * (25.4 if match[2] == "in" else 1.0) if match else math.inf


def _lands_there(text: str, slip: Slip) -> bool:
    """Whether all that a piece is said to line has a place for it on the hidden side."""
    head = next(line for line in reversed(text.splitlines()[: slip.lines[0]]) if line.startswith("["))
    pieces, name = tomllib.loads(text)["pieces"], head.strip("[]").split(".")[-1]
    lined = pieces.get(name, {}).get("lines", ())
    lands = [
        any(one.get("piece") == name and one.get("inside") for one in pieces.get(host, {}).get("landings", ()))
        for host in lined
    ]
    return bool(lands) and all(lands)


def _has_own_notches(data: dict[str, Any], slip: Slip) -> bool:
    own = data["pieces"][slip.path.split(".")[1]]
    model = data["pieces"].get(own.get("like", ""), {})
    marks = {"holes", "hole-rows", "slits", "folds", "skives", "laid", "draws"}
    return slip.now == "true" and not model.keys() & marks and own.get("notches") == model.get("notches")


def _goes_through_nothing(data: dict[str, Any], slip: Slip) -> bool:
    """Whether nothing is folded in a strap or slid on it, no row of holes is in it, and it changes by a quarter inch."""
    name = slip.path.split(".")[1]
    own = data["straps"][name]
    held = any("around" in str(end) or "keeper" in str(end) for end in own.get("ends", ()))
    kept = any(one.get("keeper-for") == name or one.get("partner") == name for one in data["straps"].values())
    is_plain = not (held or kept or own.keys() & {"holes", "keeper-for", "partner", "padding"})
    return is_plain and abs(_mm(slip.now) - _mm(slip.was)) <= A_LITTLE_MM


def _is_to_spare(data: dict[str, Any], slip: Slip) -> bool:
    match = re.fullmatch(r"hardware\.([\w-]+)\.count", slip.path)
    item = data["hardware"][match[1]] if match else {}
    kind = item.get("kind") or find_kind(item.get("what", ""))
    return bool(match) and int(slip.now) == int(slip.was) + 1 and count_spares(kind, int(slip.was)) > 0


def _is_usual_thread(data: dict[str, Any], slip: Slip) -> bool:
    stitch = data["stitches"][slip.path.split(".")[1]]
    was, now = (re.search(r"Tex (\d+)", words) for words in (slip.was, slip.now))
    pitch = re.fullmatch(r"([\d.]+) mm", stitch.get("pitch", ""))
    if stitch.get("by") != "hand" or not (was and now and pitch):
        return False
    thick_mm = thread_diameter_mm(float(now[1]), "linen" if "linen" in slip.now else "polyester")
    return float(now[1]) > float(was[1]) and float(pitch[1]) >= USUAL_TIMES * thick_mm


def _lies_freely(data: dict[str, Any], match: re.Match[str], text: str, slip: Slip, checker: Checker) -> bool:
    """Whether a part that lies clear of every edge and mark of its panel does so still, and no words say where."""
    landing = data["pieces"][match[1]]["landings"][int(match[2])]
    part = landing.get("piece", "")
    words = [data["pieces"].get(part, {}).get("title", "")]
    words += [seam.get("title", "") for seam in data.get("seams", {}).values() if f'"{part}' in str(seam["meet"])]
    words += [step["do"] for step in data.get("steps", ()) if part and part in step["do"]]
    if not part or any(PLACE_RE.search(one) for one in words):
        return False
    return all(_is_clear(checker.pieces(one), match[1], part) for one in (text, slip.text))


def _is_clear(pieces: list[Piece], base: str, part: str) -> bool:
    host = next(piece for piece in pieces if piece.name == base)
    own = next(piece for piece in pieces if piece.name == part)
    lands = [one for one in host.marks.landings if one.piece == part]
    if len(lands) != 1 or own.marks.holes or (own.marks.folds and not own.hems):
        return False
    lies = path_box(lands[0].outline)
    within = inside_finder(outline_path(host.outline))
    grown = [Point(x, y) for x in (lies.left - CLEAR_MM, lies.right + CLEAR_MM) for y in (lies.bottom, lies.top)]
    grown += [Point(x, y) for x in (lies.left, lies.right) for y in (lies.bottom - CLEAR_MM, lies.top + CLEAR_MM)]
    marks = host.marks
    spots = [hole.at for hole in marks.holes] + [at for path in _paths(host, part) for at in flatten(path)]
    spots += [at for line in (*marks.folds, *marks.slits, *host.dividers) for at in _along(line.start, line.end)]
    return all(map(within, grown)) and not any(_is_in(at, lies) for at in spots)


def _paths(host: Piece, part: str) -> list[Path]:
    return [one.outline for one in host.marks.landings if one.piece != part] + [
        one.outline for one in host.strap_landings
    ]


def _along(start: Point, end: Point) -> list[Point]:
    return [Point(start.x + (end.x - start.x) * k / 40, start.y + (end.y - start.y) * k / 40) for k in range(41)]


def _is_in(at: Point, box: Box) -> bool:
    return box.left < at.x < box.right and box.bottom < at.y < box.top


def _why_either_order(data: dict[str, Any], slip: Slip) -> str:
    """Of two steps that changed places, `one` comes first now."""
    steps, seams = data["steps"], data.get("seams", {})
    later = next(at for at, step in enumerate(steps) if at and f'"{step["do"]}"' in slip.was)
    one, other = steps[later - 1], steps[later]
    if one.get("hardware") and one.get("pieces") and not one.keys() & {"seams", "joins", "skives", "straps"}:
        return "set before all is closed: its parts lie open then"
    if set(one) <= {"do", "note", "group", "tools", "joins"} and other.get("straps") and not other.get("seams"):
        return "a strap on a strip whose ends are joined already: it lies open still"
    if _sew_apart(seams, one, other):
        return "other edges of the same parts, and what is sewn first hangs by one edge: both orders can be worked"
    return ""


def _sew_apart(seams: dict[str, Any], one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether both only sew, by edges that the other does not sew, the first no more than one edge of a part, and what
    lies flat in either is held by one edge at most in the first."""
    if not set(one) | set(other) <= ONLY_SEWN or not (one.get("seams") and other.get("seams")):
        return False
    sides = [[side for name in step["seams"] for side in seams[name]["meet"]] for step in (one, other)]
    parts = [{side.split(":")[0].split()[0] for side in each} for each in sides]
    if not all({*step.get("pieces", ())} <= own for step, own in zip((one, other), parts, strict=True)):
        return False
    edges = [[_edges_of(side) for side in each if ":" in side] for each in sides]
    first = {(part, edge) for part, names in edges[0] for edge in names}
    second = {(part, edge) for part, names in edges[1] for edge in names}
    flat = {side.split()[0] for side in sides[0] if ":" not in side} & parts[1]
    count = [
        sum(len(names) for name, names in edges[0] if name == part)
        for part in {part for part, _ in edges[0]} & parts[1]
    ]
    return first.isdisjoint(second) and not flat and all(number == 1 for number in count)


def _edges_of(side: str) -> tuple[str, list[str]]:
    """The part of a side, and its edges as they are written."""
    part, _, edges = side.partition(":")
    return part.split()[0], edges.split(" from ")[0].split()
