"""One care card: title, advice in type as large as it fits, room for a name, and the code."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from docgen.fonts import ascent_mm, descent_mm, text_width_mm, wrap_text
from docgen.geometry import Box, Point, polyline
from docgen.pages.blocks import Heading, PageStyle, Paragraph
from docgen.pages.frame import fit_text
from docgen.pages.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.tag import QUIET_MODULES, code_rows, code_size_mm, draw_code
from docgen.pages.templates import parse_words, render_words, words
from docgen.plan import Plan
from docgen.problems import Place, Problem, SpecRejected, count_words, make_error
from docgen.units import MM_PER_POINT

LARGEST_PT: Final = 9.5
LEAST_PT: Final = 7.5
STEP_PT: Final = 0.25
BODY_SIZES_MM: Final = tuple(
    (LARGEST_PT - step * STEP_PT) * MM_PER_POINT
    for step in range(round((LARGEST_PT - LEAST_PT) / STEP_PT) + 1)
)
TITLE_MM: Final = 16 * MM_PER_POINT
LEAST_TITLE_MM: Final = 11 * MM_PER_POINT
SHOP_MM: Final = 8.5 * MM_PER_POINT
LABEL_MM: Final = 7 * MM_PER_POINT
VERSION_MM: Final = 8 * MM_PER_POINT
PAYLOAD_MM: Final = 6 * MM_PER_POINT
LEAST_PAYLOAD_MM: Final = 5 * MM_PER_POINT

MARGIN_MM: Final = 7.0
LEADING: Final = 1.28
LEAST_GAP_MM: Final = 1.2
MOST_GAP_MM: Final = 3.2
BESIDE_RULE_MM: Final = 2.6
AFTER_HEADING_EM: Final = 0.5
MOST_BOUND: Final = 14
"""Letters of the last two words of a text, up to which they stay on one line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Size of a standing card, what its code says, and the longest that any card of the document says."""

    width_mm: float
    height_mm: float
    payload: str
    longest_payload: str

    @property
    def left(self) -> float:
        return MARGIN_MM

    @property
    def right(self) -> float:
        return self.width_mm - MARGIN_MM

    @property
    def code_mm(self) -> float:
        return code_size_mm(self.longest_payload)

    @property
    def quiet_mm(self) -> float:
        """White kept round the code; what the card's margin gives is not counted."""
        return QUIET_MODULES * self.code_mm / len(code_rows(self.longest_payload))

    @property
    def foot_mm(self) -> float:
        """Height of the line over the foot."""
        return MARGIN_MM + self.code_mm + self.quiet_mm + 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """A heading and the text that runs on from it."""

    heading: str
    text: str


def draw_card(plan: Plan, card: Card, style: PageStyle) -> tuple[Mark, ...]:
    """The marks of one standing card, from (0, 0). Raises SpecRejected when its words do not fit."""
    head, below = _draw_head(plan, card, style)
    room = Box(card.left, card.foot_mm + BESIDE_RULE_MM, card.right, below - BESIDE_RULE_MM)
    return (*head, *_draw_advice(plan, room), *_draw_foot(plan, card, style))


def _draw_head(plan: Plan, card: Card, style: PageStyle) -> tuple[tuple[Mark, ...], float]:
    """Title, shop and contact with a line under them; and the height of that line."""
    build, wide = plan.build, card.right - card.left
    size = min(TITLE_MM, max(LEAST_TITLE_MM, wide / text_width_mm(build.title, "bold", 1.0)))
    top = card.height_mm - MARGIN_MM
    label = words("documents")["CARE-CARD"]
    marks, y = _draw_lines((label,), "regular", LABEL_MM, card.left, top, style.help_grey)
    title, y = _draw_lines(wrap_text(build.title, "bold", size, wide), "bold", size, card.left, y)
    shop = "  ·  ".join(word for word in (build.shop.name, build.shop.contact) if word)
    below, y = _draw_lines(wrap_text(shop, "regular", SHOP_MM, wide), "regular", SHOP_MM, card.left, y - 0.4)
    y -= 1.6
    return (*marks, *title, *below, _draw_rule(card.left, card.right, y, style.thick_line_mm)), y


def _draw_lines(
    lines: Sequence[str], face: str, size: float, left: float, top: float, grey: float = 0.0
) -> tuple[tuple[TextMark, ...], float]:
    """Lines from the top down, and where the last one ends."""
    marks = tuple(
        TextMark(x_mm=left, y_mm=_baseline(top, size, row), text=line, size_mm=size, face=face, grey=grey)
        for row, line in enumerate(lines)
    )
    return marks, top - len(lines) * size * LEADING


def _baseline(top: float, size: float, row: int = 0) -> float:
    """Height of the baseline of a line, each in the middle of its own strip."""
    inside = ascent_mm(size) + descent_mm(size)
    return top - row * size * LEADING - (size * LEADING - inside) / 2 - ascent_mm(size)


def _draw_rule(left: float, right: float, y: float, width_mm: float) -> PathMark:
    return PathMark(path=polyline((Point(left, y), Point(right, y))), stroke=Stroke(width_mm))


def list_advice(plan: Plan, with_own: bool = True) -> tuple[Advice, ...]:
    """The advice for the materials, then the shop's own words, as layouts/care_card.j2 arranges them."""
    care = plan.build.care
    rendered = render_words(
        "care_card",
        advice=tuple((advice.heading, advice.text) for advice in plan.care),
        extra=care.extra if with_own else "",
        repair=care.repair if with_own else "",
    )
    listed: list[Advice] = []
    heading = ""
    for block in parse_words(rendered):
        if isinstance(block, Heading):
            heading = block.text
        elif isinstance(block, Paragraph):
            listed.append(Advice(heading=heading, text=block.text))
            heading = ""
    return tuple(listed)


def _draw_advice(plan: Plan, room: Box) -> tuple[Mark, ...]:
    """All advice in type as large as it fits, with the room that is left between the paragraphs."""
    listed = list_advice(plan)
    size = next((size for size in BODY_SIZES_MM if _over_mm(listed, size, room) <= 0), None)
    if size is None:
        raise SpecRejected([_make_problem(plan, room)])
    parts = max(1, len(listed) - 1)
    gap = min(MOST_GAP_MM, LEAST_GAP_MM - _over_mm(listed, size, room) / parts)
    marks: list[Mark] = []
    y = room.top
    for advice in listed:
        first, rest = _break_lines(advice, size, room.width)
        indent = _heading_width(advice, size)
        marks += _draw_lines((advice.heading,) if advice.heading else (), "bold", size, room.left, y)[0]
        marks += _draw_lines((first,) if first else (), "regular", size, room.left + indent, y)[0]
        below = y - size * LEADING
        drawn, y = _draw_lines(rest, "regular", size, room.left, below)
        marks += drawn
        y -= gap
    return tuple(marks)


def _heading_width(advice: Advice, size: float) -> float:
    """How far a heading pushes its text to the right."""
    return text_width_mm(advice.heading, "bold", size) + AFTER_HEADING_EM * size if advice.heading else 0.0


def _break_lines(advice: Advice, size: float, width: float) -> tuple[str, tuple[str, ...]]:
    """What stands beside the heading (nothing, where no word fits there), and the lines below it."""
    loose = _bind_last(advice.text).split(" ")
    room = width - _heading_width(advice, size)
    fitting = 0
    while fitting < len(loose) and text_width_mm(" ".join(loose[: fitting + 1]), "regular", size) <= room:
        fitting += 1
    rest = " ".join(loose[fitting:])
    return " ".join(loose[:fitting]), wrap_text(rest, "regular", size, width)


def _bind_last(text: str) -> str:
    """The text with its last two words held together, when they are short: "7 in" is not divided."""
    before, _, last = text.rpartition(" ")
    short = len(last) + len(before.rpartition(" ")[2]) <= MOST_BOUND
    return f"{before}\u00a0{last}" if before and short else text


def _count_lines(listed: Sequence[Advice], size: float, width: float) -> int:
    return sum(1 + len(_break_lines(advice, size, width)[1]) for advice in listed)


def _over_mm(listed: Sequence[Advice], size: float, room: Box) -> float:
    """How much higher than the room the advice stands with the least gaps; at most 0 where it fits."""
    gaps = LEAST_GAP_MM * max(0, len(listed) - 1)
    return _count_lines(listed, size, room.width) * size * LEADING + gaps - room.height


def _make_problem(plan: Plan, room: Box) -> Problem:
    """What is too long, and by how much."""
    care, least = plan.build.care, BODY_SIZES_MM[-1]
    bare, over = (_lines_over(list_advice(plan, with_own), room) for with_own in (False, True))
    size = f"the {care.card} care card in its smallest type"
    if bare > 0:
        what = f"title, shop and contact leave the advice {count_words(bare, 'line')} too little on {size}"
        return make_error(
            Place(path=plan.build.source_name), what, "shorten the title, or the shop's contact"
        )
    own = [("extra", care.extra, care.extra_place), ("repair", care.repair, care.repair_place)]
    named = " and ".join(name for name, text, _ in own if text)
    longest = max(own, key=lambda part: len(part[1]))
    full_line = room.width * len(longest[1]) / text_width_mm(longest[1], "regular", least)
    letters = math.ceil(over * full_line / 10) * 10
    verb = "are" if care.extra and care.repair else "is"
    what = f"{named} {verb} {count_words(over, 'line')} too long for {size}"
    return make_error(longest[2], what, f"take out about {letters} letters")


def _lines_over(listed: Sequence[Advice], room: Box) -> int:
    """How many lines of the smallest type are too many; 0 where none is."""
    least = BODY_SIZES_MM[-1]
    return max(0, math.ceil(_over_mm(listed, least, room) / (least * LEADING)))


def _draw_foot(plan: Plan, card: Card, style: PageStyle) -> tuple[Mark, ...]:
    """Two lines to write on; under them version and code in readable type; the code at the right."""
    said = words("care")
    code = draw_code(card.payload, card.right - card.code_mm, MARGIN_MM, card.code_mm)
    right = card.right - card.code_mm - card.quiet_mm - 1.0
    readable, y = _draw_payload(card.payload, card.left, right)
    version = f"{said['version']} {plan.build.version}"
    y += VERSION_MM * LEADING
    versions, _ = _draw_lines((version,), "bold", VERSION_MM, card.left, y)
    low = y + 2.0
    high = (low + card.foot_mm) / 2
    begin = card.left + 1.5 + max(text_width_mm(said[key], "regular", LABEL_MM) for key in ("for", "on"))
    marks: list[Mark] = [_draw_rule(card.left, card.right, card.foot_mm, style.hair_line_mm), code, *versions]
    for key, height in (("for", high), ("on", low)):
        marks.append(_draw_rule(begin, right, height, style.thin_line_mm))
        marks.append(
            TextMark(x_mm=card.left, y_mm=height, text=said[key], size_mm=LABEL_MM, grey=style.help_grey)
        )
    return (*marks, *readable)


def _draw_payload(payload: str, left: float, right: float) -> tuple[tuple[TextMark, ...], float]:
    """The code in readable type, broken after a slash where it can be; and the height of its top."""
    room = Box(left, 0.0, right, 3 * PAYLOAD_MM * LEADING)
    size, lines = fit_text(payload.replace("/", "/ "), "regular", room, PAYLOAD_MM, LEAST_PAYLOAD_MM)
    whole = [line.replace("/ ", "/") for line in lines]
    top = MARGIN_MM + len(whole) * size * LEADING - (_baseline(0.0, size) + size * LEADING)
    marks, _ = _draw_lines(whole, "regular", size, left, top)
    return marks, top
