"""The names of both ends of a strap or strip, and of the top of what reads otherwise than it lies, on its template: near
each end, clear of lines, sizes and ticks where there is room for that, as the steps call them."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import chain

from docgen.classes import dataclass
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box, Path
from docgen.pages.drawn.labels import (
    SIZES,
    LabelLine,
    Room,
    find_free_box,
    label_size,
    make_room,
    place_label,
    set_label,
    shrink_lines,
    spaced_box,
    take_boxes,
)
from docgen.pages.drawn.piece_drawing import piece_lines
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Mark, PathMark, TextMark
from docgen.resolve import STRIP_ENDS, Piece, strip_ends

NEAR_TOP_MM = (6.0, 9.0)  # how much of a top edge is looked at for its name, before those
NEAR_END_MM = (12.0, 25.0, 40.0, 60.0, 90.0)  # how much of an end is looked at for its name, one after the other
WHOLE_CELL_MM, END_CELL_MM = 1.0, 0.5
CLEAR_MM = 1.0, 0.4, 0.1  # round a name, which has white in its own leading; the most for which there is room
TICK_MM = 6.0  # no tick of a stitch line is longer
NAME_CLEAR_MM = (0.8,)  # at either side of the name of an end of which no more is shown than has room for it
ZIGZAG_MM = 2.0


def name_both_ends(
    piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], taken: Iterable[Box] = ()
) -> tuple[TextMark, ...]:
    """The names of both ends of a strap or strip that is drawn whole, as near to each as there is room; none where one has
    no room. `taken` is kept clear besides."""
    if not (piece.is_strap or strip_ends(piece.outline) == STRIP_ENDS):
        return ()
    box = outline_box(piece.outline)
    whole = _make_room(piece, marks, outline_path(piece.outline), *taken, cell_mm=WHOLE_CELL_MM)
    found = [
        next(filter(None, _near_end(whole, box, style, _end_word(piece, end), is_low=end == "start")), ())
        for end in STRIP_ENDS
    ]
    return tuple(mark for name in found for mark in name) if all(found) else ()


def name_top(piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], taken: Iterable[Box]) -> tuple[TextMark, ...]:
    """The name of the top of a piece, upright as the piece is and as near to that edge as there is room; none of what has
    the names of its ends, nor where there is no room. `taken` is kept clear besides."""
    if piece.is_strap or strip_ends(piece.outline) == STRIP_ENDS:
        return ()
    box, line = outline_box(piece.outline), LabelLine(text=words("lines")["top"], size_mm=style.label_type_mm)
    room = _make_room(piece, marks, outline_path(piece.outline), *taken, cell_mm=END_CELL_MM)
    spaced = take_boxes(room, (spaced_box(mark) for mark in marks if isinstance(mark, TextMark)))
    nears = [mm for mm in (*NEAR_TOP_MM, *NEAR_END_MM) if mm < box.height / 2]
    beyond = [Box(box.left, box.bottom, box.right, box.top - mm) for mm in nears]
    ways = chain(_nearest(spaced, beyond, line, (0.0,)), _nearest(room, beyond, line, (0.0,)))
    return next(filter(None, ways), ())


def _near_end(room: Room, box: Box, style: PatternStyle, word: str, *, is_low: bool) -> Iterator[tuple[TextMark, ...]]:
    """The ways to set the name of one end."""
    nears = [mm for mm in NEAR_END_MM if mm < box.height / 2]
    spans = [(box.bottom + mm, box.top) if is_low else (box.bottom, box.top - mm) for mm in nears]
    beyond = [Box(box.left, low, box.right, high) for low, high in spans]
    yield from _nearest(room, beyond, _line(style, word), (0.0, 90.0))


def _nearest(
    room: Room, beyond: Sequence[Box], line: LabelLine, angles: tuple[float, ...]
) -> Iterator[tuple[TextMark, ...]]:
    """The ways to set a name: well clear, and ever farther from an edge, with what lies beyond that kept free; then less
    clear."""
    near = cache(lambda box: take_boxes(room, [box]))
    for clear_mm in CLEAR_MM:
        for box in beyond:
            yield place_label(near(box), (line,), angles, clear_mm=clear_mm)


@dataclass(frozen=True, slots=True)
class EndName:
    """The name of an end as it is set while the template stands, and once it is turned to the left: in the same room, its
    lines in the order of reading both times."""

    standing: tuple[TextMark, ...] = ()
    turned: tuple[TextMark, ...] = ()


def name_end(
    piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], shown: Box, end: str, *, is_close: bool
) -> EndName:
    """The strap's name and which end this is, as the steps call it, inside what is shown of it, the lines together; where
    it may be close to what is drawn there (`is_close`) and has no room even so, its end alone."""
    torn = (
        Box(shown.left, shown.bottom, shown.right, shown.bottom + ZIGZAG_MM)
        if end == "end"
        else Box(shown.left, shown.top - ZIGZAG_MM, shown.right, shown.top)
    )
    room, word = _make_room(piece, marks, box_path(shown), torn, cell_mm=END_CELL_MM), _end_word(piece, end)
    ways = [*_ways_to_name(style, piece.title, word)]
    tries = [(lines, clear) for clear in (CLEAR_MM if is_close else NAME_CLEAR_MM) for lines in ways]
    tries += [((_line(style, word),), clear) for clear in CLEAR_MM if is_close]
    return next((name for lines, clear in tries if (name := _set_together(room, lines, clear)).standing), EndName())


def _ways_to_name(style: PatternStyle, title: str, word: str) -> Iterator[tuple[LabelLine, ...]]:
    """On one line; the end below the name; a name of parts on as many lines."""
    parts = title.split(", ")
    yield (_line(style, f"{title}, {word}"),)
    yield _line(style, f"{title},"), _line(style, word)
    if len(parts) > 1:
        yield (*(_line(style, f"{part},") for part in parts), _line(style, word))


def _line(style: PatternStyle, text: str) -> LabelLine:
    return LabelLine(text=text, size_mm=style.label_type_mm, face="bold")


def _set_together(room: Room, lines: tuple[LabelLine, ...], clear_mm: float) -> EndName:
    """Lines as they are broken, as large as there is room for; along the strap if they can be."""
    sizes = [*dict.fromkeys(shrink_lines(lines, share) for share in SIZES)]
    for angle in (90.0, 0.0):
        for sized in sizes:
            wide, high = (side + 2 * clear_mm for side in label_size(sized))
            box = find_free_box(room, *((high, wide) if angle else (wide, high)))
            if box is not None:
                return EndName(set_label(sized, box, angle), set_label(sized, box, -angle))
    return EndName()


def _end_word(piece: Piece, end: str) -> str:
    return words("lines")[{"start": "first_end", "end": "second_end"}[end] if piece.is_strap else end]


def _make_room(piece: Piece, marks: tuple[Mark, ...], within: Path, *taken: Box, cell_mm: float) -> Room:
    """What is free of words, lines, ticks and skived bands."""
    drawn = (mark_box(mark) for mark in marks if isinstance(mark, TextMark) or _is_tick(mark))
    bands = [skive.band for skive in piece.marks.skives]
    return make_room(within, piece_lines(piece), bands, [*drawn, *taken], cell_mm)


def _is_tick(mark: Mark) -> bool:
    if not isinstance(mark, PathMark) or mark.layer != "stitch":
        return False
    box = mark_box(mark)
    return max(box.width, box.height) < TICK_MM
