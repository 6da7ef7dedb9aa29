from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import Resolve, Tell, write_out

from docgen.checks import resolve_build
from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec


@pytest.fixture
def cautions(resolve_text: Resolve) -> Tell:
    """The cautions of a spec that is good, as a person reads them."""
    return lambda text, *edits: "".join(
        render_problem(caution) + "\n" for caution in resolve_text(text, *edits).cautions
    )


@pytest.fixture
def check_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], list[str]]:
    """What is wrong with a whole spec that is rejected, without places and mends."""
    monkeypatch.chdir(tmp_path)

    def check(text: str) -> list[str]:
        Path("a.toml").write_text(write_out(text), encoding="utf-8")
        with pytest.raises(SpecRejected) as caught:
            resolve_build(read_spec("a.toml"))
        return [problem.what for problem in caught.value.problems]

    return check
