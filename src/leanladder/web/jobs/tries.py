"""Tries: what a changed track or tyre would do, answered while someone moves a control."""

from __future__ import annotations

import logging
import threading
from multiprocessing import AuthenticationError
from multiprocessing.connection import Connection, Listener

from leanladder.web import tries
from leanladder.web.jobs.desk import Desk

log = logging.getLogger(__name__)


def answer_tries() -> None:
    """Listen for tries beside the long work, on threads that end with the process."""
    listening = tries.listener()
    threading.Thread(target=_accept, args=(listening, Desk()), daemon=True, name="tries").start()


def _accept(listening: Listener, desk: Desk) -> None:
    while True:
        try:
            line = listening.accept()
        except (OSError, EOFError, AuthenticationError):
            continue  # somebody hung up, or is not one of us
        threading.Thread(target=_answer, args=(line, desk), daemon=True).start()


def _answer(line: Connection, desk: Desk) -> None:
    """Answer one question; a fault of ours goes to the log, and the asker hears so."""
    with line:
        try:
            asked = tries.receive(line)
            tries.send(line, desk.answer(asked))
        except (OSError, EOFError):
            return
        except Exception:
            log.exception("a try failed")
            tries.send(line, {"state": "failed"})
