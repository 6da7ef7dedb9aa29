"""A run that is killed, or cannot write, leaves the files of the run before as they were."""

import os
import signal
import subprocess
import sys
import time

import pytest
from demos import FILES
from killed import run_to_death

from docgen.cli import main

# Calls that touch the disk: for each of five files fsync and link, fsync of the journal, then five times replace, so that
# from the twelfth on there are new files.
TOUCHING = ("fsync", "replace", "link")


def arguments(demo, folder, day):
    return ["make", str(demo.spec), "--out", str(folder), "--paper", demo.paper, "--date", day]


def told(stderr):
    """What is told at the end; before it, a run that takes over a second tells its steps."""
    return "".join(line for line in stderr.splitlines(keepends=True) if not line.endswith(" ...\n"))


def read_files(folder):
    return {path.name: path.read_bytes() for path in folder.glob("*.pdf")}


@pytest.fixture(scope="module")
def sleeve(make):
    return make("notebook-sleeve", "a4")


@pytest.fixture(scope="module")
def later(sleeve, tmp_path_factory):
    """The files as a whole run on another day writes them."""
    folder = tmp_path_factory.mktemp("later")
    subprocess.run([sys.executable, "-m", "docgen", *arguments(sleeve, folder, "2026-04-01")], check=True, timeout=60)
    return read_files(folder)


@pytest.fixture
def earlier(sleeve, tmp_path):
    """A folder with the files of an earlier day."""
    for name in FILES:
        (tmp_path / f"{name}.pdf").write_bytes(sleeve.file(name).read_bytes())
    return tmp_path


@pytest.mark.parametrize("moment", [0, 4, 9, 10, 11, 13, 15])
def test_killed_while_it_writes_every_file_is_whole(sleeve, earlier, later, moment):
    before = read_files(earlier)
    assert run_to_death(lambda: main(arguments(sleeve, earlier, "2026-04-01")), TOUCHING, moment) == -signal.SIGKILL
    after = read_files(earlier)
    assert after.keys() == before.keys()
    assert all(after[name] in (before[name], later[name]) for name in after)
    assert sum(after[name] == later[name] for name in after) == max(0, moment - 11)


def test_run_after_a_killed_one_writes_all_and_sweeps_up(sleeve, earlier, later):
    assert run_to_death(lambda: main(arguments(sleeve, earlier, "2026-04-01")), TOUCHING, 13) == -signal.SIGKILL
    assert [path.name for path in earlier.iterdir() if path.name.startswith(".docgen-")]
    command = [sys.executable, "-m", "docgen", *arguments(sleeve, earlier, "2026-04-01")]
    made = subprocess.run(command, timeout=60, capture_output=True, text=True)
    assert made.returncode == 0
    assert "a run before was stopped while it put its files in place; what stood there before is back: p" in made.stderr
    assert read_files(earlier) == later
    assert sorted(path.name for path in earlier.iterdir()) == sorted(f"{name}.pdf" for name in FILES)


@pytest.mark.parametrize("seconds", [0.25, 0.6])
def test_killed_from_outside_the_earlier_files_are_whole(sleeve, earlier, later, seconds):
    before = read_files(earlier)
    run = subprocess.Popen([sys.executable, "-m", "docgen", *arguments(sleeve, earlier, "2026-04-01")])
    time.sleep(seconds)
    run.kill()
    run.wait(timeout=60)
    after = read_files(earlier)
    assert after.keys() == before.keys()
    assert all(after[name] in (before[name], later[name]) for name in after)


def test_wrong_spec_writes_nothing(sleeve, earlier):
    before = {path.name: path.read_bytes() for path in earlier.iterdir()}
    spec = earlier.parent / "wrong.toml"
    spec.write_text(sleeve.spec.read_text().replace('"148 mm"', '"148"'))
    command = [sys.executable, "-m", "docgen", "make", str(spec), "--out"]
    for folder in (earlier, earlier.parent / "fresh"):
        made = subprocess.run([*command, str(folder)], capture_output=True, text=True, timeout=60)
        assert made.returncode == 1
        assert "wrong.toml:14: error: 148 has no unit" in made.stderr
    assert {path.name: path.read_bytes() for path in earlier.iterdir()} == before
    assert not (earlier.parent / "fresh").exists()


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="every folder is open to this user")
def test_folder_without_leave_to_write_is_told_with_exit_code_3(sleeve, earlier):
    before = read_files(earlier)
    earlier.chmod(0o555)
    try:
        command = [sys.executable, "-m", "docgen", *arguments(sleeve, earlier, "2026-04-01")]
        made = subprocess.run(command, capture_output=True, text=True, timeout=60)
    finally:
        earlier.chmod(0o755)
    assert made.returncode == 3
    assert told(made.stderr) == f"cannot write {earlier}: it is not allowed\nthe folder holds what it held before\n"
    assert read_files(earlier) == before
