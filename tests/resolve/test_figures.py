"""Lengths said by those of what has a name: "hide.thickness", "main.inset"; and what is told where they cannot be."""

import pytest
from spec_text import Resolve, Tell

from docgen.geometry.outline import outline_box

PIECE = '[pieces.a]\nof = "body"\nshape = "rectangle"\nsize = ["{}", "100 mm"]\n'
GOODS = """\
[materials.thin]
kind = "leather"
thickness = "4 oz"
[hardware.ring]
what = "ring"
kind = "ring"
count = 1
inside = "25 mm"
[trimmings.loop]
what = "webbing"
kind = "webbing"
width = "ring.inside - 1 mm"
thickness = "1.5 mm"
length = "200 mm"
[straps.s]
of = "thin"
width = "20 mm"
finished = "300 mm"
"""


@pytest.mark.parametrize(
    ("words", "width_mm"),
    [
        ("100 mm + body.thickness", 102),
        ("20 * main.inset", 80),
        ("4 * ring.inside", 100),
        ("100 mm + loop.width", 124),  # itself said by the ring
        ("4 * s.width + loop.thickness", 81.5),
        # Four ounces of leather at 1/64 in each: the usual measure of the trade.
        ("100 mm + thin.thickness", 100 + 4 * 25.4 / 64),
    ],
)
def test_a_length_may_be_that_of_something_with_a_name(words: str, width_mm: float, resolve_text: Resolve) -> None:
    build = resolve_text(PIECE.format(words) + GOODS)
    assert outline_box(build.pieces[0].outline).width == pytest.approx(width_mm)


@pytest.mark.parametrize(
    ("words", "more", "what", "mend"),
    [
        ("body.thicknes", "", 'unknown measure "body.thicknes"', 'did you mean "body.thickness"?'),
        ("bodi.thickness", "", 'unknown measure "bodi.thickness"', 'did you mean "body.thickness"?'),
        (
            "2 body.thickness",
            "",
            '"body.thickness" is not a unit known here',
            'for a measure write "2 * body.thickness"',
        ),
        # Of two that are called the same neither is meant.
        (
            "20 * both.width",
            '[trimmings.both]\nwhat = "tape"\nkind = "webbing"\nwidth = "20 mm"\nthickness = "1 mm"\nlength = "1 m"\n'
            '[straps.both]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\n',
            'unknown measure "both.width"',
            "",
        ),
    ],
)
def test_one_that_is_not_there_is_told(words: str, more: str, what: str, mend: str, messages: Tell) -> None:
    told = messages(PIECE.format(words) + more)
    assert f"a.toml:17: error: {what}" in told
    assert mend in told


def test_one_that_hangs_on_itself_is_told_once(messages: Tell) -> None:
    told = messages(PIECE.format("100 mm") + GOODS.replace('"20 mm"', '"s.width + 1 mm"'))
    assert told == (
        "a.toml:34: error: goes round in a circle: s.width -> s.width\n"
        '    written: "s.width + 1 mm"\n'
        "    mend:    give one of them a length of its own\n"
    )
