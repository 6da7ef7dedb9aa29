"""Work in a process of its own: what it gives and raises comes back, and what takes too much ends."""

import subprocess
import sys

import pytest

from docgen.bounded import run_within

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there is a process bounded")

# Alone in a process, which is only copied where it has one thread.
ALONE = """
import os, sys
from docgen.bounded import TooMuch, run_within

def spin():
    while True:
        pass

def fill():
    return len(b"x" * 900_000_000)

def fail():
    raise ValueError("no such thing")

def crash():
    os.abort()

def tell(work, **bounds):
    try:
        print(work.__name__, run_within(work, **bounds))
    except Exception as error:
        print(work.__name__, type(error).__name__, error, flush=True)

tell(os.getpgrp)
tell(spin, seconds=1)
tell(fill)
tell(fail)
tell(crash)
"""


def test_what_takes_too_much_is_ended_and_all_else_comes_back() -> None:
    made = subprocess.run([sys.executable, "-c", ALONE], capture_output=True, text=True, timeout=60, check=True)
    lines = made.stdout.splitlines()
    assert lines[0].startswith("getpgrp ")
    assert lines[1:5] == [
        "spin TooMuch time",
        "fill TooMuch memory",
        "fail ValueError no such thing",
        "crash TooMuch memory",
    ]
    assert made.stderr == ""


def test_where_no_process_can_part_the_work_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("threading.active_count", lambda: 2)
    held: list[int] = []
    assert run_within(lambda: held.append(1) or "done") == "done"
    assert held == [1]
