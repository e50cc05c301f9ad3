"""`leanladder serve`: the paddock app on this laptop, for the phones around it."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

PORT = 8570


def serve(
    *,
    host: Annotated[
        str, typer.Option(help="Address to listen at; all of this laptop's unless named.")
    ] = "0.0.0.0",  # noqa: S104
    port: Annotated[
        int, typer.Option(help="Port to listen at; 0 takes any that is free.", min=0, max=65535)
    ] = PORT,
    name: Annotated[
        list[str] | None, typer.Option(help="Another name that phones reach this laptop by; may be repeated.")
    ] = None,
) -> None:
    """Serve the app until Ctrl-C: days, ladders, riders' cards."""
    # Django and all its pages: loaded by this command alone
    from leanladder.web.serve import address, serve  # noqa: PLC0415

    serve(address(host, port), tuple(name or ()), _say)


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()
