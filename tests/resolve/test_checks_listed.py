"""The list of checks: each has a name, a sentence and a source of its own, and a test that shows it firing."""

from __future__ import annotations

import importlib
import inspect
import re
from pathlib import Path

from docgen.resolve.checks import CHECKS, EARLIER, EARLIER_CHECKS


def test_every_check_has_a_case_that_fires() -> None:
    paths = [path for path in Path(__file__).parent.glob("test_*.py") if path.name != Path(__file__).name]
    text = "".join(path.read_text(encoding="utf-8") for path in paths)
    ids = [*(check.id for check in CHECKS), *EARLIER]
    assert [name for name in ids if not re.search(rf'"{name}[",]|check:   {name}\b', text)] == []


def test_every_check_has_an_id_of_its_own() -> None:
    ids = [*(check.id for check in CHECKS), *EARLIER]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch("[a-z]+(-[a-z]+)*", name) for name in ids)


def test_every_check_says_what_must_hold_and_where_its_figure_comes_from() -> None:
    assert all(check.says.endswith(".") and check.source for check in CHECKS)
    assert len({check.says for check in CHECKS}) == len(CHECKS)
    assert all(says.endswith(".") for says in EARLIER.values())


def test_what_is_found_earlier_has_a_source_and_is_noted_where_it_says() -> None:
    for check in EARLIER_CHECKS:
        assert check.source
        assert f'"{check.id}"' in inspect.getsource(importlib.import_module(check.found_in)), check.id
