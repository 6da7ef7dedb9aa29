"""Cautions that are accepted with a reason, and acceptances that cannot be meant."""

import pytest
from spec_text import Resolve, Tell

from docgen.checks.trade import CHECKS

RISKY = """\
<back>
holes = [{ at = "100 mm from left, 5 mm from top", punch = "4 mm" }]
<bare front>
holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]
<seam>
[[accept]]
check = "hole-near-edge"
at = "back"
reason = "a metal plate holds it"
"""


def test_an_accepted_caution_moves_to_those_accepted_with_its_reason(resolve_text: Resolve) -> None:
    build = resolve_text(RISKY)
    assert [problem.at for problem in build.cautions] == ["front"]
    (accepted,) = build.accepted
    assert (accepted.problem.check, accepted.problem.at) == ("hole-near-edge", "back")
    assert accepted.reason == "a metal plate holds it"


def test_without_a_part_every_caution_of_the_check_is_accepted(resolve_text: Resolve) -> None:
    build = resolve_text(RISKY.replace('at = "back"\nreason', "reason"))
    assert build.cautions == ()
    assert [accepted.problem.at for accepted in build.accepted] == ["back", "front"]


FIGURED = RISKY.replace("reason", 'figures = "4 mm, 5 mm"\nreason')


def test_an_accepted_caution_lapses_when_its_figures_change(resolve_text: Resolve) -> None:
    """A hole of 4 mm, its middle 5 mm from the edge."""
    build = resolve_text(FIGURED)
    assert [(one.problem.at, one.problem.check) for one in build.accepted] == [("back", "hole-near-edge")]
    assert [one.at for one in build.cautions] == ["front"]
    later = resolve_text(FIGURED.replace("5 mm from top", "4 mm from top"))
    assert later.accepted == ()
    told = {one.at: one for one in later.cautions}
    assert set(told) == {"back", "front"}
    assert told["back"].what.endswith("; it is accepted at 4 mm, 5 mm (line 26)")
    assert told["back"].mend.endswith('; or write figures = "4 mm, 4 mm" there, if that is all right too')


def test_an_acceptance_with_figures_that_meets_nothing_is_told(resolve_text: Resolve) -> None:
    build = resolve_text(FIGURED.replace("5 mm from top", "20 mm from top"))
    assert [one.what for one in build.cautions if one.at != "front"] == [
        'nothing is found by "hole-near-edge" at "back", so that there is nothing to accept'
    ]


def test_an_acceptance_meets_one_caution_of_two_by_its_figures(resolve_text: Resolve) -> None:
    """At one part alone: the hole nearer to the edge is told."""
    two = FIGURED.replace(
        'from top", punch = "4 mm" }]',
        'from top", punch = "4 mm" }, { at = "60 mm from left, 4 mm from top", punch = "4 mm" }]',
    )
    build = resolve_text(two)
    assert [one.problem.at for one in build.accepted] == ["back"]
    assert sorted(one.at for one in build.cautions) == ["back", "front"]
    assert not any("accepted at" in one.what for one in build.cautions)


def test_an_acceptance_that_meets_nothing_is_told(cautions: Tell) -> None:
    assert cautions(RISKY.replace('at = "back"\nreason', 'at = "lid"\nreason').replace("5 mm from", "9 mm from")) == (
        """\
a.toml:26: caution: nothing is found by "hole-near-edge" at "lid", so that there is nothing to accept
    written: [[accept]]
    mend:    take it out
"""
    )


@pytest.mark.parametrize(
    ("check", "what", "mend"),
    [
        ("hole-near-egde", 'there is no check "hole-near-egde"', 'did you mean "hole-near-edge"?'),
        (
            "unequal-partners",
            'what "unequal-partners" finds stops the build, and cannot be accepted',
            "mend it, and take this out",
        ),
    ],
)
def test_what_cannot_be_accepted_is_an_error(messages: Tell, check: str, what: str, mend: str) -> None:
    told = messages(RISKY.replace('check = "hole-near-edge"', f'check = "{check}"'))
    assert f'a.toml:27: error: {what}\n    written: "{check}"\n    mend:    {mend}\n' in told


def test_an_unknown_check_far_from_all_lists_them(messages: Tell) -> None:
    told = messages(RISKY.replace('check = "hole-near-edge"', 'check = "x"'))
    risky = [check.id for check in CHECKS if not check.stops]
    assert f"    mend:    checks are {', '.join(risky)}\n" in told


THICK = """\
<flatbed that lifts {lifts}>
<leather stout: 7 mm>
<stitch own: by machine, Tex 210 bonded nylon, 6 mm, 6 mm>
machine = "flatbed"
<bag>
<rectangle pocket of stout: ["200 mm", "150 mm"]>
<rectangle side of stout: ["200 mm", "150 mm"]>
[seams.t]
stitch = "own"
meet = ["pocket: left bottom right", "side: left bottom right"]
"""
MEANT = '[[accept]]\ncheck = "thickness-unusual"\nat = "stout"\nreason = "belting, measured"\n'


@pytest.mark.parametrize(
    ("accept", "lifts", "told"),
    [
        ("", "13 mm", {"thickness-unusual"}),
        (MEANT, "13 mm", {"stack-beyond-machine"}),
        (MEANT, "14 mm", set()),
        (MEANT.replace("reason", 'figures = "8 mm, 0.5 mm, 6.5 mm"\nreason'), "13 mm", {"thickness-unusual"}),
    ],
)
def test_what_hangs_on_a_figure_is_told_once_that_is_accepted(
    resolve_text: Resolve, accept: str, lifts: str, told: set[str]
) -> None:
    """Twice 7 mm under a foot that lifts 13 or 14 mm; accepted at 8 mm, the figure is in doubt as before."""
    build = resolve_text(THICK.format(lifts=lifts) + accept)
    of = {"thickness-unusual", "stack-beyond-machine"}
    assert {caution.check for caution in build.cautions} & of == told
