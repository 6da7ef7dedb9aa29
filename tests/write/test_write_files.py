"""All files or none: failures of every kind, and runs killed at every moment."""

import errno
import os
import signal
from pathlib import Path
from typing import Any

import pytest
from killed import run_to_death

from docgen.write.files import PREFIX, REASONS, WriteFailed, explain, replace_files

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
        errno.ENOENT: "it has gone, or another run is writing to the same folder",
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
    *[("replace", count, moment) for count in (1, 2, 3) for moment in ("before", "after")],
]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no kill -9")
@pytest.mark.parametrize(("name", "count", "moment"), MOMENTS)
def test_a_killed_run_leaves_every_file_whole(folder: Path, name: str, count: int, moment: str) -> None:
    assert (
        run_to_death(lambda: replace_files(folder, NEW), (name,), count - 1, is_done=moment == "after")
        == -signal.SIGKILL
    )
    found = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    moved = 0 if name != "replace" else count - (moment == "before")
    expected = {**OLD, **dict(list(NEW.items())[:moved]), "notes.txt": b"mine"}
    assert found == expected
    replace_files(folder, NEW)
    assert read_folder(folder) == AS_AFTER


def test_folders_made_for_a_run_that_fails_go_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "kept").mkdir()
    for name in ("fsync", "replace"):
        for target in (folder / "kept" / "sub" / "deep", folder / "new", folder / "kept"):
            with monkeypatch.context() as inner:
                fail_at(inner, name, 1, errno.ENOSPC)
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
