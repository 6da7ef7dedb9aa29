"""Every mend that is a single value is followed as a tired maker would, and the spec is checked again.

What is followed is every case of `checks_*.txt` whose mend says a value to write: then nothing is told any more.
"""

import contextlib
import re
from pathlib import Path

import pytest
from cases import read_cases
from slips.mends import IN_PLACE_RE, IN_TABLE_RE, MEANT_RE, PUT_RE, WRITE_RE, mend_text
from spec_text import Resolve

from docgen.checks import resolve_build
from docgen.problems import Problem, SpecRejected
from docgen.read import read_spec

VALUES = (WRITE_RE, IN_PLACE_RE, PUT_RE, IN_TABLE_RE, MEANT_RE)
# These name a value that is written elsewhere, in a table that the mend does not name, or that only the maker knows.
NO_VALUE_RE = re.compile(r'= ("[^"]*"|\d+|true|false) (where|for a|in a|in its|in one)\b|= "\.\.\."')
CASES = {
    name: case
    for path in sorted(Path(__file__).parent.glob("checks_*.txt"))
    for name, case in read_cases(path.read_text(encoding="utf-8")).items()
    for mend in re.findall("mend: +(.+)", case.told)[:1]
    if any(known.match(mend) for known in VALUES) and not NO_VALUE_RE.search(mend)
}


def find_problems() -> tuple[Problem, ...]:
    try:
        return resolve_build(read_spec("a.toml")).cautions
    except SpecRejected as error:
        return tuple(error.problems)


def test_many_mends_are_values() -> None:
    assert len(CASES) > 40


@pytest.mark.parametrize("case", CASES)
def test_a_mend_that_is_followed_mends(resolve_text: Resolve, case: str) -> None:
    with contextlib.suppress(SpecRejected):
        resolve_text(CASES[case].given)
    before = find_problems()
    text = Path("a.toml").read_text(encoding="utf-8")
    mended = [new for problem in before if (new := mend_text(problem, text)) is not None]
    assert mended
    for new in mended:
        Path("a.toml").write_text(new, encoding="utf-8")
        left = find_problems()
        assert len(left) < len(before), [f"{problem.what} | {problem.mend}" for problem in left]
