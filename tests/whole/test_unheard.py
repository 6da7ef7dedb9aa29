"""Output that nobody hears, a full disk, and a run stopped at once: never a fault of docgen, never half a file."""

import errno
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from docgen.cli import main

SPEC = Path(__file__).parents[2] / "specs" / "notebook-sleeve.toml"
CHECK = ("check", str(SPEC))
FULL = Path("/dev/full")
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
SAID = "cannot print what was done: there is no space left on the disk\n"


def run(arguments, redirected):
    """The command line behind a shell that redirects its output."""
    command = ["sh", "-c", f'"$0" -m docgen "$@" {redirected}', sys.executable, *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, env=ENVIRONMENT, check=False)


@pytest.mark.skipif(not FULL.exists(), reason="no full device here")
@pytest.mark.parametrize("call", [CHECK, ("keys",), ("keys", "--schema"), ("check", "--json", str(SPEC))])
def test_a_full_disk_behind_the_output_is_told(call):
    done = run(call, "> /dev/full")
    assert (done.returncode, done.stderr) == (3, SAID)


@pytest.mark.skipif(os.name == "nt", reason="no such shell there")
@pytest.mark.parametrize("call", [CHECK, ("keys",), ("keys", "--schema")])
def test_without_any_output_the_exit_code_tells(call):
    done = run(call, ">&-")
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(os.name == "nt", reason="no such shell there")
def test_without_anywhere_to_tell_errors_the_exit_code_tells(tmp_path):
    wrong = ("check", str(tmp_path / "none.toml"))
    assert [run(wrong, redirected).returncode for redirected in ("2>&-", ">&- 2>&-")] == [1, 1]
    assert run(wrong, "2>&-").stdout == ""
    if FULL.exists():
        assert run(wrong, "2> /dev/full").returncode == 1


@pytest.mark.skipif(os.name == "nt", reason="signals are others there")
@pytest.mark.parametrize("tenths", range(6))
def test_stopped_at_any_moment_it_ends_quietly(tmp_path, tenths):
    """From where Python itself has come up: a line that the module prints first tells that."""
    code = (
        "import sys; sys.argv = ['docgen', 'make', sys.argv[1], '--out', sys.argv[2]];"
        "from docgen.__main__ import run; print(flush=True); sys.exit(run())"
    )
    command = [sys.executable, "-S", "-c", code, str(SPEC), str(tmp_path / "out")]
    begun = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=ENVIRONMENT)
    begun.stdout.readline()
    time.sleep(0.04 + tenths * 0.03)
    begun.send_signal(signal.SIGINT)
    _, told = begun.communicate(timeout=60)
    assert begun.returncode == 130
    assert told in ("", "stopped\n")
    assert not (tmp_path / "out").exists()


LOST = """
    thing = Thing()
    watch = weakref.ref(thing, lambda _: signal.raise_signal(signal.SIGINT))
    del thing
    for _ in range(1000): time.sleep(0.02)
"""
ANOTHER = """
    try: signal.raise_signal(signal.SIGINT)
    except KeyboardInterrupt: raise TypeError from None
"""


@pytest.mark.skipif(os.name == "nt", reason="signals are others there")
@pytest.mark.parametrize("fate", [LOST, ANOTHER])
def test_a_stop_is_one_also_where_python_makes_nothing_of_it_or_another_error(fate):
    """Nothing can be raised in the call that a weak reference makes: Python would print it, and go on."""
    code = (
        f"import signal, sys, time, weakref, docgen.cli\nclass Thing: pass\ndef step(words):{fate}    return 0\n"
        "docgen.cli._run = step\nfrom docgen.__main__ import run\nsys.exit(run())"
    )
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, env=ENVIRONMENT, check=False)
    assert (done.returncode, done.stderr) == (130, "stopped\n")


@pytest.mark.skipif(os.name == "nt", reason="signals are others there")
def test_a_run_that_is_not_to_heed_the_keyboard_goes_on(tmp_path):
    ignoring = ["sh", "-c", 'trap "" INT; exec "$0" -m docgen "$@"', sys.executable]
    call = ["make", str(SPEC), "--only", "care-card", "--out", str(tmp_path / "out")]
    begun = subprocess.Popen([*ignoring, *call], stdout=subprocess.DEVNULL, env=ENVIRONMENT)
    for _ in range(5):
        time.sleep(0.1)
        begun.send_signal(signal.SIGINT)
    assert begun.wait(timeout=60) == 0
    assert (tmp_path / "out" / "care-card.pdf").exists()


def fill_disk(monkeypatch):
    def full(_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)


@pytest.mark.parametrize("call", [("new", "bag"), ("new", "bag", "--out", "other.toml"), ("layouts", "layouts")])
def test_a_new_file_is_whole_or_not_there(tmp_path, monkeypatch, capsys, call):
    monkeypatch.chdir(tmp_path)
    with monkeypatch.context() as inner:
        fill_disk(inner)
        assert main(list(call)) == 3
    assert capsys.readouterr().err.endswith(": there is no space left on the disk\n")
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []
    assert main(list(call)) == 0
