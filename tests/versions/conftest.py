"""The demo bag in a folder of its own, changed in known ways, and as builds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.read import read_spec
from docgen.resolve import Build, resolve_build

SPECS = Path(__file__).resolve().parents[2] / "specs"

Edit = tuple[str, str]
WriteBag = Callable[..., Path]


@pytest.fixture
def write_bag(tmp_path: Path) -> WriteBag:
    """write_bag((old, new), ..., name=...) -> the demo bag's spec with these words exchanged, alone in a folder."""

    def write(*edits: Edit, name: str = "field-bag.toml") -> Path:
        text = (SPECS / "field-bag.toml").read_text(encoding="utf-8")
        for old, new in edits:
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture
def build_bag(write_bag: WriteBag) -> Callable[..., Build]:
    """build_bag((old, new), ...) -> the build of the demo bag with these words exchanged."""
    return lambda *edits: resolve_build(read_spec(write_bag(*edits)))
