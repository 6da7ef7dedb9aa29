"""A spec that begins from a maker's own drawing: what is drawn is written out, what has to be said still is marked."""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.corners import list_corners
from docgen.geometry.path import end_point, path_box, path_length, start_point
from docgen.geometry.shapes import Box, Point
from docgen.problems import CallRejected
from docgen.read import DrawingError, FoundDrawing, FoundPiece, find_pieces, is_device, is_name, make_name
from docgen.starters import SCHEMA_LINE
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_length, format_mm

UNITS: Final = ("1/72 in", "1/96 in")
"""What a drawing unit usually is where the drawing does not say it."""

CORNERS_MOST: Final = 60
LISTED_MOST: Final = 40
SEAMS_MOST: Final = 12
NAME_KEPT: Final = 26  # so that a name with its edge is a name still
SAME_MM: Final = 0.5
SHORTEST_SEAM_MM: Final = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """An edge of a drawn piece: its name, corner (across and up from the lower left) and length, and in words where it
    runs."""

    piece: str
    edge: str
    corner: Point
    length_mm: float
    runs: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """The text of the spec, and what of the drawing is in none of its pieces, in words."""

    text: str
    pieces: tuple[str, ...]
    left_out: tuple[str, ...]


def begin_from(folder: Path, file: str, code: str, scale: str | None, again: str) -> Begun:
    """A spec of all pieces in an SVG file of the folder, or a folder in it.

    `scale` is the size of one of its units, as written; `again` the call to repeat with one. Raises CallRejected for a
    drawing that cannot be read, and for one without real units: with the sizes it would have at those usual.
    """
    try:
        scale_mm = parse_length(scale) if scale is not None else None
    except WrittenError as error:
        raise CallRejected(f'cannot read the scale "{scale}"; {error.mend}') from error
    try:
        found = find_pieces(folder, file, scale_mm)
    except DrawingError as error:
        raise CallRejected(f"{error.what}; {error.mend}") from error
    if not found.is_real:
        raise CallRejected(_ask_scale(found, file, again))
    names = _name_pieces(found.pieces)
    sides = [_list_sides(name, piece) for name, piece in zip(names, found.pieces, strict=True)]
    blocks = [
        _write_head(code, file, scale),
        *(_write_piece(*each, file, scale) for each in zip(names, found.pieces, sides, strict=True)),
        _write_seams(list(itertools.chain(*sides))),
        _write_left_out(found),
    ]
    left_out = tuple(f"{what}; {mend}" for what, mend in found.left_out)
    return Begun(text=SCHEMA_LINE + "\n".join(filter(None, blocks)), pieces=names, left_out=left_out)


def _ask_scale(found: FoundDrawing, file: str, again: str) -> str:
    """The sizes of the largest piece at the usual units, with what to write for each."""
    piece = max(found.pieces, key=lambda each: path_box(each.drawing.outline).width)
    box = path_box(piece.drawing.outline)
    lines = [f"{_quote(file)} does not say how large it is; {_quote(piece.words)} in it would be"]
    for unit in UNITS:
        mm = parse_length(unit)
        size = " x ".join(format_length(side * mm, "in") for side in (box.width, box.height))
        lines.append(f'  {size}: write  {again} --scale "{unit}"')
    return "\n".join([*lines, "measure the piece, or set the page in mm or inches in the drawing program"])


def _name_pieces(pieces: Sequence[FoundPiece]) -> tuple[str, ...]:
    """A short name for each piece, none twice, and none that a file cannot have everywhere."""
    names: list[str] = []
    for k, piece in enumerate(pieces, 1):
        plain = make_name(piece.words)[:NAME_KEPT].strip("-")
        name = first = plain if is_name(plain) and not is_device(plain) else f"piece-{k}"
        for more in itertools.count(2):
            if name not in names:
                break
            name = f"{first}-{more}"
        names.append(name)
    return tuple(names)


def _list_sides(name: str, piece: FoundPiece) -> list[Side]:
    """The edges between the sharp corners, by the side of the piece that they face; none where there are not two."""
    ring = piece.drawing.outline
    corners = list_corners(ring)
    if not 2 <= len(corners) <= CORNERS_MOST:
        return []
    box = path_box(ring)
    ends = [*corners[1:], corners[0]]
    whole_mm = path_length(ring)
    facing = [_face(one.place, other.place) for one, other in zip(corners, ends, strict=True)]
    sides = []
    for k, (one, other) in enumerate(zip(corners, ends, strict=True)):
        edge = facing[k] if facing.count(facing[k]) == 1 else f"{facing[k]}-{facing[: k + 1].count(facing[k])}"
        length_mm = (other.at_mm - one.at_mm) % whole_mm
        runs = f"from {_tell_place(one.place, box)} to {_tell_place(other.place, box)}"
        sides.append(Side(piece=name, edge=edge, corner=one.place, length_mm=length_mm, runs=runs))
    return sides


def _face(start: Point, end: Point) -> str:
    """Which way an edge looks from a piece that lies to the left of it."""
    out_x, out_y = end.y - start.y, start.x - end.x
    if abs(out_y) >= abs(out_x):
        return "top" if out_y > 0 else "bottom"
    return "right" if out_x > 0 else "left"


def _tell_place(at: Point, box: Box) -> str:
    """Where on the piece a point lies, by thirds: "the lower left", "the middle of the top"."""
    across = ("left", "middle", "right")[min(2, int(3 * (at.x - box.left) / box.width))]
    up = ("lower", "middle", "upper")[min(2, int(3 * (at.y - box.bottom) / box.height))]
    if up == "middle":
        return "the middle" if across == "middle" else f"the middle of the {across}"
    if across == "middle":
        return f"the middle of the {'top' if up == 'upper' else 'bottom'}"
    return f"the {up} {across}"


def _write_head(code: str, file: str, scale: str | None) -> str:
    unit = ["", "[measures]", f"unit = {_quote(scale)}  # one unit of the drawing"] if scale is not None else []
    lines = [
        f"# Begun from the drawing {_plain(file)}. Lines with SAY want a word of yours. Change them, then run",
        f'# "docgen check {code}.toml". "docgen keys" explains every key there is.',
        "",
        "[spec]",
        f'code    = "{code}"',
        f"title   = {_quote(code.replace('-', ' ').capitalize())}  # SAY what it is called",
        'version = "1"  # raise it whenever you change something',
        *unit,
        "",
        "[materials.leather]  # SAY what it is cut from; more materials are more tables",
        'kind      = "leather"  # leather, fabric, foam or board',
        'tannage   = "vegetable"  # vegetable, chrome or combination',
        'thickness = "4-5 oz"  # ounces or mm',
        "",
        "# ---- pieces: hold the sizes against your drawing --------------------------------",
        "",
    ]
    return "\n".join(lines)


def _write_piece(name: str, piece: FoundPiece, sides: Sequence[Side], file: str, scale: str | None) -> str:
    box = path_box(piece.drawing.outline)
    title = " ".join(piece.words.replace("_", " ").split())
    lines = [
        f"[pieces.{name}]  # {format_length(box.width, 'in')} wide, {format_length(box.height, 'in')} high",
        f"title   = {_quote(title[:1].upper() + title[1:])}",
        'of      = "leather"  # SAY the material, if it is another',
        "# cut   = 2  # SAY how many for one make, if more than one",
        'shape   = "drawing"',
        f"file    = {_quote(file)}",
        *([f"element = {_quote(piece.element)}"] if piece.element is not None else []),
        *(['scale   = "unit"'] if scale is not None else []),
        *_write_corners(piece, sides),
        *_tell_inside(piece),
    ]
    return "\n".join([*lines, ""])


def _write_corners(piece: FoundPiece, sides: Sequence[Side]) -> Iterator[str]:
    if not sides:
        count = len(list_corners(piece.drawing.outline))
        all_round = format_length(path_length(piece.drawing.outline), "in")
        names = "edge-1" if count == 1 else f"edge-1 to edge-{count}, from the corner nearest the lower left on"
        yield f"# its edges: {names}; {all_round} all round"
        return
    yield "corners = [  # its edges, each from its corner to the next"
    for side in sides:
        at = f'["{format_mm(side.corner.x, 2)}", "{format_mm(side.corner.y, 2)}"]'
        told = f"{format_length(side.length_mm, 'in')}, {side.runs}"
        yield f'  {{ at = {at}, edge = "{side.edge}" }},  # {told}'
    yield "]"


def _tell_inside(piece: FoundPiece) -> Iterator[str]:
    """The holes and marks that come with the drawing, for the maker to check."""
    told = [
        f"# hole{_plain(f' {name}') if name else ''}: {format_length(size_mm, 'in')} across, "
        f"{format_length(at.x, 'in')} from left, {format_length(at.y, 'in')} from bottom"
        for at, size_mm, name in piece.drawing.holes
    ]
    for name, path in piece.drawing.marks:
        start, end = start_point(path), end_point(path)
        where = "closed" if path.closed else f"ends {format_length(math.dist(start, end), 'in')} apart"
        told.append(
            f"# mark{_plain(f' {name}') if name else ''}: {format_length(path_length(path), 'in')} long, {where}"
        )
    if told:
        yield "# the drawing brings"
        yield from told[:LISTED_MOST]
        if len(told) > LISTED_MOST:
            yield f"# and {len(told) - LISTED_MOST} more"


def _write_seams(sides: Sequence[Side]) -> str:
    """How to sew it, as comments to be taken away: edges of one length, each once."""
    head = [
        "# ---- SAY how it is sewn: take the # away where it is right ------------------------",
        "",
        "# [stitches.main]",
        '# by     = "machine"  # machine or hand',
        '# thread = "Tex 135 bonded nylon"  # the Tex number first; it picks the needle',
        '# pitch  = "6 per inch"  # or "4.2 mm"',
        '# inset  = "3/16 in"  # stitch line, in from the cut edge',
        "",
    ]
    pairs = _pair_sides(sides)
    if not pairs:
        mend = '# meet   = ["front: left bottom right", "back: left bottom right"]'
        return "\n".join([*head, "# [seams.round]", '# stitch = "main"', mend, ""])
    lines = []
    for one, other in pairs:
        lines += [
            f"# [seams.{one.piece}-{one.edge}]  # both {format_length(one.length_mm, 'in')}",
            '# stitch = "main"',
            f'# meet   = ["{one.piece}: {one.edge}", "{other.piece}: {other.edge}"]',
            "",
        ]
    return "\n".join([*head, *lines])


def _pair_sides(sides: Sequence[Side]) -> list[tuple[Side, Side]]:
    """Edges of two pieces that are of one length, those of one name first; no edge twice."""
    near = [
        (one.edge != other.edge, k, one, other)
        for k, (one, other) in enumerate(itertools.combinations(sides[: 4 * LISTED_MOST], 2))
        if one.piece != other.piece
        and abs(one.length_mm - other.length_mm) <= SAME_MM
        and one.length_mm >= SHORTEST_SEAM_MM
    ]
    pairs: list[tuple[Side, Side]] = []
    for *_, one, other in sorted(near, key=lambda each: each[:2]):
        if not any(each in (one, other) for pair in pairs for each in pair):
            pairs.append((one, other))
    return pairs[:SEAMS_MOST]


def _write_left_out(found: FoundDrawing) -> str:
    lines = [f"# {_plain(what)}; {_plain(mend)}" for what, mend in found.left_out[:LISTED_MOST]]
    return "\n".join(["# ---- in the drawing, and in no piece ----", *lines, ""]) if lines else ""


def _plain(text: str) -> str:
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def _quote(text: str) -> str:
    """Words as a TOML string: JSON escapes as TOML does, but for DEL."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
