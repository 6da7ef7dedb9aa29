"""`python -m docgen`, and the command `docgen`."""

from __future__ import annotations

import os
import signal
import sys
from typing import Final

STOPPED: Final = 130


def run() -> int:
    """Run the command line; stopped from the keyboard while Python still loads or already ends, it ends quietly."""
    signal.signal(signal.SIGINT, _end_quietly)
    from docgen.cli import main

    signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        return main()
    except KeyboardInterrupt:  # pressed twice, or while the first is told
        return STOPPED
    finally:
        signal.signal(signal.SIGINT, _end_quietly)


def _end_quietly(number: int, frame: object) -> None:
    os._exit(STOPPED)


if __name__ == "__main__":
    sys.exit(run())
