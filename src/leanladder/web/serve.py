"""The app served: pages in this process, long work in one beside it, both gone together."""

from __future__ import annotations

import contextlib
import http.client
import io
import logging
import os
import secrets
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from types import FrameType
from typing import TYPE_CHECKING, NamedTuple

from leanladder.domain.errors import Fault, InputError
from leanladder.web.logs import hush_libraries
from leanladder.web.people.first import VARIABLE

if TYPE_CHECKING:
    from waitress.server import BaseWSGIServer, MultiSocketServer

log = logging.getLogger(__name__)

THREADS = 16
# Browsers keep lines open, several each: a full house of phones and coaches takes some hundreds.
MOST_LINES = 500
GOING_S = 1.0  # how long pages that are being made may take to an end, and then the worker
AGAIN_S = 2.0  # before a worker that fell over is started again
FELL_OVER = "fell-over"  # what a worker is told that follows one that ended by itself
ASKED_S, EVERY_S = 60.0, 0.05  # how long the first page may take; how soon it is asked for again
EVERYWHERE = ("", "0.0.0.0", "::")  # noqa: S104  # phones around the laptop are to reach it


class Address(NamedTuple):
    """Where the app is served: host as bound, port, and the name that others reach it by."""

    host: str
    port: int
    name: str

    @property
    def url(self) -> str:
        """The address to type or scan."""
        return f"http://{f'[{self.name}]' if ':' in self.name else self.name}:{self.port}"


def address(host: str, port: int) -> Address:
    """Return where the app can be reached; raises InputError for a taken port or a host that is not ours."""
    name = own_address() if host in EVERYWHERE else host
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise _taken(host, port, error) from None
        except OverflowError:
            raise InputError(
                "there is no such port.", Fault("port", value=str(port), allowed="0 to 65535")
            ) from None
        found = probe.getsockname()[1]
    return Address(host, port or found, name)


def _taken(host: str, port: int, error: OSError) -> InputError:
    remedy = "Stop what listens there, or name another: --port 8571."
    fault = Fault(field="port", value=f"{host}:{port}", remedy=remedy)
    return InputError(f"{host}:{port} cannot be used ({error.strerror}).", fault)


def own_address() -> str:
    """Return this laptop's address on its network; 127.0.0.1 without one. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("10.255.255.255", 1))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def serve(where: Address, hosts: tuple[str, ...], say: Callable[[str], None]) -> None:
    """Serve until SIGINT or SIGTERM; say what stands on the terminal, once the app answers.

    The database is made or brought up to date first. hosts: more names that the app is to answer to.
    Raises InputError where someone else took the address meanwhile.
    """
    os.umask(0o077)  # what is on record is for who serves alone, whatever folder it lies in
    prepare(where, hosts)
    hush_libraries()
    first_code = secrets.token_urlsafe(6)
    os.environ[VARIABLE] = first_code
    _end_on_signal()
    _migrate()
    worker = Worker()
    try:
        server = _server(where)
        worker.start()
        words = _words(where, first_code)
        threading.Thread(target=_welcome, args=(where, words, say), name="welcome", daemon=True).start()
        server.run()
    finally:
        worker.stop()


def prepare(where: Address, hosts: tuple[str, ...]) -> None:
    """Tell Django where it runs; to be called before anything of it is used."""
    named = {where.name, where.host, socket.gethostname(), f"{socket.gethostname()}.local", *hosts}
    os.environ["LEANLADDER_HOSTS"] = " ".join(
        sorted({*named, *os.environ.get("LEANLADDER_HOSTS", "").split()} - set(EVERYWHERE))
    )
    os.environ["DJANGO_SETTINGS_MODULE"] = "leanladder.web.settings"


def _migrate() -> None:
    import django  # noqa: PLC0415  # only once its settings are told
    from django.core.management import call_command  # noqa: PLC0415

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)


def _server(where: Address) -> BaseWSGIServer | MultiSocketServer:
    import waitress.server  # noqa: PLC0415  # as django
    from django.conf import settings  # noqa: PLC0415

    from leanladder.web.wsgi import application  # noqa: PLC0415

    try:
        server = waitress.server.create_server(
            application,
            host=where.host or "0.0.0.0",  # noqa: S104
            port=where.port,
            threads=THREADS,
            ident=None,
            max_request_body_size=settings.LARGEST_REQUEST,
            channel_timeout=30,
            connection_limit=MOST_LINES,
            asyncore_use_poll=True,  # the other way to wait has no room for so many lines
        )
    except OSError as error:
        raise _taken(where.host, where.port, error) from None
    # As it ends it waits for pages that are being made, by itself for longer than we have.
    end = server.task_dispatcher.shutdown
    setattr(server.task_dispatcher, "shutdown", lambda: end(timeout=int(GOING_S)))  # noqa: B010
    return server


def _end_on_signal() -> None:
    """End on the first signal; those after it must not keep the worker from being ended too."""

    def end(_number: int, _frame: FrameType | None) -> None:
        for each in (signal.SIGTERM, signal.SIGINT):
            signal.signal(each, signal.SIG_IGN)
        raise SystemExit(0)

    for each in (signal.SIGTERM, signal.SIGINT):
        signal.signal(each, end)


def _welcome(where: Address, words: str, say: Callable[[str], None]) -> None:
    """Say where the app is, once it has answered there."""
    while not _answers(where):
        time.sleep(EVERY_S)
    try:
        say(words)
    except (OSError, ValueError):  # nobody reads the terminal any more: no reason to stop serving
        log.warning("nobody reads where the app is: %s", where.url)


def _answers(where: Address) -> bool:
    host = "127.0.0.1" if where.host in EVERYWHERE else where.host
    with contextlib.closing(http.client.HTTPConnection(host, where.port, timeout=ASKED_S)) as line:
        try:
            line.request("GET", "/login/", headers={"Host": where.name})
            line.getresponse().read()
        except (OSError, http.client.HTTPException):
            return False
    return True


def _words(where: Address, first_code: str) -> str:
    from leanladder.records.people import any_people  # noqa: PLC0415

    url = where.url if any_people() else f"{where.url}/first/?code={first_code}"
    lines = [
        _qr(url),
        f"Open {url}",
        "The paddock's network is plain HTTP: whoever shares it can read what is sent.",
        "Use a network of your own, with a password. Ctrl-C ends.",
        f"ready {where.url}",
    ]
    return "\n".join(lines)


def _qr(url: str) -> str:
    import segno  # noqa: PLC0415

    out = io.StringIO()
    segno.make(url, micro=False).terminal(out=out, compact=True)
    return out.getvalue()


class Worker:
    """The process for long work: started anew should it fall over, ended with this one.

    It reads from a pipe that closes when this process ends, however it ends.
    """

    def __init__(self) -> None:
        self.process: subprocess.Popen[bytes] | None = None
        self.ending = threading.Event()
        self._lock = threading.Lock()

    def start(self) -> None:
        """Start it, and watch over it."""
        threading.Thread(target=self._watch, name="worker-watch", daemon=True).start()

    def _watch(self) -> None:
        while (process := self._spawned()) is not None:
            code = process.wait()
            if self.ending.wait(AGAIN_S):
                return
            log.error("the worker ended with %s; it is started again", code)

    def _spawned(self) -> subprocess.Popen[bytes] | None:
        """Start a process, unless it all ends meanwhile."""
        with self._lock:
            if self.ending.is_set():
                return None
            program = [sys.executable, "-m", "leanladder.web.jobs"]
            if self.process is not None:
                _close(self.process)
                program.append(FELL_OVER)
            self.process = subprocess.Popen(program, stdin=subprocess.PIPE)  # noqa: S603  # ours
            return self.process

    def stop(self) -> None:
        """End it: asked first, then made to. What it was at is found and begun again at the next start."""
        self.ending.set()
        with self._lock:
            process, self.process = self.process, None
        if process is None:
            return
        _close(process)
        process.terminate()
        try:
            process.wait(GOING_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def _close(process: subprocess.Popen[bytes]) -> None:
    if process.stdin is not None:
        process.stdin.close()
