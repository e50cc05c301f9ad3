"""Tries and long reasons, asked of the worker over a socket that nobody but this laptop's owner reaches.

Messages are JSON alone, whatever the other end of a socket may be.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import os
import tempfile
import time
from multiprocessing.connection import Client, Connection, Listener
from pathlib import Path
from typing import Any

from django.conf import settings

from leanladder.settings import data_folder

NAME = "tries.sock"
LONGEST_PATH = 100  # a socket's address has no room for more
LARGEST = 64 * 1024 * 1024
PATIENCE_S, EVERY_S = 60.0, 0.1
Message = dict[str, Any]


def address() -> str:
    """Return where the worker listens: in the data folder, or where that path is too long elsewhere."""
    path = data_folder() / NAME
    if len(os.fsencode(path)) <= LONGEST_PATH:
        return str(path)
    own = hashlib.sha256(os.fsencode(path)).hexdigest()[:16]
    folder = Path(tempfile.gettempdir()) / f"leanladder-{own}"
    folder.mkdir(mode=0o700, exist_ok=True)
    return str(folder / NAME)


def listener() -> Listener:
    """Return a listener at the address, which one worker alone uses."""
    Path(address()).unlink(missing_ok=True)
    return Listener(address(), family="AF_UNIX", authkey=_key())


def ask(message: Message) -> Message:
    """Return the worker's answer; its state is "away" where no worker listens."""
    try:
        with Client(address(), family="AF_UNIX", authkey=_key()) as line:
            send(line, message)
            return receive(line)
    except (OSError, EOFError):
        return {"state": "away"}


def ask_patiently(message: Message) -> Message:
    """Return the worker's answer once it has one: waited for up to a minute."""
    until = time.monotonic() + PATIENCE_S
    while (found := ask(message))["state"] == "waiting" and time.monotonic() < until:
        time.sleep(EVERY_S)
    return found


def send(line: Connection, message: Message) -> None:
    """Send a message."""
    line.send_bytes(json.dumps(message, allow_nan=False).encode())


def receive(line: Connection) -> Message:
    """Return the next message; raises EOFError at the end, OSError for one that is no message."""
    found = json.loads(line.recv_bytes(LARGEST))
    if not isinstance(found, dict):
        raise OSError("no message")
    return found


def _key() -> bytes:
    return hmac.new(settings.SECRET_KEY.encode(), b"tries", "sha256").digest()
