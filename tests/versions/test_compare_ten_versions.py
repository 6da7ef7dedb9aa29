"""Ten versions of the demo bag, each changed in one known way: all that changed is told, and what to cut again."""

import tomllib
from pathlib import Path

import pytest

from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.words import list_changes

VERSIONS = tomllib.loads(Path(__file__).with_name("ten_versions.toml").read_text(encoding="utf-8"))["versions"]
NAMES = [version["name"] for version in VERSIONS]


def test_there_are_ten():
    assert len(set(NAMES)) == 10


@pytest.mark.parametrize("version", VERSIONS, ids=NAMES)
def test_what_changed_and_what_to_cut_again_is_told_exactly_and_concerns_the_same_on_the_way_back(build_bag, version):
    before, after = build_bag(), build_bag(*((edit["old"], edit["new"]) for edit in version["edits"]))
    there = compare_builds(before, after, before_label="version 3", after_label="field-bag.toml")
    assert list_changes(there) == version["said"].splitlines()
    assert [item.name for item in there.templates if not item.is_kept] == version["cut_again"]
    back = compare_builds(after, before, before_label="b", after_label="a")
    parts = [
        {(item.part, item.name) for item in comparison.changes if item.part != "step"} for comparison in (there, back)
    ]
    assert parts[0] == parts[1]
    assert {item.name for item in back.templates if not item.is_kept} == set(version["cut_again"])


@pytest.mark.parametrize(
    "edit",
    [
        (
            '["8 in", "4 3/4 in"]',
            '["8 in", "120.67 mm"]',
        ),  # 0.02 mm more than 4 3/4 in; 0.04 along the seam, down and up
        ("A lined panel bag", "A lined bag"),
        ("[pieces.pocket]", "# the pocket\n\n[pieces.pocket]"),
        ('changed = "', 'changed = "Nothing. '),
        ('version = "3"', 'version = "4"'),
    ],
    ids=["a move under 0.05 mm", "a comment", "other lines", "the note of change", "the version"],
)
def test_what_is_no_change_to_a_maker_is_none(build_bag, edit):
    comparison = compare_builds(build_bag(), build_bag(edit), before_label="a", after_label="b")
    assert comparison.changes == ()
    assert all(item.is_kept for item in comparison.templates)
    assert list_changes(comparison) == ["  no change to anything that is made; only words of the spec file differ"]


@pytest.mark.parametrize("moved_mm", [0.06, 0.1])
def test_a_move_over_a_twentieth_of_a_millimetre_is_told(build_bag, moved_mm):
    deeper = f"{120.65 + moved_mm:.2f} mm"  # 4 3/4 in are 120.65 mm
    after = build_bag(('["8 in", "4 3/4 in"]', f'["8 in", "{deeper}"]'))
    comparison = compare_builds(build_bag(), after, before_label="a", after_label="b")
    height = next(item for item in comparison.changes if item.name == "pocket").facts[0]
    assert (height.name, round(height.after - height.before, 6)) == ("height", moved_mm)
