"""A pattern of very many sheets is told in words at once; lists and drawings of the same spec come all the same."""

import os
import time
from pathlib import Path

import pytest
from disk import Run, load_commands
from pypdf import PdfReader

from docgen.cli import main

HEAD = (
    '[spec]\ncode = "many"\ntitle = "Many"\nversion = "1"\n[materials.hide]\nkind = "leather"\nthickness = "3-4 oz"\n'
)
PIECE = '[pieces.p{number}]\nof = "hide"\nshape = "rectangle"\nsize = ["600 mm", "500 mm"]\n'


def write(folder: Path, pieces: int, piece: str = PIECE) -> str:
    path = folder / "many.toml"
    path.write_text(HEAD + "".join(piece.format(number=number) for number in range(pieces)))
    return str(path)


@pytest.mark.parametrize(("pieces", "sheets"), [(120, 718), (70, 419)])
def test_too_many_sheets_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str], pieces: int, sheets: int) -> None:
    began = time.process_time()
    assert main(["make", write(tmp_path, pieces), "--out", str(tmp_path / "out")]) == 1
    assert f"many.toml: error: the pattern takes at least {sheets} sheets of this paper" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
    if pieces == 120:
        assert time.process_time() - began < 5


HUGE = PIECE.replace('"600 mm", "500 mm"', '"9.9 m", "9.9 m"')


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system parts no processes")
@pytest.mark.parametrize(
    ("paper", "told"), [("letter", "too many for one pattern"), ("roll 36 in", "does not fit 5 m of this")]
)
def test_pieces_as_large_as_there_are_take_no_memory(tmp_path: Path, paper: str, told: str) -> None:
    """Refused before a template is made, of each of which the free room inside would be worked out."""
    load_commands()
    call = ("make", write(tmp_path, 120, HUGE), "--paper", paper, "--out", "out")
    code, words = Run(call, lambda name: None, tmp_path, tmp_path / "told", limits=(10, 100 * 1024 * 1024)).end()
    assert (code, told in words) == (1, True), words


def test_lists_and_drawings_come_all_the_same(tmp_path: Path) -> None:
    spec, out = write(tmp_path, 120), tmp_path / "out"
    assert main(["make", spec, "--out", str(out), "--only", "cutting-list", "build-sheet", "care-card"]) == 0
    assert len(PdfReader(out / "cutting-list.pdf").pages) >= 3
    assert main(["export", spec, "--to", "svg", "--out", str(out)]) == 0
    assert len(list(out.glob("*.svg"))) == 120
