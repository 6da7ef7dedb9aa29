"""Files in a folder, all or none: written whole beside their places first, then moved there.

A run that is killed leaves every file either as it was or as it was to be, never in part.
"""

import contextlib
import errno
import os
import shutil
import tempfile
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

PREFIX: Final = ".docgen-unfinished-"
"""Begins the name of the hidden folder where files wait; what a killed run left is known by it."""

ABANDONED_S: Final = 3600.0
"""What another run has left unfinished for so long is swept from where folders are added; a younger one may still be at
work."""

REASONS: Final = {
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
"""Error number (errno) -> the reason in words for a person."""

NO_PLACE: Final = "no folder can be made there"

OPEN_ELSEWHERE: Final = (32, 33)
"""Windows error codes for a file that another program holds open (sharing violation, lock violation)."""


class WriteFailed(Exception):
    """A file could not be written; the folder holds what it held before. `path` says which, `why` why."""

    def __init__(self, path: Path, why: str) -> None:
        self.path = path
        self.why = why
        super().__init__(f"cannot write {path}: {why}")


def replace_files(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Put files (name -> bytes) into a folder, made when it is missing; returns their paths in that order.

    A name may lead into a folder inside ("small/pattern.pdf"). Raises WriteFailed when the folder cannot take all of
    them; those already there are then as they were.
    """
    targets = tuple(folder / name for name in contents)
    made: list[Path] = []
    with undo_folders(made):
        make_folders(folder, made)
        room = _prepare(folder, 0.0)
        _fill(room, targets, contents, made)
    for inner in dict.fromkeys((folder, *(target.parent for target in targets))):
        _settle(inner)
    return targets


def _fill(room: Path, targets: tuple[Path, ...], contents: Mapping[str, bytes], made: list[Path]) -> None:
    """Every file into the room, then to its place; the room goes in any case."""
    try:
        for target, content in zip(targets, contents.values(), strict=True):
            if not target.parent.is_dir():
                make_folders(target.parent, made)
            _stage(room, target, content)
        _move_all(room, targets)
    finally:
        shutil.rmtree(room, ignore_errors=True)


@contextlib.contextmanager
def undo_folders(made: list[Path]) -> Iterator[None]:
    """Where what is done inside fails, the folders in `made`, outer ones first, go again as far as they are empty."""
    try:
        yield
    except BaseException:
        for inner in reversed(made):
            with contextlib.suppress(OSError):
                inner.rmdir()
        raise


def write_new_files(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """As `replace_files`, but where one of the names is taken already, be it by a link, WriteFailed is raised."""
    for name in contents:
        if os.path.lexists(folder / name):
            raise WriteFailed(folder / name, "it is there already")
    return replace_files(folder, contents)


def write_new_folder(folder: Path, contents: Mapping[str, bytes]) -> bool:
    """Put files (name -> bytes) into a folder that is not there yet: it appears whole or not at all. False when another
    run was first. Raises WriteFailed."""
    made: list[Path] = []
    with undo_folders(made):
        make_folders(folder.parent, made)
        room = _prepare(folder.parent, ABANDONED_S)
        try:
            for name, content in contents.items():
                waiting = room / folder.name / name
                waiting.parent.mkdir(parents=True, exist_ok=True)
                _write(waiting, content)
            _settle(room / folder.name)
            os.rename(room / folder.name, folder)
        except OSError as error:
            if os.path.lexists(folder):
                return False
            raise WriteFailed(folder.parent, explain(error)) from error
        finally:
            shutil.rmtree(room, ignore_errors=True)
    _settle(folder.parent)
    return True


def make_folders(folder: Path, made: list[Path]) -> None:
    """A folder, and those round it; new ones are added to `made`, outer ones first. Raises WriteFailed."""
    missing = [inner for inner in (folder, *folder.parents) if not inner.is_dir()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileNotFoundError as error:
        raise WriteFailed(folder, NO_PLACE) from error
    except OSError as error:
        raise WriteFailed(folder, explain(error)) from error
    finally:
        made += [inner for inner in reversed(missing) if inner.is_dir()]


def _prepare(folder: Path, older_s: float) -> Path:
    """In the folder, swept of what killed runs left so long ago, a new hidden one to work in."""
    try:
        for left in folder.glob(f"{PREFIX}*"):
            with contextlib.suppress(OSError):
                if time.time() - left.stat().st_mtime >= older_s:
                    shutil.rmtree(left, ignore_errors=True)
        return Path(tempfile.mkdtemp(prefix=PREFIX, dir=folder))
    except OSError as error:
        raise WriteFailed(folder, explain(error)) from error


def _stage(room: Path, target: Path, content: bytes) -> None:
    """Write one file whole into the room, and be sure that the disk has it; keep its forerunner beside it."""
    try:
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "is a folder")
        _write(_waiting(room, target), content)
        if target.exists():
            _keep(target, _backup(room, target))
    except OSError as error:
        raise WriteFailed(target, explain(error)) from error


def _write(path: Path, content: bytes) -> None:
    with open(path, "xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _waiting(room: Path, target: Path) -> Path:
    """Where a file waits: the parts of its path below the folder, in one name."""
    return room / "+".join(target.relative_to(room.parent).parts)


def _backup(room: Path, target: Path) -> Path:
    waiting = _waiting(room, target)
    return waiting.with_name(f"{waiting.name}.before")


def _keep(target: Path, backup: Path) -> None:
    """A second name for the file, or a copy where the disk knows no second names."""
    try:
        os.link(target, backup)
    except OSError:
        shutil.copy2(target, backup)


def _move_all(room: Path, targets: tuple[Path, ...]) -> None:
    """Move every file to its place; put all back when one will not go, or when the run is stopped."""
    moved: list[Path] = []
    try:
        for target in targets:
            moved.append(target)
            os.replace(_waiting(room, target), target)
    except BaseException as error:
        for target in moved:
            _put_back(room, target)
        if isinstance(error, OSError):
            raise WriteFailed(moved[-1], explain(error)) from error
        raise


def _put_back(room: Path, target: Path) -> None:
    """What stood at the target before; harmless when the target was not reached."""
    with contextlib.suppress(OSError):
        if _backup(room, target).exists():
            os.replace(_backup(room, target), target)
        elif not _waiting(room, target).exists():
            target.unlink()


def _settle(folder: Path) -> None:
    """Ask the disk to keep the new names, where the system can be asked."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def explain(error: OSError) -> str:
    """Why a file could not be written, in words for a person."""
    if getattr(error, "winerror", None) in OPEN_ELSEWHERE:
        return REASONS[errno.EBUSY]
    return REASONS.get(error.errno or 0, (error.strerror or "the system gives no reason").lower())
