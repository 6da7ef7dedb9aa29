"""Files in a folder, all or none: written whole beside their places first, then moved there.

One run at a time has a folder (`lock.py`). A run that is killed leaves every file either as it was or as it was to be,
never in part; where that would mix two runs, the next that writes there puts back what stood there, and says so.
"""

import contextlib
import errno
import os
import stat
import tempfile
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from docgen.write.lock import LOCK, FolderBusy, lock_folder
from docgen.write.room import (
    PREFIX,
    Guest,
    find_rooms,
    is_moved,
    move,
    put_back,
    read_journal,
    remove_room,
    stage,
    write_journal,
    write_whole,
)

TRIES: Final = 20
"""How often a folder is made again that another run, which failed, has taken away."""

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
    errno.ENOENT: "it has gone",
    errno.EIO: "the disk reports a fault",
}
"""Error number (errno) -> the reason in words for a person."""

NO_PLACE: Final = "no folder can be made there"
TAKEN: Final = "it is there already"

OPEN_ELSEWHERE: Final = (32, 33)
"""Windows error codes for a file that another program holds open (sharing violation, lock violation)."""


class WriteFailed(Exception):
    """A file could not be written. `path` says which, `why` why; `left` what the folder does not hold as it did before,
    in words: empty when all is as it was."""

    def __init__(self, path: Path, why: str, left: str = "") -> None:
        self.path = path
        self.why = why
        self.left = left
        super().__init__("\n".join([f"cannot write {path}: {why}", *([left] if left else [])]))


class AlreadyThere(WriteFailed):
    """A file that was to be new is there already, and stays."""


class PutBackWarning(UserWarning):
    """A run before was stopped half-way, and what stood in the places of its files is back."""


def replace_files(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Put files (name -> bytes) into a folder, made when it is missing; returns their paths in that order.

    A name may lead into a folder inside ("small/pattern.pdf"). Raises WriteFailed when the folder cannot take all of
    them; those already there are then as they were, or the error says which are not.
    """
    return replace_after(folder, lambda: contents)


def replace_after(folder: Path, work_out: Callable[[], Mapping[str, bytes]]) -> tuple[Path, ...]:
    """As `replace_files`, with contents that hang on what is in the folder: worked out while no other run writes there."""
    with alone_in(folder) as made:
        contents = work_out()
        targets = tuple(folder / name for name in contents)
        if targets:
            _fill(_make_room(folder), contents, made)
    for inner in dict.fromkeys((folder, *(target.parent for target in targets))):
        _settle(inner)
    return targets


def _fill(room: Path, contents: Mapping[str, bytes], made: list[Path]) -> None:
    """Every file into the room, then to its place; the room goes, unless it holds what could not be put back."""
    try:
        guests = []
        for number, (name, content) in enumerate(contents.items()):
            target = room.parent / name
            if not target.parent.is_dir():
                make_folders(target.parent, made)
            with _told(target):
                guests.append(stage(room, number, name, content))
        with _told(room.parent):
            write_journal(room, guests)
        _move_all(guests)
    except WriteFailed as error:
        if not error.left:
            remove_room(room)
        raise
    except BaseException:
        if not any(map(is_moved, read_journal(room))):
            remove_room(room)
        raise
    remove_room(room)


@contextlib.contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise WriteFailed(path, explain(error)) from error


@contextlib.contextmanager
def alone_in(folder: Path) -> Iterator[list[Path]]:
    """Have a folder, made when it is missing, while no other run writes there, and clear of what killed runs left.

    Gives the list of the folders that were made; it takes further ones, and they go again as far as they are empty
    where what is done inside fails. Raises WriteFailed.
    """
    made: list[Path] = []
    with undo_folders(made), contextlib.ExitStack() as held:
        _lock(folder, made, held)
        with _told(folder):
            rooms = find_rooms(folder)
        for room in rooms:
            _clear(room)
        yield made


def _lock(folder: Path, made: list[Path], held: contextlib.ExitStack) -> None:
    """Another run that fails takes the folders away that it made, so that they may have to be made again."""
    for _ in range(TRIES):
        make_folders(folder, made)
        try:
            held.enter_context(lock_folder(folder))
        except FileNotFoundError:
            continue
        except OSError as error:
            raise WriteFailed(folder, explain(error)) from error
        return
    raise WriteFailed(folder, REASONS[errno.ENOENT])


def _clear(room: Path) -> None:
    """What a run left that ended half-way; when some of its files are in their places and others not, none are."""
    with _told(room):
        guests = read_journal(room)
        moved = [guest for guest in guests if is_moved(guest)]
    if len(moved) < len(guests):
        stuck = [guest for guest in moved if put_back(guest) == "stuck"]
        if stuck:
            raise WriteFailed(room.parent, "what a run before left half-done cannot be put back", tell_stuck(stuck))
        if moved:
            names = ", ".join(guest.name for guest in moved)
            warnings.warn(
                f"in {room.parent} a run before was stopped while it put its files in place; "
                f"what stood there before is back: {names}",
                PutBackWarning,
                stacklevel=2,
            )
    remove_room(room)


def is_half_done(folder: Path) -> bool:
    """Whether a run that was stopped, or is at work, has put some of its files in place and others not."""
    with contextlib.suppress(OSError):
        return any(read_journal(room) for room in find_rooms(folder))
    return False


def tidy(folder: Path) -> None:
    """Clear a folder of what killed runs left, where nothing is to be written; quiet when that cannot be done now."""
    with contextlib.suppress(OSError, WriteFailed):
        if find_rooms(folder) or (folder / LOCK).exists():
            with alone_in(folder):
                pass


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


def write_new_files(folder: Path, contents: Mapping[str, bytes], kept: Sequence[str] = ()) -> tuple[Path, ...]:
    """As `replace_files`, but where one of the names is taken already, be it by a link, AlreadyThere is raised. Of
    `kept`, those that are there with the very same contents are left, and not among the paths that come back."""
    try:
        _pick_new(folder, contents, kept)
    except AlreadyThere:
        tidy(folder)  # which may take away what a run before left there half-done
        _pick_new(folder, contents, kept)
    return replace_after(folder, lambda: _pick_new(folder, contents, kept))


def _pick_new(folder: Path, contents: Mapping[str, bytes], kept: Sequence[str]) -> dict[str, bytes]:
    """The files that are to be written. Raises AlreadyThere."""
    new = {}
    for name, content in contents.items():
        if not os.path.lexists(folder / name):
            new[name] = content
        elif name not in kept or not holds(folder / name, content):
            raise AlreadyThere(folder / name, TAKEN)
    return new


def holds(path: Path, content: bytes) -> bool:
    """Whether an ordinary file with these very contents stands there."""
    with contextlib.suppress(OSError):
        found = os.lstat(path)
        return stat.S_ISREG(found.st_mode) and found.st_size == len(content) and path.read_bytes() == content
    return False


def write_new_folder(folder: Path, work_out: Callable[[], Mapping[str, bytes]]) -> bool:
    """Put files (name -> bytes) into a folder that is not there yet: it appears whole or not at all. False when another
    run was first. What they hold is worked out while no other run writes beside it. Raises WriteFailed."""
    with alone_in(folder.parent):
        if os.path.lexists(folder):
            return False
        contents = work_out()
        room = _make_room(folder.parent)
        try:
            for name, content in contents.items():
                waiting = room / folder.name / name
                waiting.parent.mkdir(parents=True, exist_ok=True)
                write_whole(waiting, content)
            _settle(room / folder.name)
            os.rename(room / folder.name, folder)
        except OSError as error:
            raise WriteFailed(folder.parent, explain(error)) from error
        finally:
            remove_room(room)
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


def _make_room(folder: Path) -> Path:
    """In the folder, a new hidden one to work in."""
    with _told(folder):
        return Path(tempfile.mkdtemp(prefix=PREFIX, dir=folder))


def _move_all(guests: Sequence[Guest]) -> None:
    """Move every file to its place; put all back when one will not go, or when the run is stopped."""
    at = guests[0]
    try:
        for at in guests:
            move(at)
    except BaseException as error:
        stuck = [guest for guest in guests if put_back(guest) == "stuck"]
        if isinstance(error, OSError):
            why = "another program has just put it there" if isinstance(error, FileExistsError) else explain(error)
            raise WriteFailed(at.target, why, tell_stuck(stuck)) from error
        raise


def tell_stuck(stuck: Sequence[Guest]) -> str:
    """What could not be put back, and where it lies, in words; empty when nothing is."""
    kept = [f"{guest.name} lies in {guest.backup}" for guest in stuck if os.path.lexists(guest.backup)]
    new = [guest.name for guest in stuck if not os.path.lexists(guest.backup)]
    lines = ["not all could be put back as it was; the next run that writes there puts it back"] if stuck else []
    lines += [f"what stood before at {'; at '.join(kept)}"] if kept else []
    lines += [f"new, and not taken away again: {', '.join(new)}"] if new else []
    return "\n".join(lines)


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
    if isinstance(error, FolderBusy):
        return error.strerror or ""
    if getattr(error, "winerror", None) in OPEN_ELSEWHERE:
        return REASONS[errno.EBUSY]
    return REASONS.get(error.errno or 0, (error.strerror or "the system gives no reason").lower())
