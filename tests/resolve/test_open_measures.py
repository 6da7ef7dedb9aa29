"""A measure that a seam gives: worked examples, other mathematics, and every refusal whole."""

import math

import pytest
from scipy.integrate import quad
from spec_text import Resolve, Tell

from docgen.geometry.outline import outline_box

BAG = """\
[measures]
{measures}
<rectangle back: ["{width}", "150 mm"]>
round = {{ bottom-left = "30 mm", bottom-right = "30 mm" }}
<strip gusset: ["60 mm", "{length}"]>
<seam round: ["back: left bottom right", "gusset: left"]>
"""


def u_line_mm(width_mm: float, height_mm: float, radius_mm: float, inset_mm: float) -> float:
    """Length of the stitch line round three sides, its corners integrated numerically."""
    r = radius_mm - inset_mm

    def speed(turn: float) -> float:
        return math.hypot(r * math.cos(turn), r * math.sin(turn))

    corner_mm, _ = quad(speed, 0, math.pi / 2)
    return 2 * (height_mm - radius_mm) + (width_mm - 2 * radius_mm) + 2 * float(corner_mm)


def test_a_gusset_is_as_long_as_the_integral_round_its_panel(resolve_text: Resolve) -> None:
    build = resolve_text(BAG.format(measures="", width="200 mm", length="solve"))
    solved_mm = outline_box(next(p for p in build.pieces if p.name == "gusset").outline).height
    assert solved_mm == pytest.approx(u_line_mm(200, 150, 30, 4), abs=1e-6)
    assert solved_mm == pytest.approx(461.68, abs=0.005)  # geometry: 474.25 along the edge, less 4 pi


def test_a_measure_is_found_from_the_other_side(resolve_text: Resolve) -> None:
    length = f"{u_line_mm(200, 150, 30, 4):.6f} mm"
    build = resolve_text(BAG.format(measures='wide = "solve"\n', width="wide", length=length))
    assert build.solved_measures == (("wide", pytest.approx(200, abs=1e-5)),)
    assert build.seams[0].sides[0].length_mm == pytest.approx(build.seams[0].sides[1].length_mm, abs=1e-5)


def test_a_partner_that_lies_flat_under_the_seam_takes_no_part_in_it_wherever_it_is_named(
    resolve_text: Resolve,
) -> None:
    """Only sides with edges have a length along the seam: 2 x 96 + 192 = 384 mm each, the floor below has none."""
    text = """\
[measures]
wide = "solve"
<rectangle floor: ["400 mm", "300 mm"]>
landings = [{{ piece = "pocket", at = "centre, 50 mm from bottom" }}]
<rectangle pocket: ["wide", "100 mm"]>
<strip trim: ["10 mm", "384 mm"]>
<seam on: [{}]>
"""
    sides = ['"pocket: left bottom right"', '"trim: left"']
    for meet in (['"floor"', *sides], [*sides, '"floor"']):
        build = resolve_text(text.format(", ".join(meet)))
        assert build.solved_measures == (("wide", pytest.approx(200, abs=1e-5)),)


def test_other_measures_may_hang_on_it(resolve_text: Resolve) -> None:
    text = BAG.format(measures='half = "solve"\nwide = "2 * half"\n', width="wide", length="400 mm")
    build = resolve_text(text)
    assert build.solved_measures[0][1] == pytest.approx((200 - (461.681 - 400)) / 2, abs=0.001)


def test_a_build_without_open_measures_has_none(resolve_text: Resolve) -> None:
    assert resolve_text(BAG.format(measures="", width="200 mm", length="solve")).solved_measures == ()


MESSAGES = {
    "no value will do": (
        BAG.format(measures='wide = "solve"', width="wide", length="80 mm"),
        """\
a.toml:15: error: no value of "wide" makes the sides of the seam "round" equally long
    written: "solve"
    mend:    change the other side, or write a length
""",
    ),
    "two values will do": (
        # 2 (40 + t t / 50) + 80 + 26 pi = 97.68 + 5 t at t = 45 and 80
        BAG.format(measures='tall = "solve"', width="200 mm", length="97.68 mm + 5 * tall").replace(
            '"150 mm"', '"40 mm + tall * tall / (50 mm)"'
        ),
        """\
a.toml:15: error: the sides of the seam "round" are equally long with "tall" at 45 mm and at 80 mm
    written: "solve"
    mend:    write the one that is meant
""",
    ),
    "two open measures": (
        BAG.format(measures='wide = "solve"\ntall = "solve"', width="wide", length="400 mm"),
        """\
a.toml:16: error: only one measure may be "solve", and "wide" is
    written: "solve"
    mend:    write a length for this one
""",
    ),
    "nothing hangs on it": (
        BAG.format(measures='spare = "solve"', width="200 mm", length="solve"),
        """\
a.toml:15: error: nothing fixes the measure "spare"
    written: "solve"
    mend:    let one side of a seam hang on it, or write a length
""",
    ),
    "another mistake hides the seam": (
        BAG.format(measures='wide = "solve"', width="wide", length="400 mn"),
        """\
a.toml:24: error: "mn" is not a unit known here
    written: "400 mn"
    mend:    did you mean "m"?
""",
    ),
}


@pytest.mark.parametrize("case", MESSAGES)
def test_what_cannot_be_found_is_told_whole(messages: Tell, case: str) -> None:
    text, expected = MESSAGES[case]
    assert messages(text) == expected


def test_the_solved_side_may_be_the_third_partner(resolve_text: Resolve) -> None:
    """Panel, gusset, and a piping that is as long as the seam: 461.68 mm, as the integral has it."""
    length_mm = u_line_mm(200, 150, 30, 4)
    text = BAG.format(measures='cord = "solve"\n', width="200 mm", length=f"{length_mm:.6f} mm")
    text = text.replace('"gusset: left"]>', '"gusset: left", "piping: left"]>')
    build = resolve_text(text + '<strip piping: ["20 mm", "cord"]>\n')
    assert build.solved_measures == (("cord", pytest.approx(length_mm, abs=1e-5)),)


def test_a_lining_s_gusset_hangs_on_the_lining_of_its_panel(resolve_text: Resolve) -> None:
    """The panel's width is open, its lining has the panel's shape, and the lining's gusset is as long as the lining's
    seam: 200 mm wide again."""
    length_mm = u_line_mm(200, 150, 30, 4)
    text = BAG.format(measures='wide = "solve"\n', width="wide", length=f"{length_mm:.6f} mm")
    lining = (
        '[pieces.panel-lining]\nlike = "back"\nof = "body"\n'
        '<strip gusset-lining: ["60 mm", "solve"]>\n'
        '<seam lining: ["panel-lining: left bottom right", "gusset-lining: left"]>\n'
    )
    build = resolve_text(text + lining)
    assert build.solved_measures == (("wide", pytest.approx(200, abs=1e-5)),)
    solved = next(piece for piece in build.pieces if piece.name == "gusset-lining")
    assert outline_box(solved.outline).height == pytest.approx(length_mm, abs=1e-4)


def test_the_lining_s_gusset_alone_may_give_the_measure(resolve_text: Resolve) -> None:
    """Nothing but the seam of the linings holds the width."""
    length_mm = u_line_mm(200, 150, 30, 4)
    text = BAG.format(measures='wide = "solve"\n', width="wide", length="solve")
    lining = (
        '[pieces.panel-lining]\nlike = "back"\nof = "body"\n'
        f'<strip gusset-lining: ["60 mm", "{length_mm:.6f} mm"]>\n'
        '<seam lining: ["panel-lining: left bottom right", "gusset-lining: left"]>\n'
    )
    build = resolve_text(text + lining)
    assert build.solved_measures == (("wide", pytest.approx(200, abs=1e-5)),)
