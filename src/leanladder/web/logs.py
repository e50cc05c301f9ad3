"""What the app and its worker log, and what they keep to themselves."""

from __future__ import annotations

import contextlib
import logging
import os

from leanladder import settings

# What these say names addresses, and a rider's address holds the key to a card: it goes nowhere.
LIBRARIES = ("django", "django_tasks", "django_tasks_db", "waitress")


def hush_libraries() -> None:
    """Keep what libraries say off the terminal and out of the log; faults of ours are logged by ourselves."""
    for name in LIBRARIES:
        logger = logging.getLogger(name)
        logger.addHandler(logging.NullHandler())
        logger.propagate = False


def start_worker_log() -> None:
    """Start the worker's log, in a file of its own: two processes cannot turn one file over."""
    hush_libraries()
    with contextlib.suppress(settings.SettingsError):  # what serves has said so already
        found = settings.load({}, os.environ, settings.config_file())
        settings.start_log(settings.log_file("worker"), found["log_level"].value)
