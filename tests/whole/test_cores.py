"""Variants made on several cores: the same bytes, the same words where something is wrong, and nothing left behind."""

import contextlib
import multiprocessing
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from spec_text import write_out

from docgen import build_documents
from docgen.calls import cores
from docgen.calls.asked import IssueCall
from docgen.calls.cores import work_each
from docgen.calls.issue import issue_spec
from docgen.problems import SpecRejected, render_problems

SPEC = write_out("""\
<spec mat: Mat, version 1>

[measures]
width = "200 mm"

<leather hide: 2 mm>

<rectangle top of hide: ["width", "100 mm"]>
holes = [{ at = "centre, 20 mm from top", punch = "5 mm" }]
""")
FORKS = pytest.mark.skipif(not cores.FORKS, reason="processes are made anew here, and know nothing of a test")


def write_spec(folder: Path, *widths: str) -> Path:
    variants = (f'[variants.v{n}]\nmeasures = {{ width = "{width}" }}\n' for n, width in enumerate(widths))
    path = folder / "mat.toml"
    path.write_text(SPEC + "".join(variants), encoding="utf-8")
    return path


def read_all(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_any_number_of_cores_writes_the_same_bytes(tmp_path: Path) -> None:
    spec = write_spec(tmp_path, "150 mm", "160 mm", "330 mm", "170 mm", "180 mm")
    outcomes = [
        build_documents(spec, tmp_path / str(count), date="2026-03-31", csv=True, cores=count) for count in (1, 2, 3)
    ]
    one, two, three = (read_all(tmp_path / str(count)) for count in (1, 2, 3))
    assert len(one) == 5 * (5 + 5) + 1 + 5  # documents and tables of each variant, and of the joint list
    assert one == two == three
    told = [(outcome.pages, outcome.count, outcome.cautions, outcome.worked_out) for outcome in outcomes]
    assert told[0] == told[1] == told[2]


def test_any_number_of_cores_issues_the_same_record(tmp_path: Path) -> None:
    found = []
    for count in (1, 2):
        folder = tmp_path / str(count)
        folder.mkdir()
        spec = write_spec(folder, "150 mm", "160 mm", "330 mm")
        issued = issue_spec(IssueCall(spec=spec, date="2026-03-31"), count).issued
        found.append(read_all(issued.folder))
    assert found[0] == found[1]
    assert found[0]["pages.toml"].count(b"[[documents]]") == 3 * 4


def test_wrong_variants_are_told_in_the_same_words(tmp_path: Path) -> None:
    spec = write_spec(tmp_path, "150 mm", "0 mm", "160 mm", "0 mm")
    told = []
    for count in (1, 2):
        with pytest.raises(SpecRejected) as caught:
            build_documents(spec, tmp_path / "out", cores=count)
        told.append(render_problems(caught.value.problems))
    assert told[0] == told[1]
    for name in ("v1", "v3"):  # each at the line of its own figure
        assert f'in the variant "{name}": this comes to 0 mm; "width" on line ' in told[0]
    assert not (tmp_path / "out").exists()


@FORKS
def test_work_is_done_elsewhere_and_comes_back_in_order() -> None:
    results = list(work_each(lambda number: (number, os.getpid()), 7, 3))
    assert [number for number, _ in results] == list(range(7))
    assert os.getpid() not in {process for _, process in results}
    assert len({process for _, process in results}) == 3


@FORKS
def test_what_a_lost_process_leaves_is_done_here() -> None:
    here = os.getpid()

    def work(number: int) -> tuple[int, bool]:
        if os.getpid() != here and number >= 2:
            os.kill(os.getpid(), signal.SIGKILL)
        return number, os.getpid() == here

    assert list(work_each(work, 6, 2)) == [(number, number >= 2) for number in range(6)]


@FORKS
def test_what_cannot_be_sent_is_done_here() -> None:
    results = list(work_each(lambda number: lambda: number, 4, 2))
    assert [result() for result in results] == [0, 1, 2, 3]


@FORKS
def test_an_error_is_raised_here_for_the_first_number_that_fails() -> None:
    done = []

    def work(number: int) -> int:
        if number >= 3:
            raise ValueError(f"no {number}")
        return number

    with pytest.raises(ValueError, match=r"^no 3$"):
        done += work_each(work, 6, 2)
    assert multiprocessing.active_children() == []


@pytest.mark.parametrize("reason", ["one core", "one piece of work", "no process to be had", "other threads"])
def test_on_one_core_all_is_done_here(monkeypatch: pytest.MonkeyPatch, reason: str) -> None:
    def refuse(*given: object, **more: object) -> None:
        raise OSError("no more processes")

    ended = threading.Event()
    if reason == "no process to be had":
        monkeypatch.setattr("multiprocessing.process.BaseProcess.start", refuse)
    elif reason == "other threads":
        threading.Thread(target=ended.wait, daemon=True).start()
    count = 1 if reason == "one piece of work" else 4
    try:
        results = list(work_each(lambda number: (number, os.getpid()), count, 1 if reason == "one core" else 2))
    finally:
        ended.set()
    assert results == [(number, os.getpid()) for number in range(count)]


@FORKS
def test_stopped_from_the_keyboard_nothing_is_written_and_no_process_left(tmp_path: Path) -> None:
    """Ctrl-C reaches every process of a run (POSIX, General Terminal Interface: the foreground process group)."""
    spec = write_spec(tmp_path, *(f"{150 + number} mm" for number in range(20)))
    command = [sys.executable, "-c", "from docgen.calls import cores; cores.count_cores = lambda: 2\n" + RUN, "make"]
    run = subprocess.Popen(
        [*command, str(spec), "--out", str(tmp_path / "out")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    wait_for(lambda: len(list_group(run.pid)) > 1)
    os.killpg(run.pid, signal.SIGINT)
    said, told = run.communicate(timeout=60)
    assert (run.returncode, said) == (130, "")
    assert [line for line in told.splitlines() if not line.endswith(" ...")] == ["stopped"]
    assert not (tmp_path / "out").exists()
    wait_for(lambda: list_group(run.pid) == [])


RUN = "import sys; from docgen.__main__ import run; sys.exit(run())"


def list_group(leader: int) -> list[str]:
    """The processes of a group that have not ended (proc(5): the fifth field of stat, after a name in brackets)."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            state, _, group, *_ = path.read_text().rpartition(")")[2].split()
            found += [path.parent.name] if int(group) == leader and state != "Z" else []
    return found


def wait_for(is_so: object) -> None:
    for _ in range(600):
        if is_so():  # type: ignore[operator]
            return
        time.sleep(0.05)
    raise AssertionError("it never came")
