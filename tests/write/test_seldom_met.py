"""What a disk does seldom while files are written: faults at the lock, folders that go, rooms that nobody can clear."""

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.write import WriteFailed, files, lock, replace_files
from docgen.write.ours import read_ours
from docgen.write.room import stage, write_journal


def raises(code: int) -> Callable[..., None]:
    def call(*given: object, **named: object) -> None:
        raise OSError(code, os.strerror(code))

    return call


def test_a_fault_at_the_lock_is_told_and_lets_it_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = len(os.listdir("/proc/self/fd")) if Path("/proc/self/fd").is_dir() else 0
    with monkeypatch.context() as patch:
        patch.setattr(lock, "take", raises(errno.EIO))
        with pytest.raises(WriteFailed, match="the disk reports a fault"):
            replace_files(tmp_path, {"a": b"a"})
    after = len(os.listdir("/proc/self/fd")) if Path("/proc/self/fd").is_dir() else 0
    assert after == before, "the lock stays open"
    replace_files(tmp_path, {"a": b"a"})
    assert os.listdir(tmp_path) == ["a"]


def test_a_lock_that_its_run_took_away_meanwhile_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, gone = lock.take, []

    def take(handle: int) -> None:
        real(handle)
        if not gone:
            gone.append(True)
            (tmp_path / lock.LOCK).unlink()

    monkeypatch.setattr(lock, "take", take)
    with lock.lock_folder(tmp_path):
        assert (tmp_path / lock.LOCK).exists()
    assert os.listdir(tmp_path) == []


def test_where_the_disk_knows_no_locks_the_owner_has_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "take", raises(errno.ENOLCK))
    with lock.lock_folder(tmp_path), pytest.raises(lock.FolderBusy, match=f"delete {lock.OWNER} in it"):  # noqa: SIM117
        with lock.lock_folder(tmp_path, 0.0):
            pass
    assert os.listdir(tmp_path) == []


def test_a_folder_that_goes_before_it_is_had_is_made_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, times = files.lock_folder, []

    def lock_folder(folder: Path) -> object:
        times.append(folder)
        if len(times) < 3:
            folder.rmdir()
        return real(folder)

    monkeypatch.setattr(files, "lock_folder", lock_folder)
    replace_files(tmp_path / "new", {"a": b"a"})
    assert (tmp_path / "new" / "a").read_bytes() == b"a"
    monkeypatch.setattr(files, "lock_folder", raises(errno.ENOENT))
    with pytest.raises(WriteFailed, match="it has gone"):
        replace_files(tmp_path / "other", {"a": b"a"})
    assert not (tmp_path / "other").exists()


def leave_half_done(folder: Path) -> Path:
    """A room of a run that was stopped between two of its files: the first is in its place."""
    for name in ("one", "two"):
        (folder / name).write_bytes(b"before")
    room = folder / f"{files.PREFIX}x"
    room.mkdir()
    guests = [stage(room, number, name, b"after") for number, name in enumerate(("one", "two"))]
    write_journal(room, guests)
    os.replace(guests[0].waiting, guests[0].target)
    return room


def test_what_a_run_before_left_and_nobody_can_put_back_is_told_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = leave_half_done(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", raises(errno.EIO))
        with pytest.raises(WriteFailed, match="what a run before left half-done cannot be put back") as caught:
            replace_files(tmp_path, {"three": b"3"})
    assert caught.value.left == (
        "not all could be put back as it was; the next run that writes there puts it back\n"
        f"what stood before at one lies in {room / '0.before'}"
    )
    assert (room / "0.before").read_bytes() == b"before"
    with pytest.warns(files.PutBackWarning, match="what stood there before is back: one"):
        replace_files(tmp_path, {"three": b"3"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {
        "one": b"before",
        "two": b"before",
        "three": b"3",
    }


@pytest.mark.parametrize(
    "held", [None, b"one\0001\0002\0003", b"one\0001\0end"], ids=["a folder", "no end", "three of four"]
)
def test_a_journal_that_is_not_whole_says_that_nothing_was_moved(tmp_path: Path, held: bytes | None) -> None:
    room = leave_half_done(tmp_path)
    journal = room / "journal"
    journal.unlink()
    if held is None:
        journal.mkdir()
    else:
        journal.write_bytes(held)
    assert not files.is_half_done(tmp_path)
    replace_files(tmp_path, {"three": b"3"})
    assert sorted(os.listdir(tmp_path)) == ["one", "three", "two"]


def test_a_folder_that_cannot_be_looked_into_is_not_called_half_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    leave_half_done(tmp_path)
    assert files.is_half_done(tmp_path)
    monkeypatch.setattr(files, "find_rooms", raises(errno.EACCES))
    assert not files.is_half_done(tmp_path)


def test_a_file_that_cannot_be_read_is_not_the_same(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"a")
    assert files.holds(tmp_path / "a", b"a")
    assert not files.holds(tmp_path / "a", b"b")
    assert not files.holds(tmp_path / "gone", b"a")


def test_only_a_file_of_ours_is_read_for_its_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "page.html"
    path.mkdir()
    assert read_ours(path, b"docgen", 100) is None
    path.rmdir()
    path.write_bytes(b"of another")
    with pytest.raises(WriteFailed, match="not from docgen"):
        read_ours(path, b"docgen", 100)
    monkeypatch.setattr("docgen.read.read_ordinary", raises(errno.EIO))
    with pytest.raises(WriteFailed, match="the disk reports a fault"):
        read_ours(path, b"docgen", 100)
