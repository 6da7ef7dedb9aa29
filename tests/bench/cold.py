"""Cold processes: what each took of the processor, of time and of memory."""

import os
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Cost:
    """Seconds of processor (user and system, the same on a busy machine), seconds that passed, MiB of memory at most."""

    cpu_s: float
    wall_s: float
    peak_mib: float


def run_cold(command: Sequence[str], cores: int | None = None, root: Path = ROOT) -> Cost:
    """One run of the program at `root`, on so many of the cores where they can be chosen; raises CalledProcessError where
    it fails. Its output is thrown away; the processor's seconds are those of the processes that it began, too. What was
    compiled is kept, as it is where docgen is installed."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    began = os.times()
    process = subprocess.Popen(
        command,
        cwd=root,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**kept, "PYTHONPATH": str(root)},
        preexec_fn=None if cores is None else lambda: os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:cores]),
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, command)
    return Cost(used.ru_utime + used.ru_stime, os.times().elapsed - began.elapsed, used.ru_maxrss / 1024)
