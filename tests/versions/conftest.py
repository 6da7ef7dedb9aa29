"""The demo bag in a folder of its own, changed in known ways, and as builds."""

from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from docgen.checks import resolve_build
from docgen.cli import main
from docgen.layout_files import Layouts, layouts_in_use
from docgen.pages import lay_out
from docgen.pages.marks.page import Packet
from docgen.plan import Plan
from docgen.read import read_spec
from docgen.resolve import Build
from docgen.versions.kept.issue import IssueOutcome, record_version

BAG = Path(__file__).with_name("field-bag.toml")

Edit = tuple[str, str]
WriteBag = Callable[..., Path]


@pytest.fixture(autouse=True, scope="session")
def lay_out_once() -> Iterator[None]:
    """The same plan is laid out once, however often versions are compared with it: plans and packets never change."""

    @lru_cache(maxsize=12)
    def lay_out_in(layouts: Layouts, plan: Plan, **chosen: Any) -> Packet:
        return lay_out(plan, **chosen)

    with pytest.MonkeyPatch.context() as patch:
        for name in ("versions.compared.reprint", "calls.issue"):
            patch.setattr(
                f"docgen.{name}.lay_out", lambda *plan, **chosen: lay_out_in(layouts_in_use(), *plan, **chosen)
            )
        yield


@pytest.fixture
def write_bag(tmp_path: Path) -> WriteBag:
    """write_bag((old, new), ..., name=...) -> the demo bag's spec with these words exchanged, alone in a folder."""

    def write(*edits: Edit, name: str = "field-bag.toml") -> Path:
        text = BAG.read_text(encoding="utf-8")
        for old, new in edits:
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture(scope="session")
def resolve_once() -> Callable[[Path], Build]:
    """resolve_once(path) -> the build of a spec; the same bytes under the same name are resolved only once."""
    known: dict[tuple[str, str], Build] = {}

    def resolve(path: Path) -> Build:
        spec = read_spec(path)
        key = (spec.digest, path.name)
        if key not in known:
            known[key] = resolve_build(spec)
        return known[key]

    return resolve


@pytest.fixture
def build_bag(write_bag: WriteBag, resolve_once: Callable[[Path], Build]) -> Callable[..., Build]:
    """build_bag((old, new), ...) -> the build of the demo bag with these words exchanged."""
    return lambda *edits: resolve_once(write_bag(*edits))


@pytest.fixture(scope="session")
def issue(resolve_once: Callable[[Path], Build]) -> Callable[..., IssueOutcome]:
    """issue(path, day) -> what came of recording the spec as an issued version."""
    return lambda path, day="2026-03-31": record_version(path, resolve_once(path), day)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    return tmp_path


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], here: Path) -> Callable[..., tuple[int, str, str]]:
    """run(argument, ...) -> exit code, what was said, what went wrong."""

    def call(*arguments: object) -> tuple[int, str, str]:
        code = main([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return code, said.out, said.err

    return call
