"""A command in a process of its own that is killed, held or refused at one of its changes of the disk."""

import builtins
import os
import signal
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

from docgen.bounded import held_bytes
from docgen.cli import main
from docgen.write import load_writers

CHANGING = ("open", "mkdir", "link", "replace", "rename", "unlink", "remove", "rmdir", "fsync")
Act = Callable[[str], None]
"""What is done before a change; told its name."""


COMMANDS = ("check", "compare", "cut", "export", "issue", "lay", "layouts", "look", "make", "new", "printer", "site")
LOADED = (
    *(f"docgen.cli.{name}" for name in (*COMMANDS, "trace", "arguments", "errors")),
    *(f"docgen.calls.{name}" for name in (*COMMANDS, "trace") if name not in ("layouts", "new")),
    *(
        "docgen.starters",
        "docgen.versions.compared.words",
        "docgen.versions.site.site_templates",
        "pypdf",
        "docgen.fonts",
    ),
    *("docgen.pages", "docgen.plan", "docgen.write.enclosed", "PIL.PngImagePlugin", "docgen.read.photo", "csv"),
)


def load_commands() -> None:
    """What the commands need, once, and not in every process that parts from this one."""
    for name in LOADED:
        import_module(name)
    load_writers()


def is_change(name: str, given: Sequence[Any]) -> bool:
    """Opening a file is a change where it may be written."""
    if name == "open":
        return bool(given[1] & (os.O_CREAT | os.O_WRONLY | os.O_RDWR))
    return True


def watch(act: Act) -> None:
    """From now on `act` comes before every change that this process makes."""

    def watched(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def run(*given: Any, **named: Any) -> Any:
            if is_change(name, given):
                act(name)
            # no test cuts the power, and a busy disk takes long to settle
            return None if name == "fsync" else real(*given, **named)

        return run

    for name in CHANGING:
        setattr(os, name, watched(name, getattr(os, name)))
    real_open = builtins.open

    def open_file(file: Any, mode: str = "r", *given: Any, **named: Any) -> Any:
        if set(mode) & set("wxa+"):
            act("write")
        return real_open(file, mode, *given, **named)

    builtins.open = open_file


def bound(seconds: int, most_bytes: int) -> None:
    """From now on this process ends when it takes more of the processor or of memory than it has already."""
    import resource

    most_bytes += held_bytes()
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_DATA, (most_bytes, most_bytes))


class Run:
    """A command in a process that parted from this one; what it prints is kept in `told`. `limits` are processor seconds
    and bytes of memory."""

    def __init__(
        self, arguments: Sequence[str], act: Act, folder: Path, told: Path, limits: tuple[int, int] | None = None
    ) -> None:
        self.told = told
        self.child = os.fork()
        if self.child:
            return
        code = 99
        try:
            signal.signal(signal.SIGINT, signal.default_int_handler)  # a run behind `&` would not heed it
            os.chdir(folder)
            handle = os.open(told, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
            os.dup2(handle, 1)
            os.dup2(handle, 2)
            sys.stdout = os.fdopen(1, "w", closefd=False)
            sys.stderr = os.fdopen(2, "w", closefd=False)
            watch(act)
            if limits is not None:
                bound(*limits)
            code = main(list(arguments))
            sys.stdout.flush()
        except SystemExit as error:
            code = int(error.code or 0)
        finally:
            os._exit(code)

    def end(self) -> tuple[int, str]:
        """Exit code, and what was printed."""
        code = os.waitstatus_to_exitcode(os.waitpid(self.child, 0)[1])
        return code, self.told.read_text()


def count_changes(arguments: Sequence[str], folder: Path, told: Path, expected: tuple[int, ...] = (0,)) -> list[str]:
    """The changes that the command makes, by name."""
    notes = told.with_suffix(".changes")
    notes.write_bytes(b"")
    handle = os.open(notes, os.O_WRONLY | os.O_APPEND)
    code, words = Run(arguments, lambda name: os.write(handle, f"{name}\n".encode()) and None, folder, told).end()
    os.close(handle)
    assert code in expected, words
    return notes.read_text().split()


def kill_at(moment: int) -> Act:
    left = iter(range(moment))

    def act(name: str) -> None:
        if next(left, None) is None:
            os.kill(os.getpid(), signal.SIGKILL)

    return act


def stop_at(moment: int) -> Act:
    """Stopped from the keyboard, once."""
    left = iter(range(moment))
    is_done = False

    def act(name: str) -> None:
        nonlocal is_done
        if next(left, None) is None and not is_done:
            is_done = True
            signal.raise_signal(signal.SIGINT)

    return act


def refuse_at(moment: int, code: int, lasting: bool) -> Act:
    """One change, or also all that follow, end in an error of the system."""
    count = iter(range(1_000_000))

    def act(name: str) -> None:
        at = next(count)
        if at == moment or (lasting and at > moment):
            raise OSError(code, os.strerror(code))

    return act


class Hold:
    """Holds a run at one of its changes until it is let go."""

    def __init__(self, moment: int) -> None:
        self.moment = moment
        self.here, self.there = os.pipe(), os.pipe()

    def act(self) -> Act:
        left = iter(range(self.moment))
        is_done = False

        def act(name: str) -> None:
            nonlocal is_done
            if next(left, None) is None and not is_done:
                is_done = True
                os.write(self.here[1], b".")
                os.read(self.there[0], 1)

        return act

    def wait(self) -> None:
        os.read(self.here[0], 1)

    def let_go(self) -> None:
        os.write(self.there[1], b".")
        for end in (*self.here, *self.there):
            os.close(end)


def read_all(folder: Path, *, hidden: bool = False) -> dict[str, bytes]:
    """Every file of a folder by its path; those of hidden folders and locks only where asked for."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and (hidden or not is_hidden(name)):
            found[name] = path.read_bytes()
    return found


def is_hidden(name: str) -> bool:
    return any(part.startswith(".docgen-") for part in name.split("/"))
