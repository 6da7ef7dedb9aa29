"""Holes by the thousand, as many as a spec may have of them, within the time and the memory of any other file."""

import os
from pathlib import Path

import pytest
from disk import Run, load_commands
from pypdf import PdfReader

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the system parts no processes")

HEAD = (
    '[spec]\ncode = "many"\ntitle = "Many"\nversion = "1"\n[materials.hide]\nkind = "leather"\nthickness = "4 oz"\n'
    '[pieces.panel]\nof = "hide"\nshape = "rectangle"\nsize = ["1520 mm", "140 mm"]\n'
)
ROW = (
    '[[pieces.panel.hole-rows]]\nstart = "10 mm from left, {0} mm from top"\n'
    'end = "10 mm from right, {0} mm from top"\ncount = 500\npunch = "1 mm"\n'
)
ROWS = 40
SECONDS, BYTES = 10, 200 * 1024 * 1024


def test_twenty_thousand_holes_are_printed_and_exported(tmp_path: Path) -> None:
    load_commands()
    (tmp_path / "many.toml").write_text(HEAD + "".join(ROW.format(10 + 3 * row) for row in range(ROWS)))
    for call in (("make", "many.toml", "--out", "out"), ("export", "many.toml", "--to", "svg", "--out", "out")):
        run = Run(call, lambda name: None, tmp_path, tmp_path / "told", limits=(SECONDS, BYTES))
        code, words = run.end()
        assert code == 0, words
    assert (tmp_path / "out" / "many-v1-panel.svg").read_text().count("<circle") == 500 * ROWS
    assert len(PdfReader(tmp_path / "out" / "build-sheet.pdf").pages) >= 1
