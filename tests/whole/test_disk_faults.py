"""Every command that writes killed, stopped, refused and held at each of its changes of the disk, alone or beside another;
but `scan`, which writes its one new file as `save` does.

What was on disk is there after, or what was asked for; what is said is true; nothing unfinished stays.
"""

import errno
import itertools
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from disk import Hold, Run, count_changes, is_hidden, kill_at, load_commands, read_all, refuse_at, stop_at

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the system parts no processes")

MOMENTS = int(os.environ.get("DOCGEN_MOMENTS", "5"))
"""At most so many of the changes of a run are tried, spread evenly; DOCGEN_MOMENTS=1000 tries every one."""

HAS_ALL_PAIRS = bool(os.environ.get("DOCGEN_ALL_PAIRS"))
"""Whether every pair of commands is held against each other, and not some; and each change refused for every reason."""

CODES = (errno.ENOSPC, errno.EACCES, errno.EIO, errno.EMFILE)

SPEC = """\
[spec]
code = "tag"
title = "Tag"
version = "2"
[shop]
link = "https://example.org/b"
[materials.hide]
kind = "leather"
thickness = "3-4 oz"
sold = "side"
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["3 in", "4 in"]
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["3 in", "2 in"]
"""
SHOP = '# mine\n[pattern]\npaper = "a4"\n\n[printers.attic]\nacross = "99.2 mm"\ndown = "100.5 mm"\n'
DAY = "2026-03-31"
MAKE = ("make", "tag.toml", "--out", ".", "--only", "cutting-list", "care-card", "--date")
COMMANDS = {
    "make": (*MAKE, DAY),
    "make later": (*MAKE, "2026-04-01"),
    "export": ("export", "tag.toml", "--to", "svg", "--out", "."),
    "new": ("new", "fresh"),
    "printer": ("printer", "office", "--across", "99.2 mm", "--down", "100.5 mm"),
    "printer two": ("printer", "cellar", "--across", "99.4 mm", "--down", "100.1 mm"),
    "issue": ("issue", "tag.toml", "--date", DAY),
    "site": ("site", "."),
    "layouts": ("layouts", "."),
    "save": ("trace", "old.pdf", "--save", "saved.toml"),
    "cut": ("cut", "tag.toml", "--out", ".", "--date", DAY),
    "lay": ("lay", "tag.toml", "--out", ".", "--date", DAY),
    "look": ("look", "tag.toml", "--to", "tag.html"),
}
SELDOM = ("make later", "printer two", *(() if HAS_ALL_PAIRS else ("cut", "lay", "look")))
ALONE = [name for name in COMMANDS if name not in SELDOM]
"""Those that are killed and refused; some write as `make` does, and take their turn in the long run alone."""

ALLOWED = {"save": (0, 4, 5, 6)}
"""Trace ends as the page stands, once all is written."""

ONCE = ("new", "layouts", "save")
"""They write no file that is there already, so that they end with 3 or 2 where they are done again."""


@pytest.fixture(scope="module", autouse=True)
def calm() -> Iterator[None]:
    """A day that stays, and short waiting for a folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", "1774915200")
        patch.setattr("docgen.write.lock.WAIT_S", 0.05)
        load_commands()
        yield


@pytest.fixture(scope="module")
def start(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a spec, a shop's file, issued versions and the documents of an earlier day."""
    folder = tmp_path_factory.mktemp("start") / "work"
    folder.mkdir()
    (folder / "tag.toml").write_text(SPEC.replace('"2"', '"1"', 1))
    (folder / "shop.toml").write_text(SHOP)
    run(folder, ("issue", "tag.toml", "--date", DAY))
    run(folder, (*MAKE, "2026-01-01"))
    shutil.copy(folder / "care-card.pdf", folder / "old.pdf")
    (folder / "tag.toml").write_text(SPEC)
    (folder / "back.svg").write_text("mine")
    return folder


def run(folder: Path, arguments: tuple[str, ...], expected: tuple[int, ...] = (0,)) -> str:
    code, words = Run(arguments, lambda name: None, folder, folder.with_suffix(".told")).end()
    assert code in expected, (code, words)
    return words


@pytest.fixture
def work(start: Path, tmp_path: Path) -> Path:
    return shutil.copytree(start, tmp_path / "work")


def renew(start: Path, work: Path) -> Path:
    shutil.rmtree(work)
    return shutil.copytree(start, work)


def outcome(name: str, start: Path, tmp_path: Path) -> tuple[dict[str, bytes], int]:
    """The folder after the command alone, and how often it changed the disk."""
    work = shutil.copytree(start, tmp_path / "alone")
    changes = count_changes(COMMANDS[name], work, tmp_path / "alone.told", ALLOWED.get(name, (0,)))
    found = read_all(work, hidden=True)
    assert not any(map(is_hidden, found)), "something unfinished stays"
    assert found != read_all(start)
    return found, len(changes)


def spread(count: int, most: int) -> list[int]:
    """All moments, or so many of them, evenly, with the first and the last."""
    return sorted({round(at * (count - 1) / (most - 1)) for at in range(most)}) if count > most else [*range(count)]


@pytest.mark.parametrize("name", ALONE)
def test_killed_anywhere_every_file_is_whole_and_the_next_run_mends_and_says_it(
    name: str, start: Path, work: Path, tmp_path: Path
) -> None:
    before = read_all(start)
    after, count = outcome(name, start, tmp_path)
    for moment in spread(count, MOMENTS):
        work = renew(start, work)
        code, _ = Run(COMMANDS[name], kill_at(moment), work, tmp_path / "told").end()
        assert code == -9
        killed = read_all(work)
        assert before.keys() <= killed.keys()
        assert all(held in (before.get(path), after.get(path)) for path, held in killed.items()), moment
        is_mixed = killed not in (before, after)
        code, words = Run(COMMANDS[name], lambda name: None, work, tmp_path / "told").end()
        assert code in ((0, 2, 3) if name in ONCE else (0,)), (moment, words)
        assert read_all(work, hidden=True) == after, (moment, words)
        assert ("a run before was stopped while it put its files in place" in words) == is_mixed, (moment, words)


@pytest.mark.parametrize("name", ALONE)
def test_stopped_anywhere_the_folder_holds_what_it_held_or_what_was_asked_for(
    name: str, start: Path, work: Path, tmp_path: Path
) -> None:
    before = read_all(start)
    after, count = outcome(name, start, tmp_path)
    for moment in spread(count, MOMENTS):
        work = renew(start, work)
        code, words = Run(COMMANDS[name], stop_at(moment), work, tmp_path / "told").end()
        assert (code, words.splitlines()[-1]) == (130, "stopped"), (moment, words)
        assert read_all(work) in (before, after), (moment, words)
        Run(COMMANDS[name], lambda name: None, work, tmp_path / "told").end()
        assert read_all(work, hidden=True) == after, moment


@pytest.mark.parametrize("lasting", [False, True], ids=["once", "from then on"])
@pytest.mark.parametrize("name", ALONE)
def test_refused_anywhere_what_is_said_is_true(
    name: str, lasting: bool, start: Path, work: Path, tmp_path: Path
) -> None:
    before = read_all(start)
    after, count = outcome(name, start, tmp_path)
    tried = [(moment, CODES[moment % len(CODES)]) for moment in spread(count, MOMENTS)]
    for moment, refusal in itertools.product(range(count), CODES) if HAS_ALL_PAIRS else tried:
        work = renew(start, work)
        act = refuse_at(moment, refusal, lasting)
        code, words = Run(COMMANDS[name], act, work, tmp_path / "told").end()
        found = read_all(work)
        assert code in (3, *ALLOWED.get(name, (0,))), (moment, words)
        if code != 3:
            assert found == after, (moment, words)
        elif "not all could be put back" not in words:
            assert found == before, (moment, words)
        everything = read_all(work, hidden=True)
        lost = [path for path in before if before[path] not in everything.values() and found[path] != after[path]]
        assert not lost, (moment, words)
        if not lasting:
            assert not any(map(is_hidden, everything)) or found == after, (moment, words)
        Run(COMMANDS[name], lambda name: None, work, tmp_path / "told").end()
        assert read_all(work, hidden=True) == after, moment


SOME_PAIRS = [
    *[("make", other) for other in ("make later", "printer", "export")],
    *[("printer", other) for other in ("printer two", "new", "make")],
    *[("issue", "issue"), ("site", "site"), ("layouts", "layouts"), ("save", "save"), ("new", "new")],
    *[("export", "make"), ("save", "printer"), ("layouts", "printer")],
]

PAIRS = [(name, other) for name in COMMANDS for other in COMMANDS] if HAS_ALL_PAIRS else SOME_PAIRS


@pytest.mark.parametrize(("name", "other"), PAIRS)
def test_held_anywhere_while_another_runs_nothing_is_lost(
    name: str, other: str, start: Path, work: Path, tmp_path: Path
) -> None:
    _, count = outcome(name, start, tmp_path)
    for moment in spread(count, MOMENTS // 2):
        work = renew(start, work)
        hold = Hold(moment)
        first = Run(COMMANDS[name], hold.act(), work, tmp_path / "first")
        hold.wait()
        second = Run(COMMANDS[other], lambda name: None, work, tmp_path / "second").end()
        hold.let_go()
        ends = {"first": first.end(), "second": second}
        done = [which for which, (code, _) in ends.items() if code in (0, 4, 5, 6)]
        assert done, (moment, ends)
        for code, words in ends.values():
            assert code in (0, 2, 3, 4, 5, 6), (moment, words)
            assert code != 3 or "another run is writing" in words or "there already" in words, (moment, words)
        found = read_all(work, hidden=True)
        assert found in in_turn(start, tmp_path, name, other, done), (moment, ends, found.keys())


def in_turn(start: Path, tmp_path: Path, name: str, other: str, done: list[str]) -> list[dict[str, bytes]]:
    """What the runs that were done leave, one after another, either way round."""
    lines = {"first": COMMANDS[name], "second": COMMANDS[other]}
    key = tuple(done)
    if key not in (known := KNOWN.setdefault((name, other), {})):
        orders = [done, done[::-1]]
        known[key] = []
        for at, order in enumerate(orders):
            work = shutil.copytree(start, tmp_path / f"turn-{'-'.join(done)}-{at}")
            for which in order:
                Run(lines[which], lambda name: None, work, tmp_path / "told").end()
            known[key].append(read_all(work, hidden=True))
    return known[key]


KNOWN: dict[tuple[str, str], dict[tuple[str, ...], list[dict[str, bytes]]]] = {}


def test_of_eight_printers_recorded_at_once_all_are_in_the_file(
    work: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("docgen.write.lock.WAIT_S", 30.0)
    names = [f"room-{number}" for number in range(8)]
    runs = [
        Run(("printer", name, "--across", "99 mm", "--down", "99 mm"), lambda name: None, work, tmp_path / name)
        for name in names
    ]
    ends = [each.end() for each in runs]
    assert [code for code, _ in ends] == [0] * 8, ends
    written = (work / "shop.toml").read_text()
    assert written.startswith(SHOP)
    assert all(f"[printers.{name}]" in written for name in names)
    assert not any(map(is_hidden, os.listdir(work)))
