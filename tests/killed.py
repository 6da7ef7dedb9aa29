"""A call whose process is killed on the way, for tests of what it leaves behind."""

import os
import signal
from collections.abc import Callable


def run_to_death(call: Callable[[], object], names: tuple[str, ...], before: int, *, is_done: bool = False) -> int:
    """The call in a child process that kills itself once so many calls of these functions of `os` are made: at the next
    one, or after that `is_done`. How the process ended."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    left = iter(range(before))

    def dying(real: Callable[..., object]) -> Callable[..., object]:
        def run(*given: object, **named: object) -> object:
            if next(left, None) is not None:
                return real(*given, **named)
            if is_done:
                real(*given, **named)
            return os.kill(os.getpid(), signal.SIGKILL)

        return run

    try:
        for name in names:
            setattr(os, name, dying(getattr(os, name)))
        call()
    finally:
        os._exit(1)
