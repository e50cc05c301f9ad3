"""GPX 1.0 and 1.1: a track or a route (topografix.com schemas), read as a stream."""

from __future__ import annotations

from leanladder.importers.gpx.reader import read

__all__ = ["NAME", "SUFFIXES", "confidence", "read"]

NAME = "GPX"
SUFFIXES = (".gpx",)


def confidence(head: bytes) -> float:
    """Return how sure GPX is of a file's first 4 KiB: the root element settles it."""
    plain = head.replace(b"\0", b"").lower()
    if b"<gpx" in plain or b":gpx" in plain:
        return 1.0
    return 0.5 if plain.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<") else 0.0
