"""Every seam of every ready part, topic and further build closes in space, and every hole that goes through several parts
meets; a copy of a strap is held against the hole that it lies over, not against that of another."""

import runpy
from pathlib import Path

import pytest
from demos import ROOT
from in_space import meetings
from topic_specs import lay_out_files, write_topic

from docgen.assemble import Gap, Space
from docgen.checks import resolve_variants
from docgen.read import READY, read_spec
from docgen.topics import TOPICS

CLOSED_MM, MEET_MM = 0.5, 0.1
EXAMPLE = runpy.run_path(str(ROOT / "tests" / "whole" / "test_ready_parts.py"))["example"]
FURTHER = sorted((ROOT / "tests" / "assemble" / "further").glob("*.toml"))
SHORT = sorted((ROOT / "tests" / "bench" / "slips" / "builds").glob("*.toml"))


def misses(path: Path) -> tuple[int, list[tuple[str, str, float]]]:
    """How many runs and holes are compared, and which of them do not come together."""
    count, found = 0, []
    for build in resolve_variants(read_spec(path)):
        space = build.space
        count += len(space.gaps) + len(met := meetings(space))
        wide = [gap for gap in space.gaps if gap.over_mm > CLOSED_MM and not is_dart(space, gap)]
        found += [(gap.seam, gap.other.part, gap.over_mm) for gap in wide]
        found += [one for one in met if one.apart_mm > MEET_MM]
    return count, found


def is_dart(space: Space, gap: Gap) -> bool:
    """Whether a part is sewn to itself and bulges: it is placed unsewn, and told as in doubt."""
    return gap.one == gap.other and gap.one in space.darted


@pytest.mark.parametrize("name", READY)
def test_a_ready_part_closes(tmp_path: Path, name: str) -> None:
    path = tmp_path / "built.toml"
    path.write_text(EXAMPLE(name), encoding="utf-8")
    count, found = misses(path)
    assert found == []
    assert count or name == "keepers"


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_closes(tmp_path: Path, name: str) -> None:
    lay_out_files(tmp_path)
    path = tmp_path / "key-sleeve.toml"
    path.write_text(write_topic(name), encoding="utf-8")
    assert misses(path)[1] == []


@pytest.mark.parametrize("path", [*FURTHER, *SHORT], ids=lambda path: path.stem)
def test_a_build_closes(path: Path) -> None:
    assert misses(path)[1] == []
