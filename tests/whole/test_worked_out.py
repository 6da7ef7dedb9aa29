"""A measure that a seam gives is told to the maker, by `docgen check` and by `docgen make`."""

from pathlib import Path

import pytest
from spec_text import write_out

from docgen.cli import main

SPEC = write_out("""
<spec case: Case, version 1>
show = "mm"
[measures]
width = "200 mm"
depth = {depth}
<leather hide: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
<rectangle back of hide: ["width", "150 mm"]>
<rectangle side of hide: ["60 mm", "depth + 30 mm"]>
<seam left: ["back: left", "side: left"]>
""")
VARIANTS = """
[variants.small]
measures = { width = "120 mm" }
[variants.large]
measures = { width = "240 mm" }
"""


@pytest.fixture
def write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    return lambda text: Path("case.toml").write_text(text, encoding="utf-8")


def lines(capsys: pytest.CaptureFixture[str]) -> list[str]:
    return [line for line in capsys.readouterr().out.splitlines() if line.startswith("worked out")]


def test_the_measure_that_a_seam_gives_is_told(write, capsys) -> None:
    write(SPEC.format(depth='"solve"'))
    assert main(["check", "case.toml"]) == 0
    assert lines(capsys) == ["worked out: depth = 120 mm (4 23/32 in)"]
    assert main(["make", "case.toml", "--only", "cutting-list"]) == 0
    assert lines(capsys) == ["worked out: depth = 120 mm (4 23/32 in)"]


def test_each_variant_tells_its_own(write, capsys) -> None:
    write(SPEC.format(depth='"solve"') + VARIANTS)
    assert main(["check", "case.toml"]) == 0
    told = lines(capsys)
    assert [line.split(" = ")[0] for line in told] == ["worked out: depth (small)", "worked out: depth (large)"]


def test_nothing_is_told_of_measures_that_are_written(write, capsys) -> None:
    write(SPEC.format(depth='"120 mm"'))
    assert main(["check", "case.toml"]) == 0
    assert lines(capsys) == []


def test_the_length_of_a_piece_that_a_seam_gives_is_told(write, capsys) -> None:
    """150 mm of the seam; the twin that says it is silent."""
    text = SPEC.format(depth='"120 mm"').replace('"depth + 30 mm"', '"solve"')
    write(text)
    assert main(["check", "case.toml"]) == 0
    assert lines(capsys) == ['worked out: "solve" of "side" = 150 mm (5 29/32 in)']
    write(text.replace('"solve"', '"150 mm"'))
    assert main(["check", "case.toml"]) == 0
    assert lines(capsys) == []
