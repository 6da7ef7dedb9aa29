"""What `check` asks of figures that stand far from the others, and of seams that leave out what their neighbour sews.

That a slip of one figure or name leaves such a build is plain from the work; how far is far is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

SIZES = """\
[measures]
wide = "200 mm"
[pieces.back]
of = "body"
shape = "rectangle"
size = ["wide", "150 mm"]
<front>
<seam>
[variants.small]
measures = { wide = "70 mm" }
"""
PADDED = """\
[materials.foam]
kind = "foam"
thickness = "4 mm"
<strap pad of body: 40 mm>
finished = "300 mm"
doubled = true
stitch = "main"
padding = { of = "foam", width = "20 mm", length = "200 mm" }
ends = [{ shape = "rounded" }, { shape = "rounded" }]
"""
EYELETS = """\
<back>
[[pieces.back.hole-rows]]
start = "20 mm from left, 20 mm from top"
end = "20 mm from right, 20 mm from top"
count = 6
punch = "6 mm"
takes = "eyelet"
<bare front>
<seam>
<hardware eyelet: 6, eyelet, 6 mm>
kind = "eyelet"
[trimmings.draw]
what = "cord, 4 mm"
kind = "cord"
width = "4 mm"
thickness = "4 mm"
length = "600 mm"
"""
WELTED = """\
<back>
<bare front>
[pieces.welt]
like = "back"
marks = false
shows = "flesh"
<seam foot: ["back: bottom", "welt: bottom", "front: bottom"]>
<seam side: ["back: left", "welt: left", "front: left"]>
"""

CLOSED = """\
<rectangle wall: ["336 mm", "120 mm"]>
[pieces.inner]
like = "wall"
<rectangle base: ["88 mm", "88 mm"]>
<seam side: ["wall: left", "inner: left", "wall: right", "inner: right"]>
<seam foot: ["wall: bottom from left to left 248 mm", "base: bottom right top", "inner: bottom from left to left 248 mm"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("measures")


def test_a_measure_of_a_variant_that_is_far_from_the_others_is_asked_about(ask: Ask) -> None:
    assert ask(SIZES) == []
    (told,) = ask(SIZES, ('"70 mm"', '"60 mm"'))
    assert told == '26: "wide" is 60 mm in "small", and 200 mm in [measures]'


def test_foam_that_fills_less_than_half_of_its_strap_is_asked_about(ask: Ask) -> None:
    assert ask(PADDED) == []
    (told,) = ask(PADDED, ('width = "20 mm", length', 'width = "19 mm", length'))
    assert told == '23: the foam of "pad" is 19 mm (3/4 in) wide, and the strap 40 mm (1 9/16 in)'


def test_an_end_that_comes_to_its_width_on_a_short_way_is_asked_about(ask: Ask) -> None:
    tapered = PADDED.replace('"rounded" }]', '"rounded", width = "20 mm", straight = "30 mm", taper = "10 mm" }]')
    assert ask(tapered) == []
    (told,) = ask(tapered, ('"10 mm"', '"9 mm"'))
    assert told.endswith('"pad" becomes 20 mm (25/32 in) wider or narrower on a way of 9 mm (11/32 in)')


def test_an_odd_row_of_eyelets_is_asked_about_where_there_is_a_cord(ask: Ask) -> None:
    assert ask(EYELETS) == []
    odd = (
        ("count = 6\npunch", "count = 7\npunch"),
        ("<hardware eyelet: 6, eyelet, 6 mm>", "<hardware eyelet: 7, eyelet, 6 mm>"),
    )
    (told,) = ask(EYELETS, *odd)
    assert 'the row of "back" has 7 eyelets, and "draw" drawn through them all has one end inside' in told
    assert ask(EYELETS[: EYELETS.index("[trimmings")], *odd) == []


@pytest.mark.parametrize("seam", ["foot", "side"])
def test_a_welt_left_out_of_one_seam_of_two_is_asked_about(ask: Ask, seam: str) -> None:
    assert ask(WELTED) == []
    edge, other = {"foot": ("bottom", "side"), "side": ("left", "foot")}[seam]
    (told,) = ask(WELTED, (f', "welt: {edge}"', ""))
    assert told.endswith(f'the seam "{seam}" leaves out "welt", which "{other}" sews between the same parts')
    assert (
        ask(WELTED, (f', "welt: {edge}"', ""), (', "welt: bottom"', "") if edge == "left" else (', "welt: left"', ""))
        == []
    )


def test_a_seam_that_closes_a_wall_on_itself_leaves_out_nothing(ask: Ask) -> None:
    """The base meets the foot of the wall, and has no part in its side; what one side alone sews does leave it out."""
    assert ask(CLOSED) == []
    (told,) = ask(CLOSED, ('"wall: left", "inner: left", "wall: right", "inner: right"', '"wall: left", "inner: left"'))
    assert told.endswith('the seam "side" leaves out "base", which "foot" sews between the same parts')


NAMED = """\
<rectangle wall: ["solve", "100 mm"]>
<rectangle base: ["88 mm", "88 mm"]>
round = "20 mm"
<seam side: ["wall: left", "wall: right"]>
<seam foot: ["base: left bottom right top", "wall: bottom"]>
"""


def test_a_round_corner_that_all_edges_leave_open_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    found = ask_only("sewn")

    def ask(*edits: tuple[str, str]) -> list[str]:
        return [told for told in found(NAMED, *edits) if "leaves its round corner" in told]

    (told,) = ask()
    assert told.endswith('"foot" names every edge of "base", and leaves its round corner top-left open')
    assert ask(("left bottom right top", "all")) == []
    assert ask(('round = "20 mm"\n', "")) == []
    assert ask(("left bottom right top", "left bottom right")) == []
