"""All files or none: failures of every kind, and runs killed at every moment."""

import errno
import os
import signal
import warnings
from pathlib import Path
from typing import Any

import pytest
from killed import run_to_death

from docgen.write.files import REASONS, WriteFailed, explain, replace_files, write_new_files
from docgen.write.lock import LOCK, OWNER
from docgen.write.room import PREFIX

OLD = {"a.pdf": b"old a", "b.pdf": b"old b"}
NEW = {"a.pdf": b"new a" * 9000, "b.pdf": b"new b" * 9000, "c.pdf": b"new c" * 9000}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with two of three files from an earlier run, and one that is none of ours."""
    folder = tmp_path / "out"
    folder.mkdir()
    for name, content in OLD.items():
        (folder / name).write_bytes(content)
    (folder / "notes.txt").write_bytes(b"mine")
    return folder


def read_folder(folder: Path) -> dict[str, bytes]:
    """Name -> content of everything in the folder; a folder inside counts as None."""
    return {path.name: path.read_bytes() if path.is_file() else b"<folder>" for path in folder.iterdir()}


AS_BEFORE = {**OLD, "notes.txt": b"mine"}
AS_AFTER = {**NEW, "notes.txt": b"mine"}


def fail_at(monkeypatch: pytest.MonkeyPatch, name: str, count: int, code: int) -> None:
    """Let the `count`-th call of an `os` function, and it alone, end in an error of the system."""
    real, calls = getattr(os, name), iter(range(1, 1000))

    def stand_in(*given: Any, **named: Any) -> Any:
        if next(calls) == count:
            raise OSError(code, os.strerror(code))
        return real(*given, **named)

    monkeypatch.setattr(os, name, stand_in)


def test_files_are_put_in_place_and_nothing_else_is_left(folder: Path) -> None:
    assert replace_files(folder, NEW) == tuple(folder / name for name in NEW)
    assert read_folder(folder) == AS_AFTER


def test_a_missing_folder_is_made(tmp_path: Path) -> None:
    replace_files(tmp_path / "one" / "two", NEW)
    assert read_folder(tmp_path / "one" / "two") == NEW


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_full_disk_leaves_the_folder_as_it_was(folder: Path, monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    fail_at(monkeypatch, "fsync", count, errno.ENOSPC)
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder, NEW)
    name = list(NEW)[count - 1]
    assert str(caught.value) == f"cannot write {folder / name}: there is no space left on the disk"
    assert (caught.value.path, caught.value.why) == (folder / name, "there is no space left on the disk")
    assert read_folder(folder) == AS_BEFORE


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_move_that_fails_puts_back_what_was_moved(folder: Path, monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    fail_at(monkeypatch, "replace", count, errno.EACCES)
    fail_at(monkeypatch, "link", 3, errno.EPERM)  # two are kept so, and the third file, which is new, is moved so
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder, NEW)
    assert str(caught.value) == f"cannot write {folder / list(NEW)[count - 1]}: it is not allowed"
    assert read_folder(folder) == AS_BEFORE


def test_a_disk_without_second_names_is_written_to_all_the_same(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: Any) -> None:
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    with monkeypatch.context() as inner:
        fail_at(inner, "replace", 3, errno.EIO)
        with pytest.raises(WriteFailed, match="the disk reports a fault"):
            replace_files(folder, NEW)
    assert read_folder(folder) == AS_BEFORE
    replace_files(folder, NEW)
    assert read_folder(folder) == AS_AFTER


def test_a_run_stopped_by_hand_puts_back_what_was_moved(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = os.replace, iter(range(1, 1000))

    def stand_in(*given: Any) -> None:
        real(*given)
        if next(calls) == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", stand_in)
    with pytest.raises(KeyboardInterrupt):
        replace_files(folder, NEW)
    assert read_folder(folder) == AS_BEFORE


def test_a_target_that_is_a_folder_is_refused(folder: Path) -> None:
    (folder / "c.pdf").mkdir()
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder, NEW)
    assert str(caught.value) == f"cannot write {folder / 'c.pdf'}: there is a folder of that name"
    assert read_folder(folder) == {**AS_BEFORE, "c.pdf": b"<folder>"}


def test_a_folder_that_is_a_file_is_refused(folder: Path) -> None:
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder / "notes.txt", NEW)
    place = folder / "notes.txt"
    assert str(caught.value) == f"cannot write {place}: there is a file of that name, not a folder"
    assert read_folder(folder) == AS_BEFORE


def test_a_folder_below_a_file_is_refused(folder: Path) -> None:
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder / "notes.txt" / "out", NEW)
    place = folder / "notes.txt" / "out"
    assert str(caught.value) == f"cannot write {place}: a part of its path is a file, not a folder"


@pytest.mark.parametrize(("code", "why"), [(errno.EACCES, "it is not allowed"), (errno.EROFS, "the disk is read-only")])
def test_a_folder_that_takes_no_files_is_refused(
    folder: Path, monkeypatch: pytest.MonkeyPatch, code: int, why: str
) -> None:
    fail_at(monkeypatch, "mkdir", 2, code)  # the first call finds the folder there, the second is the hidden one
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder, NEW)
    assert str(caught.value) == f"cannot write {folder}: {why}"
    assert read_folder(folder) == AS_BEFORE


def test_what_a_killed_run_left_is_swept_by_the_next(folder: Path) -> None:
    left = folder / f"{PREFIX}abc"
    left.mkdir()
    (left / "a.pdf").write_bytes(b"half")
    replace_files(folder, NEW)
    assert read_folder(folder) == AS_AFTER


def test_every_reason_reads_as_words_for_a_person() -> None:
    told = {code: explain(OSError(code, "said by the system")) for code in REASONS}
    assert told == {
        errno.ENOSPC: "there is no space left on the disk",
        errno.EDQUOT: "there is no space left for you on the disk",
        errno.EFBIG: "the file is too big for the disk",
        errno.EACCES: "it is not allowed",
        errno.EPERM: "it is not allowed",
        errno.EROFS: "the disk is read-only",
        errno.EISDIR: "there is a folder of that name",
        errno.ENOTDIR: "a part of its path is a file, not a folder",
        errno.EEXIST: "there is a file of that name, not a folder",
        errno.EBUSY: "the file is open in another program",
        errno.ETXTBSY: "the file is open in another program",
        errno.ENAMETOOLONG: "the name is too long",
        errno.ENOENT: "it has gone",
        errno.EIO: "the disk reports a fault",
    }


def test_a_file_held_open_on_windows_is_said_to_be_open() -> None:
    error = PermissionError(errno.EACCES, "The process cannot access the file")
    error.winerror = 32  # type: ignore[attr-defined]
    assert explain(error) == "the file is open in another program"


def test_a_reason_we_have_no_words_for_is_given_as_the_system_says_it() -> None:
    assert explain(OSError(errno.ENXIO, "No such device")) == "no such device"
    assert explain(OSError()) == "the system gives no reason"


MOMENTS = [
    *[("fsync", count, "before") for count in (1, 2, 3)],
    ("link", 2, "after"),
    *[("replace", count, moment) for count in (1, 2) for moment in ("before", "after")],
    *[("link", 3, moment) for moment in ("before", "after")],
]


MOVES = (("replace", 1), ("replace", 2), ("link", 3))
"""The third file is new, and takes its place by a second name."""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no kill -9")
@pytest.mark.parametrize(("name", "count", "moment"), MOMENTS)
def test_a_killed_run_leaves_every_file_whole(folder: Path, name: str, count: int, moment: str) -> None:
    assert (
        run_to_death(lambda: replace_files(folder, NEW), (name,), count - 1, is_done=moment == "after")
        == -signal.SIGKILL
    )
    found = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file() and path.name != LOCK}
    moved = 0 if (name, count) not in MOVES else count - (moment == "before")
    expected = {**OLD, **dict(list(NEW.items())[:moved]), "notes.txt": b"mine"}
    assert found == expected
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        replace_files(folder, {"d.pdf": b"new d"})
    assert read_folder(folder) == {**(AS_AFTER if moved == 3 else AS_BEFORE), "d.pdf": b"new d"}
    names = ", ".join(list(NEW)[:moved])
    words = f"in {folder} a run before was stopped while it put its files in place; what stood there before is back"
    assert [str(one.message) for one in told] == ([f"{words}: {names}"] if moved in (1, 2) else [])


def test_folders_made_for_a_run_that_fails_go_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "kept").mkdir()
    for name in ("fsync", "replace"):
        for target in (folder / "kept" / "sub" / "deep", folder / "new", folder / "kept"):
            with monkeypatch.context() as inner:
                fail_at(inner, name, 1, errno.ENOSPC)
                fail_at(inner, "link", 1, errno.EPERM)
                with pytest.raises(WriteFailed):
                    replace_files(target, NEW)
    assert not (folder / "new").exists()
    assert list((folder / "kept").iterdir()) == []


def test_where_no_room_can_be_had_new_folders_go_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fail_at(monkeypatch, "mkdir", 3, errno.ENOSPC)
    with pytest.raises(WriteFailed):
        replace_files(folder / "one" / "two", NEW)
    assert not (folder / "one").exists()


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no such place here")
def test_a_place_where_no_folder_can_be_made_is_told() -> None:
    with pytest.raises(WriteFailed) as caught:
        replace_files(Path("/proc/xx"), NEW)
    assert str(caught.value) == "cannot write /proc/xx: no folder can be made there"


def test_what_another_program_puts_in_the_place_of_a_new_file_stays(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.link

    def stand_in(source: Path, target: Path) -> None:
        if Path(target) == folder / "c.pdf":
            (folder / "c.pdf").write_bytes(b"theirs")
        real(source, target)

    monkeypatch.setattr(os, "link", stand_in)
    with pytest.raises(WriteFailed) as caught:
        replace_files(folder, NEW)
    assert str(caught.value) == f"cannot write {folder / 'c.pdf'}: another program has just put it there"
    assert read_folder(folder) == {**AS_BEFORE, "c.pdf": b"theirs"}


def test_what_was_written_meanwhile_is_not_put_back(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.link

    def stand_in(source: Path, target: Path) -> None:
        if Path(target) == folder / "c.pdf":
            (folder / "a.pdf").unlink()
            (folder / "a.pdf").write_bytes(b"theirs")
            raise OSError(errno.EPERM, "no")
        real(source, target)

    monkeypatch.setattr(os, "link", stand_in)
    fail_at(monkeypatch, "replace", 3, errno.EIO)
    with pytest.raises(WriteFailed, match="the disk reports a fault"):
        replace_files(folder, NEW)
    assert read_folder(folder) == {**AS_BEFORE, "a.pdf": b"theirs"}


def test_what_cannot_be_put_back_is_told_kept_and_put_back_by_the_next_run(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, calls = os.replace, iter(range(1, 1000))

    def stand_in(*given: Any) -> None:
        if next(calls) > 1:
            raise OSError(errno.EIO, "broken")
        real(*given)

    with monkeypatch.context() as inner:
        inner.setattr(os, "replace", stand_in)
        with pytest.raises(WriteFailed) as caught:
            replace_files(folder, NEW)
    (room,) = folder.glob(f"{PREFIX}*")
    assert caught.value.left == (
        "not all could be put back as it was; the next run that writes there puts it back\n"
        f"what stood before at a.pdf lies in {room / '0.before'}"
    )
    assert (room / "0.before").read_bytes() == OLD["a.pdf"]
    with pytest.warns(UserWarning, match=r"what stood there before is back: a\.pdf"):
        replace_files(folder, {"d.pdf": b"d"})
    assert read_folder(folder) == {**AS_BEFORE, "d.pdf": b"d"}


@pytest.mark.parametrize("code", [errno.ENOLCK, errno.EOPNOTSUPP])
def test_a_disk_that_knows_no_locks_is_written_by_one_run_at_a_time_all_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    def refuse(_: int) -> None:
        raise OSError(code, "no locks here")

    monkeypatch.setattr("docgen.write.lock.take", refuse)
    monkeypatch.setattr("docgen.write.lock.WAIT_S", 0.05)
    replace_files(folder, NEW)
    assert read_folder(folder) == AS_AFTER
    (folder / OWNER).write_bytes(b"")
    with pytest.raises(WriteFailed, match=f"if none is, one was killed there: delete {OWNER} in it"):
        replace_files(folder, OLD)
    assert read_folder(folder) == {**AS_AFTER, OWNER: b""}


def test_a_journal_from_a_stranger_leads_nowhere_else(folder: Path, tmp_path: Path) -> None:
    mine = tmp_path / "mine.txt"
    mine.write_bytes(b"mine")
    found = os.lstat(mine)
    room = folder / f"{PREFIX}theirs"
    room.mkdir()
    (room / "0.before").write_bytes(b"theirs")
    (room / "1.before").write_bytes(b"theirs")
    marks = f"{found.st_ino}\0{found.st_size}\0{found.st_mtime_ns}\0"
    (room / "journal").write_bytes(f"../mine.txt\0{marks}{mine}\0{marks}nothing\x001\x001\x001\0end".encode())
    replace_files(folder, NEW)
    assert mine.read_bytes() == b"mine"
    assert read_folder(folder) == AS_AFTER


def test_a_new_file_that_is_there_already_is_refused_and_a_left_room_goes(folder: Path) -> None:
    (folder / f"{PREFIX}left").mkdir()
    with pytest.raises(WriteFailed) as caught:
        write_new_files(folder, {"a.pdf": b"other"})
    assert str(caught.value) == f"cannot write {folder / 'a.pdf'}: it is there already"
    assert read_folder(folder) == AS_BEFORE
