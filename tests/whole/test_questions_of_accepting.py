"""What `check` asks of acceptances that hide what comes later by the same name."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

RISKY = """\
<back>
holes = [{ at = "100 mm from left, 5 mm from top", punch = "4 mm" }]
<bare front>
holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]
<seam>
[[accept]]
check = "hole-near-edge"
at = "back"
figures = "4 mm, 5 mm"
reason = "a metal plate holds it"
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("accepted")


def test_an_acceptance_at_a_part_and_its_figures_is_not_asked_about(ask: Ask) -> None:
    assert ask(RISKY) == []


def test_one_without_figures_is_asked_about(ask: Ask) -> None:
    (told,) = ask(RISKY, ('figures = "4 mm, 5 mm"\n', ""))
    assert told.endswith('"hole-near-edge" is accepted whatever its figures are')


def test_one_without_a_part_is_asked_about(ask: Ask) -> None:
    (told,) = ask(RISKY, ('at = "back"\nfigures', "figures"))
    assert told.endswith('"hole-near-edge" is accepted wherever it is found')


def test_one_of_what_has_no_figures_is_not(ask: Ask) -> None:
    idle = ('check = "hole-near-edge"\nat = "back"\nfigures = "4 mm, 5 mm"', 'check = "stitch-idle"\nat = "main"')
    assert ask(RISKY, idle, ("<seam>\n", "")) == []
