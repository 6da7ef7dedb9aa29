"""Work in a process of its own: what it gives and raises comes back, and what takes too much ends.

Each case is tried in a process that parts from its own, as on Linux, and in a new one, as on every other system; what
Windows tells of memory comes from a stand-in.
"""

import ctypes
import os
import subprocess
import sys
import time
from importlib import util
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from docgen import bounded
from docgen.bounded import OUT_OF_MEMORY, OUT_OF_TIME, TooMuch, run_within

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there is either way")

WORK = """
import os, signal, sys, threading, time

def spin():
    while True:
        pass

def rest():
    time.sleep(600)

def fill():
    return len(b"x" * 900_000_000)

def fail(what):
    raise ValueError(what)

def crash():
    os.abort()

def speak():
    print("a library speaks")
    os.write(1, b"a library speaks")
    return "heard"
"""
CALLS = """
import sys
from docgen import bounded
from docgen.bounded import TooMuch, run_within
from work import crash, fail, fill, rest, speak, spin

bounded.PARTS = sys.argv[1] == "parts"

def tell(work, *given, **bounds):
    try:
        print(work.__name__, run_within(work, *given, **bounds))
    except Exception as error:
        print(work.__name__, type(error).__name__, error, flush=True)

tell(spin, seconds=1)
tell(fill)
tell(fail, "no such thing")
tell(crash)
"""


@pytest.fixture
def call(tmp_path: Path) -> Any:
    """call(lines, way) -> what a program with these lines prints, alone in its process."""
    (tmp_path / "work.py").write_text(WORK)

    def run(lines: str, *arguments: str) -> subprocess.CompletedProcess[str]:
        (tmp_path / "calls.py").write_text(lines)
        command = [sys.executable, str(tmp_path / "calls.py"), *arguments]
        return subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)

    return run


@pytest.mark.parametrize("way", ["parts", "begins anew"])
def test_what_takes_too_much_is_ended_and_all_else_comes_back(call: Any, way: str) -> None:
    made = call(CALLS, way)
    assert made.stdout.splitlines() == [
        "spin TooMuch time",
        "fill TooMuch memory",
        "fail ValueError no such thing",
        "crash TooMuch memory",
    ]
    assert made.stderr == ""


def test_beside_another_thread_a_process_begins_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fork", lambda: pytest.fail("a process with two threads may not part"))
    monkeypatch.setattr("threading.active_count", lambda: 2)
    assert run_within(os.getpid) != os.getpid()


def test_what_a_library_prints_is_no_part_of_what_comes_back(call: Any) -> None:
    lines = CALLS.partition("tell(spin")[0] + "tell(speak)\n"
    assert call(lines, "begins anew").stdout == "speak heard\n"


def test_what_does_nothing_is_not_waited_for_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bounded, "PARTS", False)
    monkeypatch.setattr(bounded, "PATIENCE", 1)
    began = time.monotonic()
    with pytest.raises(TooMuch, match="time"):
        run_within(time.sleep, 600, seconds=1)
    assert time.monotonic() - began < 60


@pytest.mark.parametrize(
    ("work", "code"),
    [("while True: pass", OUT_OF_TIME), ("held = bytearray(b'x') * 300_000_000\nwhile True: pass", OUT_OF_MEMORY)],
    ids=["time", "memory"],
)
def test_a_process_that_no_system_bounds_ends_itself(work: str, code: int) -> None:
    lines = (
        "import threading\nfrom docgen.bounded import watch\nthreading.Thread(target=watch, args=(1, 2e8)).start()\n"
    )
    assert subprocess.run([sys.executable, "-c", lines + work], timeout=120, check=False).returncode == code


def test_memory_is_told_in_bytes() -> None:
    """Held against /proc/self/statm (proc(5)), which counts pages."""
    held = bytearray(b"x") * 50_000_000
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    assert pages * os.sysconf("SC_PAGESIZE") <= bounded.most_held_bytes() * 1.02
    assert len(held) < bounded.most_held_bytes() < 64 * 2**30


class Kernel:
    """GetProcessMemoryInfo as its reference has it ("psapi.h", from memory): the structure says its own size, and is
    filled for the process that is asked for; (void *) -1 is the asking one."""

    def __init__(self, is_told: bool) -> None:
        self.is_told = is_told
        self.GetCurrentProcess = SimpleNamespace()

    def K32GetProcessMemoryInfo(self, process: Any, found: Any, size: Any) -> int:
        assert process.value == ctypes.c_void_p(-1).value
        counters = found._obj
        assert counters.size == size.value == ctypes.sizeof(counters) == 8 + 8 * ctypes.sizeof(ctypes.c_size_t)
        for number in range(8):
            counters.bytes[number] = 1000 + number
        return int(self.is_told)


@pytest.mark.parametrize(("is_told", "most"), [(True, 1007), (False, 0)])
def test_windows_is_asked_for_its_own_figure(monkeypatch: pytest.MonkeyPatch, is_told: bool, most: int) -> None:
    class Ask:
        restype: Any = None

        def __call__(self) -> int | None:
            return self.restype(-1).value

    kernel = Kernel(is_told)
    kernel.GetCurrentProcess = Ask()  # type: ignore[assignment]
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setattr(ctypes, "WinDLL", lambda name: {"kernel32": kernel}[name], raising=False)
    spec = util.spec_from_file_location("bounded_on_windows", bounded.__file__)
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.most_held_bytes() == most
    assert not module.PARTS
