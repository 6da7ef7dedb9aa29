"""Errors tell lengths in both units where a spec shows inches, as cautions do, and in millimetres alone where it shows
those. The inches are worked out by hand: 25.4 mm are one, to the nearest 1/32."""

from pathlib import Path

import pytest
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.problems import SpecRejected
from docgen.read import read_spec

SPEC = """
<spec case: Case, version 1>
show = "{show}"
<leather hide: 2 mm>
"""
WIDE = """
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
<strip side of hide: ["50.8 mm", "200 mm"]>
<strip base of hide: ["63.5 mm", "1500 mm"]>
<join g: ["side", "base"], 10 mm>
"""
HOLE = """
<rectangle back of hide: ["50.8 mm", "1270 mm"]>
holes = [{ at = "3 mm from left, 1300 mm from bottom", punch = "4 mm" }]
"""
NOTHING = """
<rectangle back of hide: ["50.8 mm - 2 in", "127 mm"]>
"""


@pytest.mark.parametrize(
    ("show", "more", "what"),
    [
        ("in", WIDE, 'the strips of "g" are not equally wide: "side" 2 in (50.8 mm) and "base" 2 1/2 in (63.5 mm)'),
        ("mm", WIDE, 'the strips of "g" are not equally wide: "side" 50.8 mm and "base" 63.5 mm'),
        ("in", HOLE, 'a hole lies outside the piece "back", which is 2 in (50.8 mm) x 50 in (1270 mm) (line {line})'),
        ("mm", HOLE, 'a hole lies outside the piece "back", which is 50.8 mm x 1270 mm (line {line})'),
        ("in", NOTHING, "this comes to 0 mm"),
    ],
)
def test_an_error_tells_lengths_as_the_spec_shows_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, show: str, more: str, what: str
) -> None:
    monkeypatch.chdir(tmp_path)
    text = write_out(SPEC.format(show=show) + more)
    Path("case.toml").write_text(text, encoding="utf-8")
    line = 1 + next((at for at, words in enumerate(text.split("\n")) if words.startswith("size")), 0)
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec("case.toml"))
    assert [problem.what for problem in caught.value.problems] == [what.replace("{line}", str(line))]


def test_words_in_quotes_stay_as_they_are_to_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = write_out(SPEC.format(show="in") + "<rectangle back of hide: [300, 127]>\n")
    Path("case.toml").write_text(text, encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec("case.toml"))
    assert caught.value.problems[0].mend == 'write "300 in" or "300 mm", quotes and all'
