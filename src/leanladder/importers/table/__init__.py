"""CSV: a point a row, x_m and y_m with optional widths, or latitude and longitude with optional height."""

from __future__ import annotations

from leanladder.importers.table.reader import read

__all__ = ["NAME", "SUFFIXES", "confidence", "read"]

NAME = "CSV"
SUFFIXES = (".csv", ".tsv", ".txt")


def confidence(head: bytes) -> float:
    """Return how sure CSV is of a file's first 4 KiB: rows of figures with something between them."""
    lines = [line.strip() for line in head.splitlines()[:20]]
    rows = [line for line in lines if line and not line.startswith(b"#")]
    figures = [row for row in rows if row[:1] in b"-+.0123456789" and any(mark in row for mark in b",;\t")]
    if rows and not rows[0].startswith((b"<", b"{", b"[")) and figures:
        return 0.6
    return 0.2 if rows and not rows[0].startswith((b"<", b"{")) else 0.0
