from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.assemble import Assembly, assemble
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec
from docgen.resolve import Build, resolve_build

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
def resolve_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Build]:
    """Resolves these lines after the head, as the file `a.toml` of the present folder."""
    monkeypatch.chdir(tmp_path)

    def resolve(text: str) -> Build:
        Path("a.toml").write_text(HEAD + text, encoding="utf-8")
        return resolve_build(read_spec("a.toml"))

    return resolve


@pytest.fixture
def put_together(resolve_text: Callable[[str], Build]) -> Callable[[str], Assembly]:
    """How these lines after the head go together."""
    return lambda text: assemble(resolve_text(text))


@pytest.fixture
def doubts(put_together: Callable[[str], Assembly]) -> Callable[[str], str]:
    """The doubts of an assembly, as a person reads them."""
    return lambda text: "".join(render_problem(problem) + "\n" for problem in put_together(text).doubts)


@pytest.fixture
def messages(resolve_text: Callable[[str], Build]) -> Callable[[str], str]:
    """The problems of a spec that is rejected, as a person reads them."""

    def tell(text: str) -> str:
        with pytest.raises(SpecRejected) as caught:
            resolve_text(text)
        return "".join(render_problem(problem) + "\n" for problem in caught.value.problems)

    return tell
