"""Names among other words: a helper at the bench must see where one ends and the next begins."""

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.plan import spoken
from docgen.plan.names import call_hardware
from tests.by_hand import make_hardware
from tests.demos import PATHS, demo_build
from tests.step_lines import lines, variant


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("Upper pocket, left", '"Upper pocket, left"'),
        ("Side, left and right", '"Side, left and right"'),
        ("Front and back", '"Front and back"'),
        ("Lining: front", '"Lining: front"'),
        ("Upper left pocket", "Upper left pocket"),
        ("Band", "Band"),  # no word of its own is an "and"
        ("Cordovan", "Cordovan"),
        ('The "flap", long', 'The "flap", long'),  # quotes in quotes are no help
    ],
)
def test_a_name_that_has_what_parts_names_stands_in_quotes(name: str, told: str) -> None:
    assert spoken(name) == told


def test_hardware_is_called_as_shortly_as_no_other_of_the_build() -> None:
    ring = make_hardware("ring", "D ring, 1 in, hangs in the loop", 2)
    small, buckle = (
        replace(ring, name="small", what="D ring, 3/4 in"),
        replace(ring, name="buckle", what="buckle, 1 in"),
    )
    assert call_hardware([ring, buckle]) == {"ring": "D ring", "buckle": "buckle"}
    assert call_hardware([ring, small])["ring"] == "D ring (1 in)"
    alike = replace(small, what="D ring, 1 in, on the strap")
    assert call_hardware([ring, alike])["small"] == "D ring (1 in, on the strap)"
    assert call_hardware([ring, replace(small, what=ring.what)])["ring"] == "D ring (1 in, hangs in the loop)"


def test_every_line_of_the_wallet_has_its_left_and_right_pockets_in_quotes(tmp_path: Path) -> None:
    """Two pockets with a comma in their names; each stands between its quotes wherever a line speaks of it."""
    commas = [(f'"Left {high} pocket"', f'"{high.capitalize()} pocket, left"') for high in ("upper", "lower")]
    plan = variant(tmp_path, "wallet", *commas)
    found = [line for step in (1, 2, 3, 4) for line in lines(plan, step)]
    named = [line for line in found if "pocket, left" in line]
    assert len(named) > 4
    for line in named:
        assert line.count("pocket, left") == line.count('pocket, left"')
        assert line.count("pocket, left") == line.count('"Upper pocket, left') + line.count('"Lower pocket, left')


@pytest.mark.parametrize("name", PATHS)
def test_no_name_of_a_demo_or_starter_needs_quotes_and_no_notch_of_its_leather_is_without_a_mate(name: str) -> None:
    """A notch of one piece meets one of the other along a seam of leather; linings are cut without."""
    build = demo_build(name)
    leather = {material.name for material in build.materials if material.kind == "leather"}
    parts = {piece.name: piece for piece in build.pieces if piece.material in leather}
    joined = {join.name: join.pieces for join in build.joins}
    titles = [part.title for part in (*build.pieces, *build.straps, *build.materials)]
    assert [spoken(title) for title in titles] == titles
    for seam in build.seams:
        sides = [side for side in seam.sides if {*joined.get(side.part, (side.part,))} & parts.keys() and side.edges]
        marked = [
            any(
                notch.edge in side.edges
                for one in joined.get(side.part, (side.part,))
                for notch in parts[one].marks.notches
            )
            for side in sides
        ]
        assert len({*marked}) < 2, seam.name
