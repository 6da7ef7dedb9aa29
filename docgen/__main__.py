"""`python -m docgen`, and the command `docgen`."""

from __future__ import annotations

import gc
import os
import signal
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType

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


def _end_quietly(number: int, frame: FrameType | None) -> None:
    os._exit(STOPPED)


if __name__ == "__main__":
    sys.exit(run())
