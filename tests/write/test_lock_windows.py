"""The lock as Windows has it, by a stand-in for `msvcrt`, which no test machine has: it refuses as that one does.

By the library reference of Python, "msvcrt": `locking(fd, LK_NBLCK, nbytes)` raises OSError when the bytes cannot be
locked; the error numbers EACCES and EDEADLK are those of the C library there, from memory.
"""

import errno
import os
import sys
from importlib import util
from pathlib import Path
from types import ModuleType

import pytest

from docgen.write import lock as own


class StandIn(ModuleType):
    """One process to a file, by its number on the disk."""

    LK_NBLCK = 2

    def __init__(self) -> None:
        super().__init__("msvcrt")
        self.held: dict[int, int] = {}
        self.asked: list[int] = []

    def locking(self, handle: int, mode: int, count: int) -> None:
        assert (mode, count) == (self.LK_NBLCK, 1)
        found = os.fstat(handle).st_ino
        self.asked.append(found)
        if self.held.setdefault(found, handle) != handle:
            raise OSError(errno.EACCES, "Permission denied")


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> tuple[ModuleType, StandIn]:
    """The module of the lock as it is loaded there, and the stand-in."""
    stand_in = StandIn()
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setitem(sys.modules, "msvcrt", stand_in)
    spec = util.spec_from_file_location("lock_on_windows", own.__file__)
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module, stand_in


def test_the_lock_is_taken_and_goes(windows: tuple[ModuleType, StandIn], tmp_path: Path) -> None:
    lock, stand_in = windows
    with lock.lock_folder(tmp_path):
        assert (tmp_path / lock.LOCK).exists()
        assert len(stand_in.asked) == 1
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize("code", [errno.EACCES, errno.EDEADLK])
def test_a_folder_that_another_has_is_waited_for_and_told(
    windows: tuple[ModuleType, StandIn], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    lock, stand_in = windows

    def refuse(handle: int, mode: int, count: int) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(stand_in, "locking", refuse)
    with pytest.raises(lock.FolderBusy) as caught, lock.lock_folder(tmp_path, wait_s=0.0):
        pass
    assert caught.value.strerror == "another run is writing to the same folder; try again when it has ended"


def test_a_lock_that_is_just_going_is_tried_again(
    windows: tuple[ModuleType, StandIn], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There a file that is deleted while another holds it open cannot be opened until that lets it go."""
    lock, _ = windows
    (tmp_path / lock.LOCK).touch()
    real, left = os.open, [2]

    def open_file(path: object, *given: int) -> int:
        if left[0] and str(path).endswith(lock.LOCK):
            left[0] -= 1
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(path, *given)  # type: ignore[call-overload]

    monkeypatch.setattr(os, "open", open_file)
    with lock.lock_folder(tmp_path, wait_s=5.0):
        assert left == [0]
    left[0] = 2
    (tmp_path / lock.LOCK).unlink(missing_ok=True)
    with pytest.raises(PermissionError), lock.lock_folder(tmp_path, wait_s=0.0):
        pass


def test_an_open_file_that_cannot_go_goes_once_it_is_closed(
    windows: tuple[ModuleType, StandIn], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lock, _ = windows
    real_close, real_unlink, is_open = os.close, os.unlink, [True]

    def close(handle: int) -> None:
        is_open[0] = False
        real_close(handle)

    def unlink(path: object) -> None:
        if is_open[0]:
            raise PermissionError(errno.EACCES, "Permission denied")
        real_unlink(path)  # type: ignore[arg-type]

    with lock.lock_folder(tmp_path):
        monkeypatch.setattr(os, "close", close)
        monkeypatch.setattr(os, "unlink", unlink)
    assert is_open == [False]
    assert os.listdir(tmp_path) == []
