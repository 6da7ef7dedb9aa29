"""A pattern of very many sheets is told in words at once; lists and drawings of the same spec come all the same."""

import time
from pathlib import Path

import pytest
from pypdf import PdfReader

from docgen.cli import main

HEAD = (
    '[spec]\ncode = "many"\ntitle = "Many"\nversion = "1"\n[materials.hide]\nkind = "leather"\nthickness = "3-4 oz"\n'
)
PIECE = '[pieces.p{number}]\nof = "hide"\nshape = "rectangle"\nsize = ["600 mm", "500 mm"]\n'


def write(folder: Path, pieces: int) -> str:
    path = folder / "many.toml"
    path.write_text(HEAD + "".join(PIECE.format(number=number) for number in range(pieces)))
    return str(path)


@pytest.mark.parametrize(("pieces", "sheets"), [(120, 718), (70, 419)])
def test_too_many_sheets_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str], pieces: int, sheets: int) -> None:
    began = time.process_time()
    assert main(["make", write(tmp_path, pieces), "--out", str(tmp_path / "out")]) == 1
    assert f"many.toml: error: the pattern takes at least {sheets} sheets of this paper" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
    if pieces == 120:
        assert time.process_time() - began < 5


def test_lists_and_drawings_come_all_the_same(tmp_path: Path) -> None:
    spec, out = write(tmp_path, 120), tmp_path / "out"
    assert main(["make", spec, "--out", str(out), "--only", "cutting-list", "build-sheet", "care-card"]) == 0
    assert len(PdfReader(out / "cutting-list.pdf").pages) >= 3
    assert main(["export", spec, "--to", "svg", "--out", str(out)]) == 0
    assert len(list(out.glob("*.svg"))) == 120
