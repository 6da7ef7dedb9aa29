"""What a cold run costs: a whole packet and a check of the demo bag against a bare script that draws the same ink, and
help against a bare interpreter.

Run as `python tests/bench/bench_packet.py [TIMES]`. Every run is a process of its own, imports included; they are taken
in turn, and the processor's seconds are compared, which are steady on a busy machine.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

from bare_packet import count_ink
from cold import ROOT, median_of, ratio_of, run_cold, run_in_turn

SPEC = str(ROOT / "specs" / "field-bag.toml")
BARE = str(ROOT / "tests" / "bench" / "bare_packet.py")
IMPORTS = "import fontpkg_fira_sans, json; from qrcode.main import QRCode; from reportlab.pdfgen.canvas import Canvas"
TIMES = 7


def main() -> None:
    python, docgen = sys.executable, [sys.executable, "-m", "docgen"]
    with tempfile.TemporaryDirectory() as folder:
        out, ink = f"{folder}/out", f"{folder}/ink.json"
        make = [*docgen, "make", SPEC, "--out", out, "--date", "2026-03-31"]
        run_cold(make)
        run_cold([python, BARE, "find", f"{out}/packet.pdf", ink])
        commands = {
            "make": make,
            "check": [*docgen, "check", SPEC],
            "help": [*docgen, "--help"],
            "bare draw": [python, BARE, "draw", ink, f"{folder}/bare.pdf"],
            "bare imports": [python, "-c", IMPORTS],
            "interpreter": [python, "-c", "pass"],
        }
        costs = run_in_turn(commands, int(sys.argv[1]) if len(sys.argv) > 1 else TIMES)
        count = count_ink(json.loads(Path(ink).read_text(encoding="utf-8")))
        sizes = [Path(path).stat().st_size / 1024 for path in (f"{out}/packet.pdf", f"{folder}/bare.pdf")]
    print(", ".join(f"{number} {name}" for name, number in count.items()))
    print(f"packet {sizes[0]:.0f} KiB, bare {sizes[1]:.0f} KiB")
    for name, found in costs.items():
        cost = median_of(found)
        print(f"{name:13} cpu {cost.cpu_s:.3f} s  wall {cost.wall_s:.3f} s  {cost.peak_mib:.0f} MiB")
    print(f"make / bare draw   {ratio_of(costs['make'], costs['bare draw']):.2f}")
    print(f"check / bare draw  {ratio_of(costs['check'], costs['bare draw']):.2f}")
    print(f"help / interpreter {ratio_of(costs['help'], costs['interpreter']):.2f}")


if __name__ == "__main__":
    main()
