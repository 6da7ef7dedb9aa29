"""Rows that begin and end at edges which are turned in already, as round a pouch below its zip. Figures by hand."""

import pytest
from spec_text import Resolve

from docgen.resolve import Build, Seam

TURNED = "turned = true\n"
POUCH = (
    "<back>\n<front>\n"
    "<zip: coil zip, 32 mm, 0.6 mm>\n"
    f'<seam near: ["front: top", "zip: left"]>\n{TURNED}<seam far: ["back: top", "zip: right"]>\n{TURNED}'
    f'<seam round: ["front: left bottom right", "back: left bottom right"]>\n{TURNED}'
)
STEPS = '<step "Sew the zip.": seams = ["near", "far"]>\n<step "Sew it round.": seams = ["round"]>\n'
INSET_MM = 4.0  # of "main"


def find_seam(build: Build, name: str) -> Seam:
    return next(seam for seam in build.seams if seam.name == name)


def test_a_row_round_a_pouch_ends_where_its_top_is_turned_in(resolve_text: Resolve) -> None:
    """Down 150 mm from the raw top, 4 mm in from the other three edges: 146 + 192 + 146, less 4 mm at each end."""
    seam = find_seam(resolve_text(POUCH + STEPS), "round")
    assert seam.length_mm == pytest.approx(484 - 2 * INSET_MM)
    assert [side.lost_mm for side in seam.sides] == [(INSET_MM, INSET_MM)] * 2


@pytest.mark.parametrize("other", ["left", "right"])
def test_a_row_down_a_side_begins_where_the_top_is_turned_in(resolve_text: Resolve, other: str) -> None:
    """150 mm from the raw top to the foot, less 4 mm at the top, from whichever end the other side runs."""
    text = POUCH[: POUCH.index("<seam round")] + f'<seam round: ["front: left", "back: {other}"]>\n{TURNED}'
    seam = find_seam(resolve_text(text + STEPS), "round")
    assert [side.length_mm for side in seam.sides] == pytest.approx([150 - INSET_MM] * 2)
    assert {tuple(sorted(side.lost_mm)) for side in seam.sides} == {(0.0, INSET_MM)}


def test_a_row_that_is_sewn_first_runs_to_the_raw_edges(resolve_text: Resolve) -> None:
    first = '<step "Sew it round.": seams = ["round"]>\n<step "Sew the zip.": seams = ["near", "far"]>\n'
    assert find_seam(resolve_text(POUCH + first), "round").length_mm == pytest.approx(484)


def test_a_seam_of_the_same_two_parts_is_sewn_across(resolve_text: Resolve) -> None:
    """Both lie flat on each other yet: the row below crosses the one at the side, and its allowance."""
    text = (
        f'<back>\n<front>\n<seam side: ["front: left", "back: left"]>\n{TURNED}'
        f'<seam foot: ["front: bottom", "back: bottom"]>\n{TURNED}'
        '<step "Sew it.": seams = ["side"]>\n<step "Sew it.": seams = ["foot"]>\n'
    )
    assert find_seam(resolve_text(text), "foot").length_mm == pytest.approx(200)


def test_a_mouth_that_is_sewn_last_goes_from_side_seam_to_side_seam(resolve_text: Resolve) -> None:
    """200 mm of panel and band, turned in by 4 mm at either side; sewn to a flap that nothing turns in they stay."""
    text = f'<back>\n<front>\n<seam round: ["front: left bottom right", "back: left bottom right"]>\n{TURNED}'
    steps = '<step "Sew it round.": seams = ["round"]>\n<step "Sew the mouth.": seams = ["mouth"]>\n'
    lined = '[pieces.band]\nlike = "front"\n<seam inner: ["band: left", "band: right"]>\n' + TURNED
    mouth = '<seam mouth: ["front: top", "band: top"]>\n'
    both = steps.replace('["round"]', '["round", "inner"]')
    assert find_seam(resolve_text(text + lined + mouth + both), "mouth").length_mm == pytest.approx(200 - 2 * INSET_MM)
    flap = '<rectangle flap: ["200 mm", "90 mm"]>\n<seam mouth: ["front: top", "flap: bottom"]>\n'
    assert find_seam(resolve_text(text + flap + steps), "mouth").length_mm == pytest.approx(200)


def test_both_tapes_of_a_zip_lie_under_the_row_that_crosses_them(resolve_text: Resolve) -> None:
    """Of each panel 2 mm, at its top the allowance and a tape of 0.6 mm besides: of the second too."""
    seam = find_seam(resolve_text(POUCH + STEPS), "round")
    assert (seam.thinnest_mm, seam.thickest_mm) == (pytest.approx(4.0), pytest.approx(2 * (2 + 2 + 0.6)))
