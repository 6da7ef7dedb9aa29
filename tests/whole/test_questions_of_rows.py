"""What `check` asks of two rows along one edge, of two places of one part that nearly agree, and of edges of goods.

Parts of an edge are added up by hand; which cloth melts is common practice, no published source.
"""

from collections.abc import Callable

import pytest

from docgen.checks import resolve_variants
from docgen.checks.naming import tell_measures
from docgen.checks.questions import ask_maker
from docgen.problems import Place
from docgen.read import Spec

Ask = Callable[..., list[str]]

# 100 mm high: the upper row goes down both sides to 76 mm above the bottom.
LOOP = """\
<rectangle back: ["90 mm", "200 mm"]>
landings = [{ piece = "loop", at = "centre, 40 mm from bottom" }]
<bare front>
<seam>
<rectangle loop: ["40 mm", "100 mm"]>
<seam upper: ["loop: left top right from bottom 76 mm to bottom 76 mm", "back"]>
<seam lower: ["loop: left bottom right from top 76 mm to top 76 mm", "back"]>
"""
TABBED = """\
<rectangle back: ["90 mm", "200 mm"]>
holes = [
  { at = "centre, 44 mm from bottom", punch = "3 mm", takes = "rivet" },
  { at = "centre, 35 mm from bottom", punch = "3 mm", takes = "rivet" },
]
<bare front>
<seam>
<hardware rivet: 2, double-cap rivet>
"""
CLOTH = '[materials.lining]\ntitle = "TITLE"\nkind = "fabric"\nthickness = "0.3 mm"\nwidth = "140 cm"\n'
INNER = '<back>\n<bare front>\n<seam>\n<rectangle inner of lining: ["80 mm", "60 mm"]>\n'


def test_rows_on_parts_of_an_edge_that_meet_are_asked_about(ask_only: Callable[..., Ask]) -> None:
    """Down to 24 mm from the top, and up to 24 mm from the bottom: apart; up to 90 mm from there: 14 mm of both."""
    ask = ask_only("held")
    told = '"upper" sews the left of "loop" on "back", as "lower" does'
    longer = ("from top 76 mm to top 76 mm", "from top 10 mm to top 10 mm")
    assert not [words for words in ask(LOOP) if "as " in words and "sews the left" in words]
    assert any(
        told in words or told.replace("upper", "?").replace("lower", "upper").replace("?", "lower") in words
        for words in ask(LOOP, longer)
    )


def test_two_holes_in_a_row_are_no_slip(ask_only: Callable[..., Ask]) -> None:
    """One above the other they cannot agree; on both sides of the middle they can."""
    ask = ask_only("entries")
    left = ("centre, 44 mm from bottom", "20 mm from left, 44 mm from bottom")
    right = ("centre, 35 mm from bottom", "20 mm from right, 35 mm from bottom")
    assert not ask(TABBED)
    assert any("like it in all else" in words for words in ask(TABBED, left, right))


@pytest.mark.parametrize(
    ("title", "finish"),
    [
        ("cotton lining, striped", "pinked"),
        ("waxed canvas, polyester and cotton", "pinked"),
        ("nylon pack cloth", "sealed with a flame"),
        ("polyester lining", "sealed with a flame"),
    ],
)
def test_only_cloth_that_melts_is_to_be_sealed(title: str, finish: str, short_spec: Callable[..., Spec]) -> None:
    spec = short_spec(CLOTH.replace("TITLE", title) + INNER)
    answers = [one.answer for one in ask_maker(spec, resolve_variants(spec)) if 'the cut edges of "lining"' in one.what]
    assert answers == [f'write edges = "{finish}", or edges = "left as cut", in its table']


@pytest.mark.parametrize(
    ("words", "is_told"),
    [
        ("loop: left top right from bottom 76 mm to top 5 mm", False),
        ("12 mm from top, centre", False),
        ("loop: left top right from bottom top to bottom 5 mm", True),
        ("top from bottom, centre", True),
    ],
)
def test_an_edge_is_no_measure_of_its_name(words: str, is_told: bool, short_spec: Callable[..., Spec]) -> None:
    """What a place is measured from, and where a run ends, is an edge; a length that stands there is a measure."""
    spec = short_spec('[measures]\ntop = "10 mm"\n' + LOOP)
    line = next(item.length.place.line for item in spec.measures)
    told = tell_measures(Place(path="a.toml", line=99, column=1, words=f'"{words}"'), spec)
    assert told == (f'"top" on line {line}' if is_told else "")


WALLED = """\
<strip side: ["40 mm", "120 mm"]>
cut = 2
holes = [{ at = "centre, 20 mm from end", punch = "3 mm", takes = "rivet" }]
landings = [{ piece = "tab", at = "centre, 10 mm from end" }]
<strip base: ["40 mm", "solve"]>
<rectangle tab: ["18 mm", "40 mm"]>
cut = 2
holes = [{ at = "centre, 10 mm from bottom", punch = "3 mm", takes = "rivet", through = ["gusset"] }]
<back>
<bare front>
<join gusset: ["side", "base", "side"], 12 mm>
<seam back: ["back: left bottom right", "gusset: left"]>
<seam front: ["front: left bottom right", "gusset: right"]>
<hardware rivet: 2, double-cap rivet>
"""
# The right half of a cover, with a panel laid into it.
COVER = """\
<rectangle cover: ["200 mm", "90 mm"]>
round = { bottom-left = "6 mm", bottom-right = "6 mm" }
<rectangle panel: ["90 mm", "85 mm"]>
round = { bottom-right = "6 mm" }
<seam round: ["panel: bottom right", "cover: bottom right from right 90 mm to top 5 mm"]>
"""


def test_a_part_that_lands_on_a_strip_of_a_join_is_told_by_its_holes(ask_only: Callable[..., Ask]) -> None:
    """It is written where it lies: on a strip that comes twice in one join it lies on both; of one in two joins what is
    missing is what its own holes go through."""
    ask = ask_only("untold")
    told = '"tab" lands on "side", a strip of "gusset", and its holes do not say that they go through that'
    bare, seams = (', through = ["gusset"]', ""), [line for line in WALLED.splitlines() if line.startswith("<seam")]
    apart = [
        ("<back>\n<bare front>\n", ""),
        (
            '<join gusset: ["side", "base", "side"], 12 mm>',
            '<join gusset: ["side", "base"], 12 mm>\n<join other: ["side", "base"], 12 mm>',
        ),
        ('<strip base: ["40 mm", "solve"]>', '<strip base: ["40 mm", "200 mm"]>\ncut = 2'),
        *(
            (seam, f'<seam {k}: ["gusset: {k}", "other: {k}"]>')
            for k, seam in zip(("left", "right"), seams, strict=True)
        ),
    ]
    assert any(told in words for words in ask(WALLED, bare, *apart))
    assert not [words for words in ask(WALLED, bare) if '"tab"' in words]
    assert not [words for words in ask(WALLED) if '"tab"' in words]


def test_the_panel_stays_and_the_part_of_the_cover_is_changed(short_spec: Callable[..., Spec]) -> None:
    """The panel is sewn by whole edges, beside its round corner; of the cover only a part is, and that part may lie on the
    other side as well. Followed, nothing more is asked of it."""
    spec = short_spec(COVER)
    found = [one for one in ask_maker(spec, resolve_variants(spec)) if "faces out" in one.what]
    assert len(found) == 1
    assert 'write left bottom from top 5 mm to left 90 mm for "cover"' in found[0].answer
    mended = short_spec(COVER, ("bottom right from right 90 mm to top 5 mm", "left bottom from top 5 mm to left 90 mm"))
    assert not [one for one in ask_maker(mended, resolve_variants(mended)) if "faces out" in one.what]
