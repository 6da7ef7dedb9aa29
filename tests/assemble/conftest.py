from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.assemble import Assembled, Assembly
from docgen.checks import resolve_build
from docgen.checks.trade.joining import DOUBTS
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec

# Leather of 2 mm, a lining of 0.5 mm, foam of 3 mm; stitches of 4 mm, 4 mm in from the edge.
HEAD = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
show = "mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
[materials.thin]
kind = "leather"
thickness = "1 mm"
[materials.cloth]
kind = "fabric"
thickness = "0.5 mm"
[materials.pad]
kind = "foam"
thickness = "3 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "4 mm"
"""


@pytest.fixture
def resolve_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Assembled]:
    """Resolves these lines after the head, as the file `a.toml` of the present folder."""
    monkeypatch.chdir(tmp_path)

    def resolve(text: str) -> Assembled:
        Path("a.toml").write_text(HEAD + text, encoding="utf-8")
        return resolve_build(read_spec("a.toml"))

    return resolve


@pytest.fixture
def put_together(resolve_text: Callable[[str], Assembled]) -> Callable[[str], Assembly]:
    """How these lines after the head go together."""
    return lambda text: resolve_text(text).assembly


@pytest.fixture
def doubts(resolve_text: Callable[[str], Assembled]) -> Callable[[str], str]:
    """The doubts about how a build goes together, as a person reads them."""

    def tell(text: str) -> str:
        try:
            problems = resolve_text(text).cautions
        except SpecRejected as error:
            problems = error.problems
        return "".join(render_problem(problem) + "\n" for problem in problems if problem.check in DOUBTS)

    return tell


@pytest.fixture
def messages(resolve_text: Callable[[str], Assembled]) -> Callable[[str], str]:
    """The problems of a spec that is rejected, as a person reads them."""

    def tell(text: str) -> str:
        with pytest.raises(SpecRejected) as caught:
            resolve_text(text)
        return "".join(render_problem(problem) + "\n" for problem in caught.value.problems)

    return tell
