"""The same work for many numbers on several cores, its results in the order of the numbers.

Each worker is a process that goes through its own numbers and sends each result down its own pipe: there is no queue
that could hang, and no order that could change. A worker whose work fails just ends; what it leaves is then done
here, so that an error is raised by this very process, as on one core, and one without memory is not the end of a run.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, Final, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

Result = TypeVar("Result")

FORKS: Final = sys.platform.startswith("linux")
"""A copy of this process costs little, and is sound where it has one thread; elsewhere a new one loads all again."""

LEAST: Final = 2 if FORKS else 6
"""Fewer pieces of work are done sooner than processes begin."""


def count_cores() -> int:
    """The cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def work_each(work: Callable[[int], Result], count: int, cores: int) -> Iterator[Result]:
    """work(0), work(1), ... to count - 1, in this order, on so many cores, or on one where no process can be had.

    `work` gives the same wherever it runs; it and its results can be pickled. Raises what `work` raises for the first
    number that fails.
    """
    workers = _start(work, count, min(cores, count))
    try:
        for number in range(count):
            yield workers[number % len(workers)].take(number) if workers else work(number)
    finally:
        for worker in workers:
            worker.end()


class _Worker:
    """A process that does every `step`th number, and the pipe it sends to."""

    def __init__(self, context: Any, work: Callable[[int], Any], numbers: range) -> None:
        self.work = work
        self.pipe, there = context.Pipe(duplex=False)
        inherited = self.pipe if FORKS else None
        self.process = context.Process(target=_serve, args=(work, numbers, there, inherited), daemon=True)
        try:
            self.process.start()
        finally:
            there.close()

    def take(self, number: int) -> Any:
        """What it made of a number; what has not come from it is made here."""
        try:
            return self.pipe.recv()
        except (EOFError, OSError):
            return self.work(number)

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()


def _start(work: Callable[[int], Any], count: int, cores: int) -> list[_Worker]:
    if cores < 2 or count < LEAST or (FORKS and threading.active_count() > 1):
        return []
    from multiprocessing import get_context

    context = get_context("fork" if FORKS else "spawn")
    workers: list[_Worker] = []
    try:
        for first in range(cores):
            workers.append(_Worker(context, work, range(first, count, cores)))
    except OSError:
        for worker in workers:
            worker.end()
        return []
    return workers


def _serve(work: Callable[[int], Any], numbers: range, pipe: Connection, inherited: Connection | None) -> None:
    """In a process of its own: send each result, and end at the first that fails, without a word. The other end of the
    pipe is closed here, so that it breaks when the process that reads is gone."""
    if inherited is not None:
        inherited.close()
    if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    with contextlib.suppress(Exception), pipe:
        for number in numbers:
            pipe.send(work(number))
