"""Folds and rows of joints on a piece that changed its size: told by their distance from its sides."""

import pytest
from spec_text import HEAD, write_out

from docgen.checks import resolve_build
from docgen.read import read_spec
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.words import list_changes

FLAP = write_out("""\
<rectangle flap: ["100 mm", "{high}"]>
folds = [{{ at = "{at}" }}]
""")
STRIPS = write_out("""\
<strip one: ["{wide}", "300 mm"]>
[pieces.two]
like = "one"
[joins.gusset]
of = ["one", "two"]
overlap = "{overlap}"
stitch = "main"
""")


@pytest.fixture
def told(tmp_path):
    """told(text, text) -> the lines that tell what changed."""

    def tell(*texts: str) -> str:
        builds = []
        for place, text in enumerate(texts):
            path = tmp_path / f"{place}.toml"
            path.write_text(HEAD + text, encoding="utf-8")
            builds.append(resolve_build(read_spec(path)))
        return "\n".join(list_changes(compare_builds(*builds, before_label="a", after_label="b")))

    return tell


@pytest.mark.parametrize(
    ("high", "at", "said"),
    [
        ("220 mm", "40 mm from top", "from top: 40 mm (1 9/16 in), was 30 mm (1 3/16 in)"),
        ("210 mm", "40 mm from top", "from top: 40 mm (1 9/16 in), was 30 mm (1 3/16 in)"),
        ("220 mm", "30 mm from top", ""),
        ("220 mm", "190 mm from bottom", ""),
        ("220 mm", "180 mm from bottom", "from bottom: 180 mm (7 3/32 in), was 170 mm (6 11/16 in)"),
        ("220 mm", "middle", "from top: 110 mm (4 11/32 in), was 30 mm (1 3/16 in)"),
    ],
)
def test_a_fold_that_moved_on_a_longer_piece_is_told(told, high: str, at: str, said: str) -> None:
    """200 mm high before, the fold 30 mm from the top."""
    before = FLAP.format(high="200 mm", at="30 mm from top")
    found = told(before, FLAP.format(high=high, at=at))
    assert "height" in found
    assert ("fold" in found) == bool(said)
    assert said in found


def test_a_fold_that_stays_in_the_middle_has_not_moved(told) -> None:
    assert "fold" not in told(FLAP.format(high="200 mm", at="middle"), FLAP.format(high="220 mm", at="middle"))


def test_a_row_of_a_joint_that_moved_on_a_wider_strip_is_told(told) -> None:
    """One row lies in the middle of the overlap: 12 mm before, 15 mm after."""
    before, after = STRIPS.format(wide="60 mm", overlap="24 mm"), STRIPS.format(wide="70 mm", overlap="30 mm")
    found = told(before, after)
    assert "stitch line gusset at the end, from end: 15 mm (19/32 in), was 12 mm (15/32 in)" in found
    assert "stitch line gusset at the start, from start: 15 mm" in found
    assert "stitch line" not in told(before, STRIPS.format(wide="70 mm", overlap="24 mm"))
