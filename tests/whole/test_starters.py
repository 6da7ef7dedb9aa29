"""The starter specs: whole builds without a caution, explained line by line."""

import re
import tomllib

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from docgen.checks import resolve_build
from docgen.cli import main
from docgen.pages.care.care_words import list_advice, load_care_words
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.starters import MARKER, STARTERS, fill_starter, list_measures
from docgen.written.units.lengths import parse_length


def resolve_starter(like, folder, sizes=None):
    path = folder / "mine.toml"
    path.write_text(fill_starter(like, "mine", sizes), encoding="utf-8")
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
    belt, keeper = resolve_starter("belt", tmp_path).straps
    # By hand: 34 in to the middle hole, 4 in from the last hole to the tip, two pitches of 1 in between.
    assert belt.worn_mm[1] == pytest.approx(34 * 25.4)
    assert belt.finished_mm == pytest.approx((34 + 4 + 2) * 25.4)
    assert keeper.keeper_for == "belt"


def test_sleeve_is_sewn_by_hand(tmp_path):
    build = resolve_starter("sleeve", tmp_path)
    assert {stitch.by for stitch in build.stitches} == {"hand"}
    assert build.show == "mm"


def in_range(measure, share):
    """A size between the ends of a measure's range, in its unit: the range is written beside it."""
    unit = measure.least.split()[-1]
    least, most = (parse_length(words) for words in (measure.least, measure.most))
    one = {"in": 25.4, "mm": 1.0}[unit]
    return f"{round((least + share * (most - least)) / one, 2):g} {unit}"


@pytest.mark.parametrize("like", STARTERS)
@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(shares=st.lists(st.sampled_from([0.0, 0.21, 0.5, 0.83, 1.0]), min_size=4, max_size=4))
def test_every_size_within_its_ranges_is_a_right_build(like, tmp_path, shares):
    measures = list_measures(like)
    sizes = {one.name: in_range(one, share) for one, share in zip(measures, shares, strict=False)}
    assert resolve_starter(like, tmp_path, sizes).cautions == ()
    text = fill_starter(like, "mine", sizes)
    assert {one.name: one.value for one in list_measures(like)} != sizes or text == fill_starter(like, "mine")
    written = tomllib.loads(text)["measures"]
    assert {name: written[name] for name in sizes} == sizes


@pytest.mark.parametrize("like", STARTERS)
def test_what_a_starter_is_written_with_lies_within_its_ranges(like):
    assert list_measures(like)
    for one in list_measures(like):
        assert parse_length(one.least) <= parse_length(one.value) <= parse_length(one.most)


def test_the_list_shows_every_starter_and_its_measures(capsys):
    assert main(["new", "--list"]) == 0
    shown = capsys.readouterr().out
    for like, words in STARTERS.items():
        assert re.search(rf"(?m)^{like} +{re.escape(words)}$", shown)
        assert all(f"{one.name} = {one.value}: {one.words}" in shown for one in list_measures(like))
