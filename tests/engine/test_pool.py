"""The engine's threads: every number once, whoever calls, and an end that is an end."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from leanladder.engine import pool

FORKS = hasattr(os, "fork")


@pytest.mark.parametrize("threads", [None, 1, 2, 64])
@pytest.mark.parametrize("count", [0, 1, 2, 37])
def test_every_number_runs_once(count: int, threads: int | None) -> None:
    ran: list[int] = []
    pool.each(ran.append, count, threads)
    assert sorted(ran) == list(range(count))


def test_one_thread_keeps_to_the_order_and_to_the_caller() -> None:
    ran: list[tuple[int, int]] = []
    pool.each(lambda number: ran.append((number, threading.get_ident())), 9, 1)
    assert ran == [(number, threading.get_ident()) for number in range(9)]


def test_no_more_run_at_once_than_asked_for() -> None:
    lock, running, most = threading.Lock(), 0, 0

    def run(_: int) -> None:
        nonlocal running, most
        with lock:
            running += 1
            most = max(most, running)
        time.sleep(0.002)
        with lock:
            running -= 1

    pool.each(run, 30, 2)
    assert most <= min(2, pool.size())


@pytest.mark.parametrize("threads", [1, 2])
def test_an_error_ends_it_and_comes_out(threads: int) -> None:
    ran: list[int] = []

    def run(number: int) -> None:
        ran.append(number)
        if number == 3:
            raise ValueError("the third")
        time.sleep(0.001)

    with pytest.raises(ValueError, match="the third"):
        pool.each(run, 1000, threads)
    assert len(ran) < 10
    pool.each(ran.append, 3, threads)  # and the next call is as if nothing had been


def test_many_callers_at_once_and_calls_within_calls() -> None:
    done: list[int] = []

    def call(first: int) -> None:
        pool.each(lambda number: pool.each(done.append, number, 2), 12, 2)
        done.append(first)

    with ThreadPoolExecutor(8) as callers:
        for waiting in [callers.submit(call, -1) for _ in range(8)]:
            waiting.result(timeout=60)
    assert len(done) == 8 * (sum(range(12)) + 1)


@pytest.mark.skipif(not FORKS, reason="no fork here")
@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_a_forked_child_has_threads_of_its_own() -> None:
    pool.each(lambda _: time.sleep(0.001), 8)
    child = multiprocessing.get_context("fork").Process(target=_in_child)
    child.start()
    child.join(timeout=60)
    assert child.exitcode == 0


def _in_child() -> None:
    ran: list[int] = []
    pool.each(ran.append, 20)
    os._exit(0 if sorted(ran) == list(range(20)) else 1)


# What a shell starts in the background ignores interrupts, and so do its children unless they say otherwise.
INTERRUPTED = """
import signal, time
from leanladder.engine import pool
signal.signal(signal.SIGINT, signal.default_int_handler)
print("ready", flush=True)
pool.each(lambda _: time.sleep(0.05), 100000)
"""


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
def test_an_interrupt_ends_it() -> None:
    command = [sys.executable, "-c", INTERRUPTED]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        time.sleep(0.3)
        process.send_signal(signal.SIGINT)
        try:
            _, said = process.communicate(timeout=60)
        finally:
            process.kill()
    assert "KeyboardInterrupt" in said
    assert process.returncode != 0
