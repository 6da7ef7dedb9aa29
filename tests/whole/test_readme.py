"""README.md: every `docgen` command in it runs as printed, its spec can be made, its messages are the real ones."""

import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from docgen.cli import main
from docgen.topics import TOPICS, WHOLE, read_topic

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.M | re.S)
COMMAND = re.compile(r"\bdocgen ((?:make|check|new|keys|printer|export|issue)\b[^\n&|#]*)")


def read_blocks(kind):
    return [body for word, body in BLOCK.findall(README.read_text(encoding="utf-8")) if word == kind]


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """An empty folder with the demo specs in it, and the folder that commands run in."""
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run_docgen(bench, capsys):
    """run_docgen(words, code) -> all that is said by a command that ends with this code."""

    def run(words, code=0):
        try:
            ended = main(words)
        except SystemExit as stop:  # --help
            ended = stop.code or 0
        said = capsys.readouterr()
        assert ended == code, (words, said.err)
        return said.out + said.err

    return run


def test_commands_run_in_their_order_as_printed(bench, run_docgen):
    commands = [command for block in read_blocks("sh") for command in COMMAND.findall(block)]
    assert len(commands) >= 4
    for command in commands:
        run_docgen(shlex.split(command))
    assert (bench / "out" / "field-bag-v3" / "packet.pdf").exists()


def test_folder_and_files_it_names_are_those_that_are_written(bench, run_docgen):
    text = README.read_text(encoding="utf-8")
    run_docgen(["make", "specs/field-bag.toml"])
    (folder,) = (bench / "out").iterdir()
    assert "`out/CODE-vVERSION/`" in text
    assert folder.name == "field-bag-v3"
    assert sorted(file.name for file in folder.iterdir()) == sorted(set(re.findall(r"\*\*`([a-z-]+\.pdf)`\*\*", text)))


def test_small_spec_has_no_problem_and_can_be_made(bench, run_docgen):
    (spec,) = [block for block in read_blocks("toml") if "[spec]" in block]
    code = tomllib.loads(spec)["spec"]["code"]
    (bench / f"{code}.toml").write_text(spec, encoding="utf-8")
    assert run_docgen(["check", f"{code}.toml"]).splitlines()[-1] == "no problems; 2 questions asked above"
    assert "packet.pdf" in run_docgen(["make", f"{code}.toml"])


def test_it_is_one_page_and_its_spec_is_that_of_the_topics():
    """Five minutes at some 300 words a minute, since tables are looked up and not read through; from memory."""
    text = README.read_text(encoding="utf-8")
    assert len(text.split()) <= 1500
    (spec,) = [block for block in read_blocks("toml") if "[spec]" in block]
    assert read_topic(WHOLE).endswith(f"\n\n{spec}")
    assert all(f"`{name}`" in text for name in TOPICS)


def test_message_it_shows_is_the_one_that_comes(bench, run_docgen):
    (shown,) = [block for block in read_blocks("text") if ": error: " in block]
    run_docgen(["new", "my-bag", "--like", "bag"])
    spec = bench / "my-bag.toml"
    lines = spec.read_text(encoding="utf-8").splitlines(keepends=True)
    line = int(re.match(r"my-bag\.toml:(\d+):", shown)[1]) - 1
    lines[line] = lines[line].replace("thickness", "thicknes", 1)
    spec.write_text("".join(lines), encoding="utf-8")
    assert shown in run_docgen(["check", "my-bag.toml"], code=1)


def test_table_of_commands_names_options_that_exist(bench, run_docgen):
    rows = re.findall(r"^\| `docgen (\w+)[^`]*` \| (.*) \|$", README.read_text(encoding="utf-8"), re.M)
    assert [command for command, _ in rows][:4] == ["make", "check", "look", "new"]
    for command, meaning in rows:
        known = run_docgen([command, "--help"])
        for option in re.findall(r"`(--[a-z-]+)", meaning):
            assert re.search(rf"{option}\b", known), (command, option)


def test_python_example_runs(bench, run_docgen):
    run_docgen(["new", "my-bag"])
    (code,) = [block for block in read_blocks("python") if "build_documents" in block]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    made = subprocess.run(
        [sys.executable, "-c", code], cwd=bench, env=environment, capture_output=True, text=True, timeout=60
    )
    assert made.returncode == 0, made.stderr
    assert "packet.pdf" in made.stdout
