"""How far a long plan has come: a bar on a terminal's standard error, gone when the plan is done."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from leanladder.cli.common import language
from leanladder.wording import text

if TYPE_CHECKING:
    from rich.progress import Progress

Told = Callable[[int, int], None]  # laps done, laps to do


@contextmanager
def progress(*, wanted: bool) -> Iterator[Told | None]:
    """Yield what a plan tells its laps to, None where nobody watches or the work is short.

    An interrupt within leaves the terminal as it was.
    """
    if not wanted or sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    # only when needed: the library takes a tenth of a second
    from rich.console import Console  # noqa: PLC0415
    from rich.progress import BarColumn, Progress, TextColumn  # noqa: PLC0415

    columns = (TextColumn("{task.description}", markup=False), BarColumn())
    console = Console(file=sys.stderr)
    with Progress(
        *columns, console=console, transient=True, redirect_stdout=False, redirect_stderr=False
    ) as bar:
        yield _Laps(bar)


class _Laps:
    """Laps as a plan tells them, ladder after ladder: a count that does not rise begins the next one."""

    def __init__(self, bar: Progress) -> None:
        self._bar = bar
        self._task = bar.add_task(text("progress.begin", language()), total=None)
        self._ladder, self._done = 0, 0

    def __call__(self, done: int, of: int) -> None:
        if done <= self._done or not self._ladder:
            self._ladder += 1
        self._done = done
        said = text("progress.ladder", language(), number=self._ladder, done=done, of=of)
        self._bar.update(self._task, completed=done, total=of, description=said)
