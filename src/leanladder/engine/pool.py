"""Threads of our own for compiled code that holds no lock: one pool a process, made when first wanted.

The compiler's own threads end a process that calls them from several threads at once, or leave a forked
child without any. Here whoever calls works too, so that calls from many threads, or from within a
run, never wait for each other's places; a child after a fork makes a new pool.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait


class _Shop:
    """The process's pool and the lock for making it."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.pool: ThreadPoolExecutor | None = None

    def open(self) -> ThreadPoolExecutor:
        with self.lock:
            if self.pool is None:
                self.pool = ThreadPoolExecutor(size(), thread_name_prefix="engine")
            return self.pool

    def forget(self) -> None:
        """Begin anew: a forked child has the pool's names but none of its threads."""
        self.lock = threading.Lock()
        self.pool = None


_SHOP = _Shop()
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_SHOP.forget)


def size() -> int:
    """Return how many threads this process may run at once."""
    if hasattr(os, "process_cpu_count"):
        return int(os.process_cpu_count() or 1)
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


class _Round:
    """What is left of one call: numbers are handed out one by one, until one fails."""

    def __init__(self, run: Callable[[int], object], count: int) -> None:
        self.run, self.count = run, count
        self.next = 0
        self.lock = threading.Lock()

    def take(self) -> int | None:
        with self.lock:
            number = self.next
            self.next = number + 1
        return number if number < self.count else None

    def work(self) -> None:
        """Run numbers until none is left."""
        try:
            while (number := self.take()) is not None:
                self.run(number)
        except BaseException:
            self.stop()
            raise

    def stop(self) -> None:
        with self.lock:
            self.next = self.count


def each(run: Callable[[int], object], count: int, threads: int | None = None) -> None:
    """Call run(0) to run(count - 1), each once, on up to threads threads; return when all have ended.

    Without threads on as many as the process has processors; never on more. What run makes must
    not depend on order. After an error no further number is begun, and once those that run have ended
    it is raised; so is KeyboardInterrupt.
    """
    most = size() if threads is None else min(threads, size())
    left = _Round(run, count)
    helping: list[Future[None]] = []
    try:
        pool = _SHOP.open() if min(most, count) > 1 else None
        if pool is not None:
            helping += [pool.submit(left.work) for _ in range(min(most, count) - 1)]
        left.work()
    finally:
        left.stop()
        # not one that still stands in the queue: those ahead of it may wait for us
        begun = [helper for helper in helping if not helper.cancel()]
        wait(begun)
    for helper in begun:
        helper.result()
