"""A spec whose file name no page and no record can hold is refused before anything is written."""

import os
import shutil
import sys
from pathlib import Path

import pytest

from docgen.cli import main

SPEC = Path(__file__).parents[2] / "specs" / "notebook-sleeve.toml"


@pytest.mark.skipif(sys.platform != "linux", reason="names are bytes only there")
@pytest.mark.parametrize("command", ["check", "make", "issue"])
@pytest.mark.parametrize(
    ("name", "kind"), [(b"\xff.toml", "letters that are not UTF-8"), (b"a\x1b[2Jb.toml", "letters that do not print")]
)
def test_a_name_that_no_text_can_hold_is_refused(bench, capsys, command, name, kind):
    path = os.fsdecode(name)
    shutil.copy(SPEC, path)
    assert main([command, path]) == 1
    shown = "".join(letter if letter.isprintable() else "?" for letter in path)
    assert capsys.readouterr().err == (
        f"{shown}: error: the file's name has {kind}\n"
        "    mend:    rename it with plain letters, like bag.toml\n"
        "1 error\n"
    )
    assert os.listdir(bench) == [path]


@pytest.mark.skipif(os.name == "nt", reason="there are no such names")
@pytest.mark.parametrize("name", ["a:b.toml", "c:.toml"])
def test_a_name_that_not_every_disk_takes_is_not_issued(bench, capsys, name):
    shutil.copy(SPEC, name)
    assert main(["issue", name]) == 1
    assert capsys.readouterr().err == (
        f'{name}: error: a spec called "{name}" cannot be issued: not every disk takes that name\n'
        "    mend:    rename it with plain letters, like notebook-sleeve.toml\n"
    )
    assert os.listdir(bench) == [name]
