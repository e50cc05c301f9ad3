"""One page that never changes, served by the same server as the app: what the app is compared with.

A program of its own: `python scripts/serving/plain.py FILE`. It prints the address it serves at.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import waitress.server

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment

THREADS, MOST_LINES = 16, 500  # as the app has them


def main() -> int:
    """Serve until killed."""
    page = Path(sys.argv[1]).read_bytes()

    def app(_environ: WSGIEnvironment, start: StartResponse) -> Iterable[bytes]:
        start("200 OK", [("Content-Type", "text/html"), ("Content-Length", str(len(page)))])
        return [page]

    server = waitress.server.create_server(
        app, host="127.0.0.1", port=0, threads=THREADS, connection_limit=MOST_LINES, asyncore_use_poll=True
    )
    sys.stdout.write(f"127.0.0.1:{getattr(server, 'effective_port', 0)}\n")
    sys.stdout.flush()
    server.run()
    return 0


if __name__ == "__main__":
    sys.exit(main())
