"""The list of checks: each has a name, a sentence and a source of its own, and a case that fires with a silent twin.

Cases stand in `CASES` of the files beside this one, under the id of their check, and what tells them apart after a comma.
"""

from __future__ import annotations

import importlib
import importlib.util
import inspect
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.problems import Problem, SpecRejected
from docgen.resolve import Build
from docgen.resolve.checks import CHECKS, EARLIER, EARLIER_CHECKS

STOPPING = {*(check.id for check in CHECKS if check.stops), *EARLIER}


def load_cases() -> dict[str, tuple[str, tuple[str, str]]]:
    """For each case the lines of a spec that fire, and what its twin has instead: other words, or steps in another
    order."""
    cases: dict[str, tuple[str, tuple[str, str]]] = {}
    for path in sorted(Path(__file__).parent.glob("test_checks_*.py")):
        spec = importlib.util.spec_from_file_location(path.stem, path)
        if path.name == Path(__file__).name or spec is None or spec.loader is None:
            continue
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        for name, (text, second, third, last) in module.CASES.items():
            if isinstance(last, tuple):
                cases[name] = (text + second, (second, module.reorder(second, last)))
            else:
                cases[name] = (text, (third, last))
    return cases


CASES = load_cases()


def find_problems(resolve_text: Callable[..., Build], text: str, *edits: tuple[str, str]) -> tuple[Problem, ...]:
    try:
        return resolve_text(text, *edits).cautions
    except SpecRejected as error:
        return tuple(error.problems)


def test_every_case_belongs_to_a_check() -> None:
    ids = {*(check.id for check in CHECKS), *EARLIER}
    assert {name.split(",")[0] for name in CASES} - ids == set()


@pytest.mark.parametrize("name", [*(check.id for check in CHECKS), *EARLIER])
def test_every_check_has_a_case_that_fires_and_a_twin_that_is_silent(
    resolve_text: Callable[..., Build], name: str
) -> None:
    text, twin = CASES[name]
    severity = "error" if name in STOPPING else "caution"
    assert {(found.check, found.severity) for found in find_problems(resolve_text, text)} == {(name, severity)}
    assert find_problems(resolve_text, text, twin) == ()


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
