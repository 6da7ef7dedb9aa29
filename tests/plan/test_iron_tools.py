"""Who marks stitches with an iron needs it to hand, and a mallet to strike it, in every step that is sewn so."""

from pathlib import Path

from spec_text import HEAD, write_out

from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.read import read_spec

SPEC = """\
<back>
<front>
[irons.three]
title = "no. 8"
pitch = "3 mm"
teeth = 6
[stitches.saddle]
by = "hand"
thread = "0.8 mm waxed polyester"
iron = "three"
inset = "4 mm"
[seams.one]
stitch = "saddle"
meet = ["back: left", "front: left"]
[seams.two]
stitch = "saddle"
meet = ["back: right", "front: right"]
<step "Sew the left.": seams = ["one"]>
tools = ["stitching chisel, 3 mm"]
<step "Sew the right.": seams = ["two"]>
"""


def tools(tmp_path: Path, text: str) -> list[tuple[str, ...]]:
    path = tmp_path / "a.toml"
    path.write_text(HEAD + write_out(text), encoding="utf-8")
    return [step.tools for step in plan_work(resolve_build(read_spec(path))).steps]


def test_it_is_called_as_another_step_calls_it(tmp_path: Path) -> None:
    first, second = tools(tmp_path, SPEC)
    assert "stitching chisel, 3 mm" in second
    assert "mallet" in first
    assert "mallet" in second


def test_where_no_step_names_it_it_is_a_pricking_iron(tmp_path: Path) -> None:
    found = tools(tmp_path, SPEC.replace('tools = ["stitching chisel, 3 mm"]\n', ""))
    assert ["pricking iron" in each for each in found] == [True, True]


def test_a_machine_or_an_awl_alone_asks_for_none(tmp_path: Path) -> None:
    text = SPEC.replace('iron = "three"\n', 'pitch = "3 mm"\n')
    assert not any("pricking iron" in each for each in tools(tmp_path, text.replace("stitching chisel, 3 mm", "awl")))


def test_needles_and_a_pony_are_called_as_another_step_calls_them(tmp_path: Path) -> None:
    """They are laid out once: a step that names none takes those of the other."""
    own = ["harness needles", "stitching clam"]
    found = tools(tmp_path, SPEC.replace('"stitching chisel, 3 mm"', ", ".join(f'"{tool}"' for tool in own)))
    for each in found:
        assert {*own} <= {*each}
        assert {"2 hand needles", "stitching pony"}.isdisjoint(each)
    for each in tools(tmp_path, SPEC):
        assert {"2 hand needles", "stitching pony"} <= {*each}, "where no step names any"
