"""What a cold `docgen make` and `docgen check` of the demo bag cost, against a bare script that draws the very same ink.

Run as `python tests/bench/bench_packet.py`. Every run is a process of its own, imports included; all are run in turn, and
the processor time of their own (user and system) is compared, since that hardly hangs on what else the machine does.
The bars: make at most 2.6 times the bare script, its pictures among the ink; check at most 0.9; --help at most 3 times an
interpreter.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from bare_packet import find_ink

ROOT = Path(__file__).resolve().parents[2]
SPEC = "specs/field-bag.toml"
TIMES = 7
DOCGEN = (sys.executable, "-m", "docgen")
BARS = (("make", "bare", 2.6), ("check", "bare", 0.9), ("--help", "interpreter", 3.0))


def run_cold(command: tuple[str, ...]) -> float:
    """Processor seconds of one process."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    quiet = subprocess.DEVNULL
    process = subprocess.Popen(
        command, cwd=ROOT, env={**kept, "SOURCE_DATE_EPOCH": "1774915200"}, stdout=quiet, stderr=quiet
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} failed")
    return used.ru_utime + used.ru_stime


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        ink, bare = f"{folder}/ink.json", str(Path(__file__).parent / "bare_packet.py")
        commands = {
            "make": (*DOCGEN, "make", SPEC, "--out", folder),
            "check": (*DOCGEN, "check", SPEC),
            "--help": (*DOCGEN, "--help"),
            "bare": (sys.executable, bare, ink, f"{folder}/bare.pdf"),
            "interpreter": (sys.executable, "-c", "pass"),
        }
        run_cold(commands["make"])
        pages = find_ink(f"{folder}/packet.pdf")
        Path(ink).write_text(json.dumps(pages), encoding="utf-8")
        counts = {kind: sum(len(page[kind]) for page in pages) for kind in ("paths", "texts", "codes")}
        print(f"{len(pages)} pages,", ", ".join(f"{number} {kind}" for kind, number in counts.items()))
        turns = [{name: run_cold(command) for name, command in commands.items()} for _ in range(TIMES + 1)]
    seconds = {name: statistics.median(turn[name] for turn in turns[1:]) for name in commands}
    for name in commands:
        print(f"{name:12s} {seconds[name]:.3f} s")
    for name, base, bar in BARS:
        print(f"{name} / {base}: {seconds[name] / seconds[base]:.2f} (at most {bar:g})")


if __name__ == "__main__":
    main()
