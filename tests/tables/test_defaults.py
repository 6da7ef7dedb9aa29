"""Every default stands in one table: no key carries a figure of its own, and what is read goes by the same name."""

import ast
from collections.abc import Iterator
from pathlib import Path

import docgen
from docgen.tables import defaults

PACKAGE = Path(docgen.__file__).parent
NAMES = {name for name in vars(defaults) if name.isupper()}
SPECS = sorted(PACKAGE.glob("read/spec*.py"))


def written_defaults() -> Iterator[tuple[str, ast.expr]]:
    for path in SPECS:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "key":
                yield from (
                    (f"{path.name}:{word.lineno}", word.value) for word in node.keywords if word.arg == "default"
                )


def used_in(folder: str) -> set[str]:
    """The defaults that modules of a folder use by name."""
    found = set()
    for path in (PACKAGE / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""
            found |= {name} & NAMES
    return found


def test_no_key_carries_its_default_itself() -> None:
    found = list(written_defaults())
    assert len(found) > 30
    for place, value in found:
        assert getattr(value, "attr", "") in NAMES, place


def test_what_is_told_of_a_key_is_what_is_read() -> None:
    assert used_in("read") == NAMES
    assert used_in("resolve") == NAMES
