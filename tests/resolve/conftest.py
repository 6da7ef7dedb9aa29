from collections.abc import Callable, Iterable
from pathlib import Path

import pytest
from spec_text import Edit, write_out

from docgen.checks import resolve_build
from docgen.problems import Problem, SpecRejected, render_problem
from docgen.read import read_spec
from docgen.resolve import Build

# Thirteen lines, so that the lines of a test begin with line 14.
HEAD = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
show = "mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "4 mm"
"""


@pytest.fixture
def resolve_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Build]:
    """Resolves these lines after a small good head, as the file `a.toml` of the present folder."""
    monkeypatch.chdir(tmp_path)

    def resolve(text: str, *edits: Edit) -> Build:
        Path("a.toml").write_text(HEAD + write_out(text, *edits), encoding="utf-8")
        return resolve_build(read_spec("a.toml"))

    return resolve


def _render(problems: Iterable[Problem]) -> str:
    return "".join(render_problem(problem) + "\n" for problem in problems)


@pytest.fixture
def messages(resolve_text: Callable[..., Build]) -> Callable[[str], str]:
    """The problems of a spec that is rejected, as a person reads them."""

    def tell(text: str) -> str:
        with pytest.raises(SpecRejected) as caught:
            resolve_text(text)
        return _render(caught.value.problems)

    return tell


@pytest.fixture
def cautions(resolve_text: Callable[..., Build]) -> Callable[..., str]:
    """The cautions of a spec that is good, as a person reads them."""
    return lambda text, *edits: _render(resolve_text(text, *edits).cautions)


@pytest.fixture
def check_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], list[str]]:
    """What is wrong with a whole spec that is rejected, without places and mends."""
    monkeypatch.chdir(tmp_path)

    def check(text: str) -> list[str]:
        Path("a.toml").write_text(write_out(text), encoding="utf-8")
        with pytest.raises(SpecRejected) as caught:
            resolve_build(read_spec("a.toml"))
        return [problem.what for problem in caught.value.problems]

    return check
