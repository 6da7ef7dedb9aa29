from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import write_out

from docgen.problems import render_problem
from docgen.read import Spec, read_spec

SMALL = write_out("""\
<spec roll: Roll, version 1>
<leather body: 4 oz>
""")


@pytest.fixture
def good_path() -> Path:
    return Path(__file__).with_name("good.toml")


@pytest.fixture
def read_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Spec]:
    """Reads TOML text as the file `a.toml` of the present folder."""
    monkeypatch.chdir(tmp_path)

    def read(text: str) -> Spec:
        Path("a.toml").write_bytes(text.encode("utf-8"))
        return read_spec("a.toml")

    return read


@pytest.fixture
def read_small(read_text: Callable[[str], Spec]) -> Callable[[str], Spec]:
    """Reads a small good spec with these lines after it; its line 8 is their first, in [materials.body]."""
    return lambda text: read_text(SMALL + text)


@pytest.fixture
def messages(read_small: Callable[[str], Spec]) -> Callable[[str], list[str]]:
    """The problems in the lines after a small good spec, as a person reads them."""
    return lambda text: [render_problem(problem) for problem in read_small(text).problems]
