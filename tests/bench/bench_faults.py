"""How many small faults the tests notice: all are put into one copy of the program, each asleep until it is called.

    python tests/bench/bench_faults.py                 160 faults, drawn at random over all packages
    python tests/bench/bench_faults.py --number 40 --seed 7 --only docgen/versions
    python tests/bench/bench_faults.py --seed 11 21    two draws at once
    python tests/bench/bench_faults.py --seed 11 --marks 00ab 01f3    some of a draw again, by how their marks begin

A fault is one change of one place: a comparison or a sum turned round, a condition denied, a number moved, a truth in
place of another, two arguments changed over, a statement left out. The tests are collected once; a fork of that process
runs a file of them and notes which cases come to which fault, and a fork for each fault wakes it and runs them until one
fails. One that runs for ever is noticed too. A fault in what runs while modules load is woken in a process of its own,
with the cases that come to a function where its name is used. First the tests of the same room, then all others, the
quick ones first. What nothing notices is printed with its change, to be closed by a test, or found to change nothing.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import json
import os
import re
import resource
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path
from typing import Any

from faults.drawn import Fault, draw_faults, put_in

AIM = 0.97
LONGEST_S, MOST_S = 12, 60  # CPU seconds over what the cases take without a fault; of one fault in all


class Session:
    """One of the processes that share the files of tests, then the faults, by folders that only one of them can make."""

    def __init__(self, folder: Path, items: list[Any]) -> None:
        self.folder = folder
        self.faults = read_faults(folder)
        self.files: dict[str, list[Any]] = defaultdict(list)
        for item in items:
            self.files[item.nodeid.partition("::")[0]].append(item)

    def run(self) -> None:
        for at, name in enumerate(self.files):
            if claim(self.folder, f"file-{at}"):
                self.record(at, name)
        while len(list(self.folder.glob("record-*.json"))) < len(self.files):
            time.sleep(0.5)
        records = read_records(self.folder)
        for fault in self.faults:
            if fault.late and claim(self.folder, f"fault-{fault.number}"):
                self.try_elsewhere(fault, records)

    def record(self, at: int, name: str) -> None:
        """Which cases of a file come to which fault, and how long each takes; then its faults in these."""
        said = fork(lambda: json.dumps(record_cases(self.files[name])), 900, 0)
        cases = json.loads(said or "[]")
        staged = self.folder / f"staged-{at}"
        staged.write_text(json.dumps({"file": name, "cases": cases}), encoding="utf-8")
        staged.rename(self.folder / f"record-{at}.json")
        for fault in self.faults:
            if fault.late and is_near(fault, name):
                self.try_in(fault, name, cases)

    def try_elsewhere(self, fault: Fault, records: dict[str, list[Any]]) -> None:
        cost = {name: sum_of_met(fault.number, cases) for name, cases in records.items()}
        spent = 0.0
        for name in sorted((name for name in cost if cost[name] and not is_near(fault, name)), key=lambda it: cost[it]):
            spent += min(cost[name], LONGEST_S) + 0.2
            if spent > MOST_S or is_told(self.folder, fault):
                return
            self.try_in(fault, name, records[name])

    def try_in(self, fault: Fault, name: str, cases: list[Any]) -> None:
        """Wake the fault for the cases of this file that come to it, and for those that may use what they have kept."""
        met = [at for at, (failed, _, met) in enumerate(cases) if fault.number in met and not failed]
        if not met or is_told(self.folder, fault):
            return
        rest = [at for at, (failed, _, _) in enumerate(cases) if at not in met and not failed]
        wanted, total = [], 0.0
        for at in [*sorted(met, key=lambda at: cases[at][1]), *sorted(rest, key=lambda at: cases[at][1])]:
            if wanted and total + cases[at][1] > (LONGEST_S if at in met else LONGEST_S / 3):
                break
            wanted.append(self.files[name][at])
            total += cases[at][1]
        failed = fork(lambda: find_failing(wanted), LONGEST_S + 3 * total, fault.number)
        if failed != "-":
            (self.folder / f"noticed-{fault.number}").write_text(failed or f"{name} does not end", encoding="utf-8")


def record_cases(items: list[Any]) -> list[tuple[bool, float, list[int]]]:
    import fault_waker

    found = []
    for item, after in zip(items, [*items[1:], None], strict=True):
        fault_waker.met.clear()
        begun = sum(os.times()[:4])
        failed = is_failing(item, after)
        found.append((failed, sum(os.times()[:4]) - begun, sorted(fault_waker.met)))
    return found


def find_failing(items: list[Any]) -> str:
    """The name of the first case that fails, "-" for none."""
    for item, after in zip(items, [*items[1:], None], strict=True):
        if is_failing(item, after):
            return str(item.nodeid)
    return "-"


def is_failing(item: Any, after: Any) -> bool:
    from _pytest.runner import runtestprotocol

    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=after))


def fork(action: Callable[[], str], limit_s: float, fault: int) -> str:
    """What a fork of this process says with this fault awake; "" when it has to be stopped."""
    import fault_waker

    out, into = os.pipe()
    pid = os.fork()
    if not pid:
        try:
            os.setpgid(0, 0)
            os.close(out)
            resource.setrlimit(resource.RLIMIT_CPU, (int(limit_s) + 1, int(limit_s) + 2))
            signal.alarm(int(60 * limit_s) + 120)  # on a busy machine the clock runs on
            fault_waker.awake = fault
            os.environ["DOCGEN_FAULT"] = str(fault)
            os.write(into, b"")
            said = action().encode()
            with open(into, "wb", closefd=True) as file:
                file.write(said)
        finally:
            os._exit(0)
    os.close(into)
    with open(out, encoding="utf-8") as file:
        said = file.read()
    os.waitpid(pid, 0)
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(pid, signal.SIGKILL)
    return said


def claim(folder: Path, name: str) -> bool:
    try:
        (folder / f"claim-{name}").mkdir()
    except FileExistsError:
        return False
    return True


def is_told(folder: Path, fault: Fault) -> bool:
    return (folder / f"noticed-{fault.number}").exists()


def is_near(fault: Fault, name: str) -> bool:
    """Whether a file of tests stands where one looks for those of this fault."""
    words = {word.rstrip("s") for word in re.split(r"[/_.]", fault.path)[1:-1]}
    own = name.split("/")[1] == fault.room and len(words & {word.rstrip("s") for word in re.split(r"[/_.]", name)}) > 1
    return own or (name.count("/") == 1 and bool(words & {word.rstrip("s") for word in re.split(r"[/_.]", name)[2:-1]}))


def sum_of_met(number: int, cases: list[Any]) -> float:
    return float(sum(took + 0.01 for failed, took, met in cases if number in met and not failed))


def read_faults(folder: Path) -> list[Fault]:
    return [Fault(**item) for item in json.loads((folder / "faults.json").read_text(encoding="utf-8"))]


def read_records(folder: Path) -> dict[str, list[Any]]:
    records = [json.loads(path.read_text(encoding="utf-8")) for path in folder.glob("record-*.json")]
    return {record["file"]: record["cases"] for record in records}


def pytest_collection_modifyitems(items: list[Any]) -> None:
    """This file as a plugin of pytest: with a fault awake only the wanted cases, in the order in which they are wanted."""
    if "DOCGEN_FAULT" in os.environ:
        wanted = json.loads(os.environ["DOCGEN_CASES"])
        order = {tuple(case): place for place, case in enumerate(wanted)}
        count: Counter[str] = Counter()
        chosen = []
        for item in items:
            name = item.nodeid.partition("::")[0]
            place = order.get((name, count[name]))
            count[name] += 1
            if place is not None:
                chosen.append((place, item))
        items[:] = [item for _, item in sorted(chosen, key=lambda pair: pair[0])]


def pytest_runtestloop(session: Any) -> bool | None:
    """All faults, in forks of this process; None where one is awake already: then the cases run as ever."""
    if "DOCGEN_FAULT" in os.environ:
        return None
    gc.freeze()
    Session(Path(os.environ["DOCGEN_BENCH"]), session.items).run()
    return True


def run_pytest(folder: Path, words: Iterable[str], **more: str) -> int:
    run = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "--capture=sys",
        "-p",
        "no:cacheprovider",
        "-p",
        "bench_faults",
        *words,
    ]
    path = os.pathsep.join((str(folder / "copy"), str(folder / "copy" / "tests" / "bench")))
    env = os.environ | {"PYTHONPATH": path, "DOCGEN_BENCH": str(folder), "TMPDIR": str(folder / "tmp")} | more
    env["HYPOTHESIS_STORAGE_DIRECTORY"] = str(folder / "hypothesis")
    with open(folder / "said.txt", "a", encoding="utf-8") as said:
        limit = float(more.get("DOCGEN_LIMIT", "1e6"))
        try:
            return subprocess.run(run, cwd=folder / "copy", env=env, stdout=said, stderr=said, timeout=limit).returncode
        except subprocess.TimeoutExpired:
            return -1


def try_early(fault: Fault, folder: Path, records: dict[str, list[Any]]) -> None:
    """Wake a fault of what runs while modules load in a process of its own."""
    if fault.late:
        return
    met = [
        (not is_near(fault, name), name.split("/")[1] != fault.room, took, name, at)
        for name, cases in records.items()
        for at, (failed, took, met) in enumerate(cases)
        if not failed and -fault.number in met
    ]
    if not met:
        met = [
            (not is_near(fault, name), False, took, name, at)
            for name, cases in records.items()
            for at, (failed, took, _) in enumerate(cases)
            if not failed and (is_near(fault, name) or name.split("/")[1] == fault.room)
        ]
    met.sort()
    for limit_s, files_most in ((6.0, 5), (MOST_S, 60)):
        total, wanted, files = 0.0, [], set()
        for _, _, took, name, at in met:
            if (name in files or len(files) < files_most) and total + took < limit_s:
                files.add(name)
                wanted.append((name, at))
                total += took
        more = {
            "DOCGEN_FAULT": str(fault.number),
            "DOCGEN_CASES": json.dumps(wanted),
            "DOCGEN_LIMIT": str(60 + 10 * limit_s),
        }
        if wanted and run_pytest(folder, ("-x", *dict.fromkeys(name for name, _ in wanted)), **more) not in (0, 5):
            (folder / f"noticed-{fault.number}").write_text("while modules load", encoding="utf-8")
            return


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--number", type=int, default=160)
    parser.add_argument("--seed", type=int, default=[1], nargs="+")
    parser.add_argument("--only", default="docgen/")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--tests", nargs="*", default=[], help="files of tests; all of them if left out")
    parser.add_argument("--kept", type=Path, help="an empty folder for what is found, to look into")
    parser.add_argument("--marks", nargs="*", default=[""])
    chosen = parser.parse_args()
    draws = [
        draw_faults(chosen.number, seed, chosen.only, 1 + at * chosen.number) for at, seed in enumerate(chosen.seed)
    ]
    draws = [[fault for fault in draw if fault.mark.startswith(tuple(chosen.marks))] for draw in draws]
    with tempfile.TemporaryDirectory() as folder:
        find_noticed([fault for draw in draws for fault in draw], chosen.kept or Path(folder), chosen)
        for seed, draw in zip(chosen.seed, draws, strict=True):
            tell(draw, chosen.kept or Path(folder), seed)


def find_noticed(faults: list[Fault], folder: Path, chosen: argparse.Namespace) -> None:
    """A file `noticed-NUMBER` in the folder for each fault that is noticed."""
    for name in ("copy", "tmp"):
        (folder / name).mkdir(parents=True)
    (folder / "faults.json").write_text(json.dumps([asdict(fault) for fault in faults]), encoding="utf-8")
    put_in(faults, folder / "copy")
    with ThreadPoolExecutor(chosen.at_once) as pool:
        list(pool.map(lambda _: run_pytest(folder, chosen.tests), range(chosen.at_once)))
        records = read_records(folder)
        list(pool.map(lambda fault: try_early(fault, folder, records), faults))


def tell(faults: list[Fault], folder: Path, seed: int) -> None:
    """Print what was noticed, by package, and whole what was not."""
    drawn = Counter(fault.room for fault in faults)
    missed = [fault for fault in faults if not is_told(folder, fault)]
    lost = Counter(fault.room for fault in missed)
    for name in sorted(drawn):
        print(f"{name:12} {drawn[name] - lost[name]:4} of {drawn[name]:4}")
    for fault in missed:
        print(fault.words)
    noticed = len(faults) - len(missed)
    print(f"seed {seed}: noticed {noticed} of {len(faults)}: {noticed / max(len(faults), 1):.1%} (aim {AIM:.0%})")


if __name__ == "__main__":
    main()
