"""What a stranger's file may cost: work in a process of its own, which ends when it takes too long or too much memory.

Processor seconds are counted, so that a busy machine refuses nothing that an idle one takes. Where the system parts no
processes or bounds none (Windows), the work is done here, within the bounds that its own module keeps.
"""

import contextlib
import math
import os
import sys
from collections.abc import Callable
from typing import Final, NoReturn, TypeVar

Result = TypeVar("Result")

SECONDS: Final = 8
BYTES: Final = 360 * 1024 * 1024
"""For the memory a process may ask for; with the program itself it stays below 400 MB, and with the time of the call
below 10 s."""

USUAL: Final = 60 * 1024 * 1024
"""Of that, what a command holds when it comes to a file; a caller that holds more is given more by so much."""

STATUS: Final = "/proc/self/status"
"""Where Linux tells what a process holds, in kB (proc(5))."""

OUT_OF_MEMORY: Final = 7
"""Exit code of a process that could have no more."""


class TooMuch(Exception):
    """The work took more than is given for one file; the message says of what, as `time` or `memory`."""


def run_within(work: Callable[[], Result], seconds: float = SECONDS, most_bytes: int = BYTES) -> Result:
    """What `work` gives, which can be pickled, as can what it raises. Raises that, or TooMuch."""
    import pickle
    import signal
    import threading

    if not hasattr(os, "fork") or sys.platform == "darwin" or threading.active_count() > 1:
        return work()
    here, there = os.pipe()
    child = os.fork()
    if not child:
        os.close(here)
        _serve(work, there, seconds, most_bytes)
    os.close(there)
    try:
        with open(here, "rb") as pipe:
            held = pipe.read()
    except BaseException:
        os.kill(child, signal.SIGKILL)
        raise
    finally:
        status = os.waitpid(child, 0)[1]
    code = os.waitstatus_to_exitcode(status)
    if code:
        raise TooMuch("time" if code == -signal.SIGXCPU else "memory")
    is_done, found = pickle.loads(held)
    if is_done:
        result: Result = found
        return result
    raise found


def _serve(work: Callable[[], object], pipe: int, seconds: float, most_bytes: int) -> NoReturn:
    """In the new process: do it, send what came of it, and end without another word."""
    code = OUT_OF_MEMORY
    with contextlib.suppress(BaseException):
        import pickle
        import resource
        import signal

        if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:
            signal.signal(signal.SIGINT, signal.SIG_DFL)
        whole = math.ceil(seconds)
        resource.setrlimit(resource.RLIMIT_CPU, (whole, whole + 1))
        most_bytes += max(0, held_bytes() - USUAL)
        resource.setrlimit(resource.RLIMIT_DATA, (most_bytes, most_bytes))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        _silence()
        try:
            held = pickle.dumps((True, work()))
        except MemoryError:
            os._exit(OUT_OF_MEMORY)
        except Exception as error:
            held = pickle.dumps((False, error))
        left = memoryview(held)
        while left:
            left = left[os.write(pipe, left) :]
        code = 0
    os._exit(code)


def held_bytes() -> int:
    """The memory that this process has asked for; 0 where the system does not tell it."""
    try:
        with open(STATUS, encoding="ascii") as lines:
            found = next((line for line in lines if line.startswith("VmData:")), "")
    except OSError:
        return 0
    return int(found.split()[1]) * 1024 if found else 0


def _silence() -> None:
    """A library that is refused memory prints as it ends: to what takes no writing."""
    handle = os.open(os.devnull, os.O_RDONLY)
    os.dup2(handle, 2)
    os.close(handle)
