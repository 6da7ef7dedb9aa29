"""A pocket on a pocket of which a seam names one alone. That what is written first lies beneath, and is pressed first, is
common practice, no published source. Thicknesses are sums of what the spec says.
"""

from collections.abc import Callable

import pytest
from step_lines import lines

from docgen.assemble import Assembled, pile_seam
from docgen.plan import plan_work

LOW, HIGH = (f'{{ piece = "{name}", at = "0 from right, 0 from bottom" }}' for name in ("low", "high"))
BUILD = """\
<rectangle base: ["200 mm", "150 mm"]>
<rectangle panel of thin: ["200 mm", "150 mm"]>
landings = [%s, %s]
<rectangle low of thin: ["90 mm", "120 mm"]>
<rectangle high of thin: ["90 mm", "80 mm"]>
<seam side: [%s]>
<seam round: ["panel: left bottom right", "base: left bottom right"]>
[[steps]]
do = "Burnish the mouths of the pockets."
pieces = ["low", "high"]
[[steps]]
do = "Lay both pockets on the panel and sew their inner side."
seams = ["side"]
tools = ["contact cement"]
[[steps]]
do = "%s"
seams = ["round"]
tools = ["contact cement"]
"""
Made = Callable[..., Assembled]


@pytest.fixture
def make(resolve_text: Callable[[str], Assembled]) -> Made:
    """The build with its pockets written in this order, what the seam of their side meets, and its last step."""

    def build(
        lands: tuple[str, str], meet: str = '"low: left", "panel"', do: str = "Sew the panel to the base."
    ) -> Assembled:
        return resolve_text(BUILD % (*lands, meet, do))

    return build


def pile_of(build: Assembled, seam: str, part: str) -> list[str]:
    """The layers of a seam where a part is among them."""
    once = next(one for one in build.assembly.sewn if one.seam == seam)
    piles = ([ply.part for ply in pile] for pile in pile_seam(build, once))
    return next((pile for pile in piles if part in pile), [])


def test_what_no_seam_names_lies_over_what_is_written_before_it(make: Made) -> None:
    """A pocket of 1 mm on one of 1 mm on a panel of 1 mm."""
    build = make((LOW, HIGH))
    assert pile_of(build, "side", "high") == ["high", "low", "panel"]
    assert pile_of(build, "round", "high")[:3] == ["high", "low", "panel"]
    assert build.assembly.stack("side").thickest_mm == pytest.approx(3)
    assert not [one for one in build.cautions if one.check == "landing-unheld"]


@pytest.mark.parametrize("meet", ['"low: left", "panel"', '"high", "low: left", "panel"'])
def test_it_is_laid_and_pressed_down_with_what_lies_beneath(make: Made, meet: str) -> None:
    plan = plan_work(make((LOW, HIGH), meet))
    assert not any("lay high on it" in words for words in lines(plan, 1))
    told = lines(plan, 2)
    assert sum("lay high on it" in words for words in told) == 1
    assert any("press first low, then high down" in words for words in told)


def test_what_the_words_of_a_later_step_lay_lies_there_then(make: Made) -> None:
    """The first row goes through 1 mm on 1 mm; the last through both pockets, the panel and 2 mm of the base."""
    build = make((LOW, HIGH), do="Lay high over low and sew the panel to the base.")
    assert pile_of(build, "side", "low") == ["low", "panel"]
    assert pile_of(build, "round", "high")[:3] == ["high", "low", "panel"]
    assert build.assembly.stack("side").thickest_mm == pytest.approx(2)
    assert build.assembly.stack("round").thickest_mm == pytest.approx(5)
    told = plan_work(build)
    assert not any("lay high on it" in words for words in lines(told, 2))
    assert any("lay high on it" in words for words in lines(told, 3))


def test_what_is_written_first_is_pressed_down_first(make: Made) -> None:
    build = make((HIGH, LOW), '"low: left", "high", "panel"')
    assert pile_of(build, "side", "high") == ["low", "high", "panel"]
    assert any("press first high, then low down" in words for words in lines(plan_work(build), 2))


def test_what_lies_beneath_all_is_there_before_it(make: Made) -> None:
    """Written first, a pocket lies there as the panel is taken in hand, before the seam that sews another over it."""
    build = make((HIGH, LOW))
    laid = {copy.part: at for host, copy, at in build.assembly.laid if host.part == "panel"}
    assert laid["high"] == laid["low"]
    assert pile_of(build, "side", "high") == ["low", "high", "panel"]
