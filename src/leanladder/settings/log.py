"""The log: a rotating file in the data folder.

It tells which command ran, how long and how it ended. Names, tokens, positions and anything
else a user typed never go into it: log counts, codes and kinds only.
"""

from __future__ import annotations

import logging
from logging.handlers import RotatingFileHandler
from pathlib import Path

LOGGER = "leanladder"
WARNINGS = "py.warnings"  # where `logging.captureWarnings` sends what libraries warn of
_FORM = "%(asctime)s %(levelname)s %(name)s: %(message)s"
_LARGEST_BYTES = 500_000
_KEPT = 3


class _PrivateFile(RotatingFileHandler):
    """A rotating file that its owner alone may read."""

    def _open(self):  # type: ignore[no-untyped-def]  # noqa: ANN202  # the base's type is private
        stream = super()._open()
        Path(self.baseFilename).chmod(0o600)
        return stream


def start_log(file: Path, level: str) -> logging.Logger:
    """Return the program's log, writing to file from level up; asked again, it moves there."""
    stop_log()
    logging.raiseExceptions = False  # a log that cannot be written is no reason to fail, nor to say so
    logger = logging.getLogger(LOGGER)
    handler = _PrivateFile(file, maxBytes=_LARGEST_BYTES, backupCount=_KEPT, encoding="utf-8", delay=True)
    handler.setFormatter(logging.Formatter(_FORM))
    logger.addHandler(handler)
    logger.setLevel(level.upper())
    logger.propagate = False
    logging.getLogger(WARNINGS).addHandler(handler)
    return logger


def stop_log() -> None:
    """Close the log and let it go."""
    for handler in list(logging.getLogger(LOGGER).handlers):
        logging.getLogger(LOGGER).removeHandler(handler)
        logging.getLogger(WARNINGS).removeHandler(handler)
        handler.close()
