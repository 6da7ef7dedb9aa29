"""The names of what lands on a piece: inside its dotted outline, near the top or in the corner, clear of every line."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from docgen.fonts import text_width_mm
from docgen.geometry.outline import outline_path
from docgen.geometry.shapes import Box, Path, Point
from docgen.pages.drawn.labels import (
    LabelLine,
    Room,
    find_free_box,
    label_size,
    make_room,
    set_label,
    spaced_box,
    take_boxes,
)
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Mark, TextMark
from docgen.resolve import Landing, Piece, StrapLanding

CLEAR_MM = 1.8, 0.6  # white round a name; the first where there is room for it
CORNER_WIDTHS = (
    3.0  # in an outline so many times as wide as its name, that stands in the corner, apart from the piece's
)


def landing_labels(
    piece: Piece, lines: Iterable[Path | Box], style: PatternStyle, taken: Iterable[Mark]
) -> Iterator[TextMark]:
    """The name of each piece and strap where it lands; `lines` and marks that are `taken` are kept clear, words so far
    that none are read on where there is room. One without room for it has none."""
    landings: tuple[Landing | StrapLanding, ...] = (*piece.marks.landings, *piece.strap_landings)
    lines, held = tuple(lines) if landings else (), list(taken)
    bands = [skive.band for skive in piece.marks.skives]
    for landing in landings:
        clear = make_room(landing.outline, (outline_path(piece.outline), *lines), bands)
        rooms = (take_boxes(clear, map(box_of, held)) for box_of in (_spaced, mark_box))
        ways = (
            _place(room, told, angle, clear_mm)
            for room in rooms
            for clear_mm in CLEAR_MM
            for told in _wrap(landing.title, style)
            for angle in (0.0, 90.0)
        )
        name = next(filter(None, ways), ())
        held += name
        yield from name


def _spaced(mark: Mark) -> Box:
    return spaced_box(mark) if isinstance(mark, TextMark) else mark_box(mark)


def _wrap(title: str, style: PatternStyle) -> Iterator[tuple[LabelLine, ...]]:
    """The name on one line, then on two that are as wide as each other, nearly."""
    size, words = style.small_type_mm, title.split()
    ways = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    two = min(ways, key=lambda lines: max(text_width_mm(line, "regular", size) for line in lines), default=())
    for told in ((title,), two) if title else ():
        if told:
            yield tuple(LabelLine(text=line, size_mm=size) for line in told)


def _place(room: Room, lines: tuple[LabelLine, ...], angle_deg: float, clear_mm: float) -> tuple[TextMark, ...]:
    """Near the top of what lands there, in the corner where that is wide; nothing where there is no room."""
    width_mm, height_mm = label_size(lines)[:: 1 if angle_deg == 0.0 else -1]
    box = room.box
    left = box.left if box.width > CORNER_WIDTHS * width_mm else box.centre.x - width_mm / 2 - clear_mm
    near = Point(left, box.top - height_mm - 2 * clear_mm)
    free = find_free_box(room, width_mm + 2 * clear_mm, height_mm + 2 * clear_mm, near)
    return set_label(lines, free, angle_deg) if free else ()


def names_left_out(piece: Piece, texts: Iterable[str]) -> tuple[str, ...]:
    """Titles of what lands on the piece that stand nowhere among the texts drawn on it, on one line or on two."""
    texts = tuple(texts)
    said = {*texts, *map(" ".join, pairwise(texts))}
    titles = [landing.title for landing in piece.marks.landings] + [landing.title for landing in piece.strap_landings]
    return tuple(title for title in dict.fromkeys(titles) if title and title not in said)
