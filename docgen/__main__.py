"""`python -m docgen`, and the command `docgen`."""

from __future__ import annotations

import atexit
import gc
import os
import signal
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType
    from typing import NoReturn

STOPPED = 130

GARBAGE = (500_000, 50, 100)
"""Hardly anything that a run makes is garbage in circles: looking for it after every 700 values took a tenth of a run."""


def run() -> int:
    """Run the command line; stopped from the keyboard while Python still loads or already ends, it ends quietly.

    Where the shell has it not heed the keyboard, as behind `&`, it does not.
    """
    gc.set_threshold(*GARBAGE)
    heeds = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if heeds:
        signal.signal(signal.SIGINT, _end_quietly)
    from docgen.cli import main, stopping

    if heeds:
        stopping.listen()
    try:
        return main()
    except KeyboardInterrupt:  # pressed twice, or while the first is told
        return STOPPED
    finally:
        if heeds:
            signal.signal(signal.SIGINT, _end_quietly)
        gc.freeze()  # all that is left goes with the process: it is not looked through once more


def command() -> NoReturn:
    """Run the command line as a process of its own, which then ends at once: what it holds goes with it, and is not taken
    apart value by value. What others asked to be done at the end is done, and their threads come to theirs."""
    code = run()
    threads = sys.modules.get("threading")
    if threads is not None and threads.active_count() > 1:
        sys.exit(code)
    atexit._run_exitfuncs()
    _end(code)


def _end(code: int) -> NoReturn:
    """Without what is still to be printed the process ends as Python ends it, which tells that."""
    try:
        for output in (sys.stdout, sys.stderr):
            if output is not None:
                output.flush()
    except (OSError, ValueError):
        sys.exit(code)
    os._exit(code)


def _end_quietly(number: int, frame: FrameType | None) -> None:
    os._exit(STOPPED)


if __name__ == "__main__":
    command()
