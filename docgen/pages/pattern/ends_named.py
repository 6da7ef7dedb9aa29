"""The names of both ends of a strap or strip, on its template: near each end, clear of lines, sizes and ticks where there
is room for that, as the steps call them."""

from collections.abc import Iterable, Iterator

from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box, Path
from docgen.pages.drawn.labels import READABLE_MM, LabelLine, Room, make_room, place_label, place_lines, take_boxes
from docgen.pages.drawn.piece_drawing import piece_lines
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Mark, PathMark, TextMark
from docgen.resolve import STRIP_ENDS, Piece, strip_ends

NEAR_END_MM = (12.0, 25.0, 40.0, 60.0, 90.0)  # how much of an end is looked at for its name, one after the other
WHOLE_CELL_MM, END_CELL_MM = 1.0, 0.5
CLEAR_MM = 1.0, 0.4, 0.1  # round a name, which has white in its own leading; the most for which there is room
TICK_MM = 6.0  # no tick of a stitch line is longer
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


def _near_end(room: Room, box: Box, style: PatternStyle, word: str, *, is_low: bool) -> Iterator[tuple[TextMark, ...]]:
    """The ways to set a name: well clear, and ever farther from the end; then less clear."""
    line = LabelLine(text=word, size_mm=style.label_type_mm, face="bold")
    for clear_mm in CLEAR_MM:
        for near_mm in (mm for mm in NEAR_END_MM if mm < box.height / 2):
            low, high = (box.bottom + near_mm, box.top) if is_low else (box.bottom, box.top - near_mm)
            near = take_boxes(room, [Box(box.left, low, box.right, high)])
            yield place_label(near, (line,), (0.0, 90.0), clear_mm=clear_mm)


def name_end(piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], shown: Box, end: str) -> tuple[TextMark, ...]:
    """The strap's name and which end this is, as the steps call it, inside what is shown of it: on one line, on two, or on
    two apart; its end alone where there is no room for both."""
    torn = (
        Box(shown.left, shown.bottom, shown.right, shown.bottom + ZIGZAG_MM)
        if end == "end"
        else Box(shown.left, shown.top - ZIGZAG_MM, shown.right, shown.top)
    )
    room = _make_room(piece, marks, box_path(shown), torn, cell_mm=END_CELL_MM)
    return next(filter(None, _ways_to_name(room, style, piece.title, _end_word(piece, end))), ())


def _ways_to_name(room: Room, style: PatternStyle, title: str, word: str) -> Iterator[tuple[TextMark, ...]]:
    one, above, own, alone = (
        LabelLine(text=text, size_mm=style.label_type_mm, face="bold")
        for text in (f"{title}, {word}", f"{title},", title, word)
    )
    angles = (90.0, 0.0)
    for clear_mm in CLEAR_MM:
        yield place_label(room, (one,), angles, clear_mm=clear_mm)
        yield place_label(room, (above, alone), angles, clear_mm=clear_mm)
        yield place_lines(room, (own, alone), angles, READABLE_MM, clear_mm=clear_mm)
    for clear_mm in CLEAR_MM:
        yield place_label(room, (alone,), angles, clear_mm=clear_mm)


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
