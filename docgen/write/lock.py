"""One run at a time in a folder: a lock file that the system gives to one process, and takes back when that ends."""

import contextlib
import errno
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

LOCK: Final = ".docgen-lock"
"""There while a run writes in the folder; what a killed run left of it holds nobody up."""

OWNER: Final = ".docgen-lock-owner"
"""Stands in for the lock on a disk that knows none: the run that makes it has the folder. A killed one leaves it."""

WAIT_S: Final = 10.0
STEP_S: Final = 0.02
NO_LOCKS: Final = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS, errno.EINVAL)
"""Error numbers of a disk that knows no locks, as some shares on a network."""

HELD: Final = (errno.EAGAIN, errno.EWOULDBLOCK, errno.EACCES, errno.EDEADLK)
"""Error numbers of a lock that another process has; the last on Windows."""

if sys.platform == "win32":
    import msvcrt

    def take(handle: int) -> None:
        """Lock an open file, or OSError at once."""
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def take(handle: int) -> None:
        """Lock an open file, or OSError at once."""
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class FolderBusy(OSError):
    """Another run has the folder, and has had it for long."""


@contextlib.contextmanager
def lock_folder(folder: Path, wait_s: float | None = None) -> Iterator[None]:
    """Have a folder alone. Raises OSError; FolderBusy where another run keeps it for `wait_s` (`WAIT_S`)."""
    until = time.monotonic() + (WAIT_S if wait_s is None else wait_s)
    while (held := _try(folder)) is None:
        if time.monotonic() >= until:
            raise FolderBusy(errno.EAGAIN, tell_busy(folder))
        time.sleep(STEP_S)
    handle, paths = held
    try:
        yield
    finally:
        _release(handle, paths)


def tell_busy(folder: Path) -> str:
    """Who has the folder, in words; how to go on where the disk cannot tell a run that was killed."""
    if (folder / OWNER).exists():
        return f"another run is writing to the same folder; if none is, one was killed there: delete {OWNER} in it"
    return "another run is writing to the same folder; try again when it has ended"


def _try(folder: Path) -> tuple[int, tuple[Path, ...]] | None:
    """The open lock, and the files that go when it is let go; None while another run has it."""
    path = folder / LOCK
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    except PermissionError:
        if sys.platform == "win32" and path.exists():  # it is just being deleted
            return None
        raise
    try:
        more = _take_or_own(handle, folder)
    except OSError:
        os.close(handle)
        raise
    if more is None:
        os.close(handle)
        return None
    if _is_there(handle, path):
        return handle, (*more, path)
    _release(handle, more)
    return None


def _take_or_own(handle: int, folder: Path) -> tuple[Path, ...] | None:
    """Files that were made besides the lock to have it; None when another has it."""
    try:
        take(handle)
    except OSError as error:
        if error.errno in HELD:
            return None
        if error.errno not in NO_LOCKS:
            raise
    else:
        return ()
    try:
        os.close(os.open(folder / OWNER, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
    except FileExistsError:
        _remove(folder / LOCK)  # which is no lock there
        return None
    return (folder / OWNER,)


def _is_there(handle: int, path: Path) -> bool:
    """Whether the open file still has its name: the run before took it away when it ended."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(path))
    except FileNotFoundError:
        return False


def _release(handle: int, paths: tuple[Path, ...]) -> None:
    """Its files go while it is held; where an open file cannot go, as on Windows, once it is closed."""
    left = [path for path in paths if not _remove(path)]
    os.close(handle)
    for path in left:
        _remove(path)


def _remove(path: Path) -> bool:
    try:
        os.unlink(path)
    except FileNotFoundError:
        return True
    except OSError:
        return False
    return True
