"""The worker: `python -m leanladder.web.jobs`, started by `leanladder serve` and ended with it."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading

from leanladder.web.logs import start_worker_log

INTERVAL_S = 0.2
POLITE = 5  # of 19: pages, and phones that ask whether their card counts, come before long work


def main() -> None:
    """Take up what a power loss cut short, then do one job after the other until the app ends."""
    # Ended at once, and not as the library has it, which lets a job go on and at the second signal writes it
    # off as failed: a job that is cut short is begun again.
    for each in (signal.SIGTERM, signal.SIGINT):
        signal.signal(each, signal.SIG_DFL)
    # First of all: an app that ends while this one still loads must not leave it behind.
    threading.Thread(target=_end_with_the_app, daemon=True).start()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
    start_worker_log()
    with contextlib.suppress(AttributeError, OSError):  # where the system knows of no such thing
        os.nice(POLITE)
    import django  # noqa: PLC0415  # takes a while

    django.setup()
    from django_tasks_db.management.commands.db_worker import Worker  # noqa: PLC0415  # needs the settings

    from leanladder.web.jobs.cut_short import take_up  # noqa: PLC0415
    from leanladder.web.jobs.tries import answer_tries  # noqa: PLC0415

    take_up(fell_over=len(sys.argv) > 1)
    answer_tries()
    worker = Worker(
        queue_names=["*"],
        interval=INTERVAL_S,
        batch=False,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id="paddock",
        excluded_queue_names=[],
    )
    worker.run()


def _end_with_the_app() -> None:
    """Wait for the app's end of the pipe to close, then end at once: what is cut short is taken up again."""
    while sys.stdin.buffer.read(1):
        pass
    os._exit(0)


if __name__ == "__main__":
    main()
