"""Names that no Windows folder can have (Microsoft, "Naming Files, Paths, and Namespaces") are refused where they are
written."""

from pathlib import Path

import pytest

from docgen.cli import main
from docgen.read import is_device

SPEC = '[spec]\ncode = "{code}"\ntitle = "T"\nversion = "{version}"\n'


@pytest.mark.parametrize("name", ["con", "AUX", "nul.1", "Prn.toml", "com1", "lpt9.svg", "COM².svg", "conin$"])
def test_kept_by_windows(name: str) -> None:
    assert is_device(name)


@pytest.mark.parametrize("name", ["console", "aux-2", "com10", "1.nul", "null", ""])
def test_free(name: str) -> None:
    assert not is_device(name)


def test_refused_as_code_and_version(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = tmp_path / "a.toml"
    spec.write_text(SPEC.format(code="con", version="nul.1"))
    assert main(["check", str(spec)]) == 1
    told = capsys.readouterr().err
    assert 'a.toml:2: error: code cannot be "con": Windows keeps that name for itself' in told
    assert 'a.toml:4: error: version cannot be "nul.1": Windows keeps that name for itself' in told


def test_refused_as_a_new_build(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "aux"]) == 2
    assert capsys.readouterr().err == 'docgen: a build cannot be called "aux": Windows keeps that name for itself\n'
    assert list(tmp_path.iterdir()) == []
