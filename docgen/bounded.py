"""What a stranger's file may cost: work in a process of its own, which ends when it takes too long or too much memory.

Processor seconds are counted, so that a busy machine refuses nothing that an idle one takes. On Linux the process parts
from this one, and the system bounds it. Where processes do not part, or more than one thread runs, a new one of our own
interpreter is begun, and watches itself too.
"""

import contextlib
import math
import os
import sys
import time
from collections.abc import Callable
from typing import Any, Final, NoReturn, TypeVar

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
OUT_OF_TIME: Final = 8
"""Exit codes of a process that could have no more."""

PARTS: Final = sys.platform.startswith("linux")
"""Whether a process may part from this one."""

GLANCE_S: Final = 0.02
"""How often a process that the system does not bound looks at what it has taken."""

PATIENCE: Final = 4
"""Seconds of the clock for each of the processor's, after which a process that does not even look is ended."""

BEGIN: Final = "import sys; sys.path[:] = sys.argv[1:]; from docgen.bounded import serve_apart; serve_apart()"


class TooMuch(Exception):
    """The work took more than is given for one file; the message says of what, as `time` or `memory`."""


def run_within(
    work: Callable[..., Result], *given: object, seconds: float = SECONDS, most_bytes: int = BYTES
) -> Result:
    """What `work` makes of what is `given`. Raises what it raises, or TooMuch.

    `work` is a function of a module, and all that goes in or comes out can be pickled. OSError: there is no process to
    be had.
    """
    import pickle
    import threading

    is_alone = PARTS and threading.active_count() == 1
    code, held = (_part if is_alone else _begin_anew)(work, given, seconds, most_bytes)
    if code:
        raise TooMuch("time" if code in (OUT_OF_TIME, _cpu_signal()) else "memory")
    is_done, found = pickle.loads(held)
    if is_done:
        result: Result = found
        return result
    raise found


def _cpu_signal() -> int:
    """How a process ends that the system stops for the time it took; a code that none has where no system does."""
    import signal

    return -getattr(signal, "SIGXCPU", 10_000)


def _part(work: Callable[..., object], given: tuple[object, ...], seconds: float, most_bytes: int) -> tuple[int, bytes]:
    """In a process that parts from this one: its exit code, and what it sent."""
    import signal

    here, there = os.pipe()
    child = os.fork()
    if not child:
        os.close(here)
        _serve(work, given, there, seconds, most_bytes + max(0, held_bytes() - USUAL))
    os.close(there)
    try:
        with open(here, "rb") as pipe:
            held = pipe.read()
    except BaseException:
        os.kill(child, signal.SIGKILL)
        raise
    finally:
        status = os.waitpid(child, 0)[1]
    return os.waitstatus_to_exitcode(status), held


def _begin_anew(work: Any, given: tuple[object, ...], seconds: float, most_bytes: int) -> tuple[int, bytes]:
    """The same in a new process of our own interpreter, which loads what it needs."""
    import pickle
    import subprocess

    child = subprocess.Popen(
        [sys.executable, "-I", "-c", BEGIN, *sys.path],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    try:
        held, _ = child.communicate(pickle.dumps((work, given, seconds, most_bytes)), timeout=PATIENCE * seconds)
    except subprocess.TimeoutExpired:
        return OUT_OF_TIME, b""
    finally:
        child.kill()
        child.wait()
    return child.returncode, held


def serve_apart() -> NoReturn:
    """In the new process: take what is to be done from the input, and watch over it."""
    import pickle
    import threading

    pipe = os.dup(1)
    os.dup2(2, 1)
    work, given, seconds, most_bytes = pickle.load(sys.stdin.buffer)
    threading.Thread(target=watch, args=(seconds, most_bytes), daemon=True).start()
    _serve(work, given, pipe, seconds, most_bytes)


def _serve(
    work: Callable[..., object], given: tuple[object, ...], pipe: int, seconds: float, most_bytes: int
) -> NoReturn:
    """Do it, send what came of it, and end without another word."""
    code = OUT_OF_MEMORY
    with contextlib.suppress(BaseException):
        import pickle
        import signal

        if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:
            signal.signal(signal.SIGINT, signal.SIG_DFL)
        _bound(seconds, most_bytes)
        _silence()
        try:
            held = pickle.dumps((True, work(*given)))
        except MemoryError:
            os._exit(OUT_OF_MEMORY)
        except Exception as error:
            held = pickle.dumps((False, error))
        left = memoryview(held)
        while left:
            left = left[os.write(pipe, left) :]
        code = 0
    os._exit(code)


def _bound(seconds: float, most_bytes: int) -> None:
    """Have the system end this process when it takes more, as far as the system does so."""
    try:
        import resource
    except ImportError:  # on Windows
        return
    whole = math.ceil(seconds)
    limits = {
        resource.RLIMIT_CPU: (whole, whole + 1),
        resource.RLIMIT_DATA: (most_bytes, most_bytes),
        resource.RLIMIT_CORE: (0, 0),
    }
    for name, limit in limits.items():
        with contextlib.suppress(OSError, ValueError):  # a lower one stands already, or the system knows none
            resource.setrlimit(name, limit)


def watch(seconds: float, most_bytes: int) -> NoReturn:
    """Look again and again what this process has taken, and end it at once when it is too much."""
    while True:
        if time.process_time() > seconds:
            os._exit(OUT_OF_TIME)
        if most_held_bytes() > most_bytes:
            os._exit(OUT_OF_MEMORY)
        time.sleep(GLANCE_S)


if sys.platform == "win32":

    def most_held_bytes() -> int:
        """The most memory that this process ever asked for: PeakPagefileUsage, the last of PROCESS_MEMORY_COUNTERS
        (psapi.h), which are two numbers of 32 bits and eight as long as an address; 0 where it is not told."""
        import ctypes

        class Counters(ctypes.Structure):
            _fields_ = (("size", ctypes.c_uint32), ("faults", ctypes.c_uint32), ("bytes", ctypes.c_size_t * 8))

        found = Counters(size=ctypes.sizeof(Counters))
        kernel = ctypes.WinDLL("kernel32")
        kernel.GetCurrentProcess.restype = ctypes.c_void_p
        own = ctypes.c_void_p(kernel.GetCurrentProcess())
        is_told = kernel.K32GetProcessMemoryInfo(own, ctypes.byref(found), ctypes.c_uint32(found.size))
        return int(found.bytes[7]) if is_told else 0

else:

    def most_held_bytes() -> int:
        """The most memory that this process ever held."""
        import resource

        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss  # in bytes on macOS (getrusage(2))
        return _read_status("VmHWM") or (most if sys.platform == "darwin" else most * 1024)


def held_bytes() -> int:
    """The memory that this process has asked for; 0 where the system does not tell it."""
    return _read_status("VmData")


def _read_status(name: str) -> int:
    """What Linux tells of this process, in bytes; 0 elsewhere."""
    try:
        with open(STATUS, encoding="ascii") as lines:
            found = next((line for line in lines if line.startswith(f"{name}:")), "")
    except OSError:
        return 0
    return int(found.split()[1]) * 1024 if found else 0


def _silence() -> None:
    """A library that is refused memory prints as it ends: to what takes no writing."""
    handle = os.open(os.devnull, os.O_RDONLY)
    os.dup2(handle, 2)
    os.close(handle)
