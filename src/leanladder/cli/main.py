"""The command `leanladder`: its commands, and how a run ends.

Exit codes: 0 done; 1 our fault (one line and the log); 2 input or usage; 3 the model does not
apply; 130 interrupted. On failure stdout is empty and, with --json, stderr holds exactly one
leanladder.error/1 object.
"""

from __future__ import annotations

import contextlib
import errno
import itertools
import json
import logging
import os
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from typing import Annotated, Any

import typer
import typer.main

from leanladder import __version__, settings
from leanladder.cli.backup import backup, restore
from leanladder.cli.circuit import circuit
from leanladder.cli.common import plain, put_in_force
from leanladder.cli.config import config
from leanladder.cli.day import day
from leanladder.cli.entry import INTERRUPTED
from leanladder.cli.example import example
from leanladder.cli.guide import guide
from leanladder.cli.password import password
from leanladder.cli.plan import plan
from leanladder.cli.procedure import procedure
from leanladder.cli.schema import schema
from leanladder.cli.serve import serve
from leanladder.cli.sheets import sheets
from leanladder.cli.ways import ways
from leanladder.cli.why import why
from leanladder.domain.errors import Fault, InputError, LeanladderError
from leanladder.interchange.errors import error_object

# A command is a function with typer's annotations; adding one is a line here and its import.
COMMANDS: tuple[Callable[..., None], ...] = (
    circuit,
    plan,
    why,
    day,
    sheets,
    procedure,
    guide,
    ways,
    serve,
    backup,
    restore,
    password,
    example,
    config,
    schema,
)


# What the library says of a value that is none, and in plain words.
_KINDS = {"a valid number": "a number", "a valid integer": "a whole number"}
_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)

app = typer.Typer(
    name="leanladder",
    help="How far a rider may lean at each corner of each of the first laps. A guide only: the "
    "circuit's rules, the tyre maker's figures and the instructor's judgement come first; not "
    "for public roads; dry only.",
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
for _command in COMMANDS:
    app.command()(_command)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"leanladder {__version__}")
        raise typer.Exit


@app.callback()
def _settings(
    language: Annotated[str | None, typer.Option(help="Language of reasons and cautions.")] = None,
    log_level: Annotated[str | None, typer.Option(help="Least severe messages the log keeps.")] = None,
    version: Annotated[  # noqa: ARG001  # its callback does the work
        bool, typer.Option("--version", callback=_print_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    put_in_force({"language": language, "log_level": log_level})


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command with argv (the process's own by default) and return its exit code."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    logging.captureWarnings(capture=True)
    began = time.monotonic()
    code = _run(arguments)
    log = logging.getLogger("leanladder.cli")
    # Before the settings are in force there is no log, and nothing is due on the terminal.
    if logging.getLogger("leanladder").handlers:
        log.info("%s ended with %d after %.2f s", _name_of(arguments), code, time.monotonic() - began)
    return code


def _run(arguments: list[str]) -> int:  # noqa: PLR0911  # one return a way to end
    # Not by the library's own runner, which turns an interrupt and a closed pipe into exits of its own.
    command = typer.main.get_command(app)
    try:
        check_given(arguments)
        with command.make_context("leanladder", list(arguments)) as context:
            command.invoke(context)
        sys.stdout.flush()
    except typer.Exit as ended:
        return ended.exit_code
    except LeanladderError as error:
        return _fail(error, arguments)
    except typer.TyperException as error:
        return _fail(_usage(error, arguments), arguments)
    except (typer.Abort, KeyboardInterrupt):
        return _fail(LeanladderError("interrupted."), arguments, INTERRUPTED)
    except BrokenPipeError:
        return _reader_left()
    except Exception as error:  # noqa: BLE001  # whatever else is our fault, told in one line
        return _fail(_unwritten(error) or _our_fault(error), arguments)
    return 0


def check_given(arguments: Sequence[str]) -> None:
    """Raise InputError for an option given twice, or an empty text, before anything is read of them.

    Of two the last would win in silence, and an empty path would mean the folder one stands in.
    """
    seen: set[str] = set()
    before = ""
    for word in itertools.takewhile(lambda word: word != "--", arguments):
        name, equals, value = word.partition("=")
        if not word.startswith("--"):
            name, equals, value = "", "=", word
        if equals and not value:
            fault = Fault(None, None, name or before or None, "", None, "Leave it out, or say what is meant.")
            raise InputError("an empty text was given.", fault)
        if name in seen:
            raise InputError(f"{name} is given twice.", Fault(None, None, name, None, None, "Give it once."))
        seen |= {name} - {""}
        before = "" if equals else name


def _unwritten(error: Exception) -> InputError | None:
    """Return what to tell where the answer found no room, None for anything else."""
    if not isinstance(error, OSError) or error.errno not in _NO_ROOM:
        return None
    what = f"the answer cannot be written ({os.strerror(error.errno)})."
    return InputError(what, Fault(remedy="Free some room, or send it elsewhere."))


def _usage(error: typer.TyperException, arguments: list[str]) -> InputError:
    command = _name_of(arguments)
    shown = f"leanladder {command} --help" if command else "leanladder --help"
    remedy = f"`{shown}` lists what it takes."
    message = error.format_message()
    kind = next((word for found, word in _KINDS.items() if found in message), None)
    options = (word for word in arguments if word.startswith("--"))
    option = next((word for word in options if f"'{_option(word)}'" in message), None)
    if kind is None or option is None:
        return InputError(message, Fault(remedy=remedy))
    _, equals, value = option.partition("=")
    value = value if equals else arguments[arguments.index(option) + 1]
    return InputError(f"{value!r} is not {kind}.", Fault(None, None, _option(option), value, kind, remedy))


def _option(word: str) -> str:
    return word.partition("=")[0]


def _name_of(arguments: list[str]) -> str:
    """Return the command among the arguments, "" where there is none; nothing else may reach the log."""
    names = {command.__name__ for command in COMMANDS}
    return next((word for word in arguments if word in names), "")


def _our_fault(error: Exception) -> LeanladderError:
    """Log where an exception came from, and return what to tell of it.

    Its message stays out of the log: it may hold what a user typed, a name or a position.
    """
    what = type(error).__name__
    try:
        if not logging.getLogger("leanladder").handlers:
            settings.start_log(settings.log_file(), "info")
        where = "".join(traceback.format_tb(error.__traceback__))
        logging.getLogger("leanladder.cli").error("unexpected %s, traceback:\n%s", what, where)
        fault = Fault(file=str(settings.log_file()), remedy="The log tells where; please report it.")
    except (OSError, settings.SettingsError):
        fault = Fault(remedy="Nor could the log be written.")
    return LeanladderError(f"this is a fault of the program's own ({what}).", fault)


def _fail(error: LeanladderError, arguments: list[str], exit_code: int | None = None) -> int:
    code = error.exit_code if exit_code is None else exit_code
    if "--json" in arguments:
        body: dict[str, Any] = error_object(error) | {"exit_code": code}
        text = json.dumps(body, ensure_ascii=True, indent=2)
    else:
        text = plain(f"leanladder: {error}")
    # With standard error closed, print would turn to standard output; where it is full, the code tells.
    if sys.stderr is not None:
        with contextlib.suppress(OSError):
            print(text, file=sys.stderr, flush=True)  # noqa: T201  # the one place that tells of a failure
    return code


def _reader_left() -> int:
    """Whoever read our answer has had enough of it (`| head`): no failure."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


if __name__ == "__main__":
    sys.exit(main())
