"""The room of a run: a hidden folder where its files wait, with what stood in their places, until all are moved.

Before the first is moved, a journal says which file goes where. A run that ends half-way leaves the room, and the next
one that has the folder puts back what stood there.
"""

import contextlib
import errno
import os
import shutil
import stat
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath
from typing import Final, Literal

from docgen.classes import dataclass

PREFIX: Final = ".docgen-unfinished-"
"""Begins the name of a room; what a killed run left is known by it."""

JOURNAL: Final = "journal"
END: Final = "end"
JOURNAL_MOST: Final = 50_000_000

Mark = tuple[int, int, int]
"""What tells a file from any other that may come to its place: number on the disk, bytes, time of the last change."""

Fate = Literal["as it was", "back", "stuck"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Guest:
    """A file that waits in a room for its place, `name` below the folder; `mark` as it was when it was written."""

    room: Path
    number: int
    name: str
    mark: Mark

    @property
    def waiting(self) -> Path:
        return waiting_in(self.room, self.number)

    @property
    def backup(self) -> Path:
        return backup_in(self.room, self.number)

    @property
    def target(self) -> Path:
        return self.room.parent / self.name


def waiting_in(room: Path, number: int) -> Path:
    """Where a file waits."""
    return room / str(number)


def backup_in(room: Path, number: int) -> Path:
    """Where what stands in a file's place is kept."""
    return room / f"{number}.before"


def find_rooms(folder: Path) -> list[Path]:
    """What runs left in a folder, by name. Raises OSError."""
    return sorted(path for path in folder.glob(f"{PREFIX}*") if path.is_dir() and not path.is_symlink())


def write_whole(path: Path, content: bytes) -> None:
    """A new file, and be sure that the disk has it."""
    with open(path, "xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def stage(room: Path, number: int, name: str, content: bytes) -> Guest:
    """Write one file whole into the room; keep its forerunner beside it. Raises OSError."""
    target = room.parent / name
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, "is a folder")
    waiting = waiting_in(room, number)
    write_whole(waiting, content)
    if os.path.lexists(target):
        _keep(target, backup_in(room, number))
    mark = mark_of(waiting)
    assert mark is not None
    return Guest(room=room, number=number, name=name, mark=mark)


def _keep(target: Path, backup: Path) -> None:
    """A second name for the file, or a copy where the disk knows no second names."""
    try:
        os.link(target, backup)
    except OSError:
        shutil.copy2(target, backup, follow_symlinks=False)


def mark_of(path: Path) -> Mark | None:
    """What tells the file from others; None when nothing is there."""
    try:
        found = os.lstat(path)
    except FileNotFoundError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns


def write_journal(room: Path, guests: Sequence[Guest]) -> None:
    """Say in the room which file goes where. Raises OSError."""
    parts = [part for guest in guests for part in (guest.name, *map(str, guest.mark))]
    write_whole(room / JOURNAL, "\0".join([*parts, END]).encode("utf-8", "surrogateescape"))


def read_journal(room: Path) -> tuple[Guest, ...]:
    """The files of a room whose moving had begun; none when it had not. Raises OSError."""
    path = room / JOURNAL
    try:
        found = os.lstat(path)
    except FileNotFoundError:
        return ()
    if not stat.S_ISREG(found.st_mode) or found.st_size > JOURNAL_MOST:
        return ()
    *parts, end = path.read_bytes().decode("utf-8", "surrogateescape").split("\0")
    if end != END or len(parts) % 4:
        return ()
    return tuple(_parse_guests(room, parts))


def _parse_guests(room: Path, parts: list[str]) -> Iterator[Guest]:
    """As written; a name that leads out of the folder is none of ours."""
    home = os.path.realpath(room.parent)
    for number, at in enumerate(range(0, len(parts), 4)):
        name, *figures = parts[at : at + 4]
        inner = os.path.realpath(os.path.dirname(os.path.join(home, name)))
        is_inside = not PurePosixPath(name).is_absolute() and (inner + os.sep).startswith(home.rstrip(os.sep) + os.sep)
        if is_inside and all(figure.isascii() and figure.isdigit() for figure in figures):
            ino, size, time_ns = map(int, figures)
            yield Guest(room=room, number=number, name=name, mark=(ino, size, time_ns))


def move(guest: Guest) -> None:
    """Put the file in its place. What has come there since it was staged is not touched: FileExistsError."""
    if os.path.lexists(guest.backup):
        os.replace(guest.waiting, guest.target)
        return
    try:
        os.link(guest.waiting, guest.target)
    except FileExistsError:
        raise
    except OSError:
        os.replace(guest.waiting, guest.target)


def is_moved(guest: Guest) -> bool:
    """Whether the file that stands in the place is the very one that waited for it."""
    return mark_of(guest.target) == guest.mark


def put_back(guest: Guest) -> Fate:
    """What stood in the place before, unless what stands there now is of another's making."""
    try:
        if not is_moved(guest):
            return "as it was"
        if os.path.lexists(guest.backup):
            os.replace(guest.backup, guest.target)
        else:
            os.unlink(guest.target)
    except OSError:
        return "stuck"
    return "back"


def remove_room(room: Path) -> None:
    """The room goes, as far as it can."""
    with contextlib.suppress(OSError):
        shutil.rmtree(room, ignore_errors=True)
