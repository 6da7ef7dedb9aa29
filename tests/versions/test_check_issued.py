"""`docgen check` tells that a version was issued with other contents, at the line that names the version."""

from collections.abc import Callable
from pathlib import Path

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec

OTHER = ('wears   = "44 in"', 'wears   = "46 in"')


def issued_cautions(path: Path) -> list[tuple[int, str]]:
    found = check_spec(CheckCall(spec=str(path))).cautions
    return [(problem.place.line, problem.what) for problem in found if "was issued on" in problem.what]


def test_a_version_issued_with_other_contents_is_told(
    write_bag: Callable[..., Path], issue: Callable[..., object]
) -> None:
    path = write_bag()
    assert issued_cautions(path) == []
    issue(path)
    assert issued_cautions(path) == []
    line = path.read_text(encoding="utf-8").splitlines().index('version = "3"') + 1
    ((told, what),) = issued_cautions(write_bag(OTHER))
    assert told == line
    assert "with other contents" in what
    assert issued_cautions(write_bag(OTHER, ('version = "3"', 'version = "4"'))) == []
