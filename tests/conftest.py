"""Specs resolved from a few lines after a `head`: that of `spec_text`, but where a folder or a file has its own."""

import gc
from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import HEAD, Edit, Resolve, Tell, write_out

from docgen.__main__ import GARBAGE
from docgen.checks import resolve_build
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec
from docgen.resolve import Build

gc.set_threshold(*GARBAGE)  # as the command runs: else builds that tests keep are looked through again and again


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def head() -> str:
    return HEAD


@pytest.fixture
def resolve_text(head: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Build]:
    """Resolves these lines after the head, as the file `a.toml` of the present folder."""
    monkeypatch.chdir(tmp_path)

    def resolve(text: str, *edits: Edit) -> Build:
        Path("a.toml").write_text(head + write_out(text, *edits), encoding="utf-8")
        return resolve_build(read_spec("a.toml"))

    return resolve


@pytest.fixture
def messages(resolve_text: Resolve) -> Tell:
    """The problems of a spec that is rejected, as a person reads them."""

    def tell(text: str) -> str:
        with pytest.raises(SpecRejected) as caught:
            resolve_text(text)
        return "".join(render_problem(problem) + "\n" for problem in caught.value.problems)

    return tell
