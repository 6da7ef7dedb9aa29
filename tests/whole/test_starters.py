"""The starter specs: whole builds without a caution, explained line by line."""

import re
import tomllib

import pytest

from docgen.checks import resolve_build
from docgen.pages.care.care_words import list_advice, load_care_words
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.starters import MARKER, STARTERS, fill_starter


def resolve_starter(like, folder):
    path = folder / "mine.toml"
    path.write_text(fill_starter(like, "mine"), encoding="utf-8")
    return resolve_build(read_spec(path))


@pytest.mark.parametrize("like", STARTERS)
def test_code_of_the_new_build_is_put_in_everywhere(like):
    text = fill_starter(like, "tool-roll")
    assert MARKER not in text
    assert tomllib.loads(text)["spec"]["code"] == "tool-roll"
    assert '"docgen check tool-roll.toml"' in text


def test_unknown_starter_is_an_error():
    with pytest.raises(KeyError, match=r"^'boat'$"):
        fill_starter("boat", "mine")


@pytest.mark.parametrize("like", STARTERS)
def test_starter_has_no_problems_and_its_steps_make_every_seam_join_and_strap(like, tmp_path):
    build = resolve_starter(like, tmp_path)
    assert build.cautions == ()
    plan = plan_work(build)
    assert not plan.is_proposed
    assert list_advice(plan, load_care_words("en"))
    for kind in ("seams", "joins", "straps"):
        made = {name for step in build.steps for name in getattr(step, kind)}
        assert made == {part.name for part in getattr(build, kind)}


@pytest.mark.parametrize("like", STARTERS)
def test_lines_are_explained_and_the_text_is_plain(like):
    lines = fill_starter(like, "mine").splitlines()
    assert sum("  # " in line for line in lines) >= 15
    assert all(line.isascii() and line == line.rstrip() for line in lines)
    assert not [line for line in lines if re.search(r"https?:|www\.|@", line)]


def test_bag_shows_what_a_bag_needs(tmp_path):
    build = resolve_starter("bag", tmp_path)
    assert [join.pieces for join in build.joins] == [("side", "base", "side")]
    assert [piece.name for piece in build.pieces if piece.is_solved] == ["base"]
    assert {material.kind for material in build.materials} == {"leather", "fabric"}
    assert [len(strap.hole_tips_mm) for strap in build.straps] == [0, 5]


def test_belt_is_measured_to_its_middle_hole(tmp_path):
    belt, keeper = resolve_starter("strap", tmp_path).straps
    # By hand: 34 in to the middle hole, 4 in from the last hole to the tip, two pitches of 1 in between.
    assert belt.worn_mm[1] == pytest.approx(34 * 25.4)
    assert belt.finished_mm == pytest.approx((34 + 4 + 2) * 25.4)
    assert keeper.keeper_for == "belt"


def test_sleeve_is_sewn_by_hand(tmp_path):
    build = resolve_starter("sleeve", tmp_path)
    assert {stitch.by for stitch in build.stitches} == {"hand"}
    assert build.show == "mm"
