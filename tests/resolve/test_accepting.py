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
