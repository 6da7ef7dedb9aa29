"""What `check` asks of a part that is lapped over an edge of a piece and lands on it as well. Common practice, no published
source: one of the two says where it lies, and both together count the lap twice."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]
FLAP = """\
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "flap", at = "centre, 6 mm from top" }]
<rectangle flap: ["200 mm", "120 mm"]>
<seam flap: ["flap: top", "back: top"]>
lap = "14 mm"
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("lapped_and_landed")


@pytest.mark.parametrize(
    "silent",
    [
        ('lap = "14 mm"\n', ""),
        ('"back: top"]>\nlap = "14 mm"', '"back"]>'),
        ('landings = [{ piece = "flap", at = "centre, 6 mm from top" }]\n', ""),
    ],
)
def test_a_flap_with_a_lap_and_a_landing_is_asked_about(ask: Ask, silent: tuple[str, str]) -> None:
    (told,) = ask(FLAP)
    assert told.startswith("18:")
    assert '"flap" is lapped over an edge of "back" by the seam "flap"' in told
    assert ask(FLAP.replace(*silent)) == []
