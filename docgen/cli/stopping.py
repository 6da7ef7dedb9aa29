"""Stopped from the keyboard: a stop that falls where Python loses it, or makes another error of it, is still one."""

from __future__ import annotations

import signal
import sys
import time
from _thread import interrupt_main, start_new_thread

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType

AGAIN_S = 0.002

_asked = False


def listen() -> None:
    """From now on the keyboard stops the run, by KeyboardInterrupt."""
    sys.unraisablehook = _stop_all_the_same
    signal.signal(signal.SIGINT, _stop)


def is_stop(error: Exception) -> bool:
    """Whether this error comes of a stop; one that falls while a class is made is told by Python as the class's own."""
    return _asked or isinstance(error.__cause__, KeyboardInterrupt)


def _stop(number: int, frame: FrameType | None) -> None:
    global _asked
    _asked = True
    raise KeyboardInterrupt


def _stop_all_the_same(lost: sys.UnraisableHookArgs) -> None:
    """While Python clears away nothing can be raised: the stop is asked for again just after."""
    if lost.exc_type is KeyboardInterrupt:
        start_new_thread(_ask_again, ())
    else:
        sys.__unraisablehook__(lost)


def _ask_again() -> None:
    time.sleep(AGAIN_S)
    interrupt_main()
