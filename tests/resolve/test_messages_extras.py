"""Straps of two layers, keepers, hardware, room and money: every message whole."""

import pytest
from short_specs import BELT, BUCKLE, KEEPER, PANELS
from spec_text import Tell

MESSAGES = {
    "a lining without doubling": (
        BUCKLE + BELT + 'lining = "body"\n',
        """\
a.toml:28: error: the strap "belt" has a lining, and is not doubled
    written: "body"
    mend:    write doubled = true, or leave lining out
""",
    ),
    "a number of nothing": (
        BUCKLE + BELT.replace('takes = "rivet", ', ""),
        """\
a.toml:27: error: "number" counts hardware, and none is named
    written: 2
    mend:    add takes = the name of hardware
""",
    ),
    "a square end that is riveted": (
        BUCKLE + BELT.replace('{ shape = "square" }', '{ shape = "square", takes = "rivet" }'),
        """\
a.toml:27: error: "takes" belongs to a turned end, and this one is square
    written: "rivet"
    mend:    write shape = "turned", or leave it out
""",
    ),
    "a keeper with a length": (
        BUCKLE + BELT + KEEPER + 'finished = "90 mm"\n',
        """\
a.toml:32: error: "finished" has no meaning for the keeper "loop": the strap it holds gives its length
    written: "90 mm"
    mend:    leave it out
""",
    ),
    "a keeper of itself": (
        BUCKLE + BELT + KEEPER.replace('"belt"', '"loop"'),
        """\
a.toml:31: error: the keeper "loop" goes round a keeper
    written: "loop"
    mend:    name the strap that it holds
""",
    ),
    "a part that has its own mistake is there": (
        PANELS.split("skives")[0]
        + 'holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet", through = ["tab"] }]\n'
        + '[hardware.rivet]\nwhat = "rivet"\ncount = 1\n'
        + '[pieces.tab]\nof = "bdoy"\nshape = "rectangle"\nsize = ["20 mm", "40 mm"]\n',
        """\
a.toml:23: error: of = "bdoy", but there is no [materials.bdoy]
    written: "bdoy"
    mend:    did you mean "body"?
""",
    ),
    "a part that is not there": (
        BUCKLE
        + BELT
        + PANELS.split("skives")[0]
        + 'holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet", through = ["bolt"] }]\n',
        """\
a.toml:32: error: there is no piece, join or strap "bolt"
    written: "centre, middle"
    mend:    did you mean "belt"?
""",
    ),
    "things without room": (
        PANELS.split(", { edges")[0]
        + "]\n<bare front>\n"
        + '[[holds]]\nwhat = "book"\nsize = ["1 mm", "2 mm", "3 mm"]\n'
        + '[seams.s]\nstitch = "main"\nmeet = ["back: left", "front: left"]\n',
        """\
a.toml:22: error: the spec says what goes in, and not how much room there is; from the pieces it does not follow
    written: [[holds]]
    mend:    add [inside] with width, height and depth
""",
    ),
    "a price that is no way to buy": (
        BUCKLE + 'price = "3 per m"\n' + BELT,
        """\
a.toml:23: error: this is a price for a length, which is no way to buy it
    written: "3 per m"
    mend:    write "3 each"
""",
    ),
    "labour by the piece": (
        BUCKLE + BELT + '[costs]\nlabour = "3 each"\n',
        """\
a.toml:29: error: this is a price for one item, which is no way to buy it
    written: "3 each"
    mend:    write "3 per hour"
""",
    ),
}


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_of_straps_hardware_and_money_is_told_whole(messages: Tell, case: str) -> None:
    text, expected = MESSAGES[case]
    assert messages(text) == expected
