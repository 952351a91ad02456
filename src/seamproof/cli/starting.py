"""What happens before a command and after it: streams, endings, and what nobody expected."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence

import typer
from typer.exceptions import TyperException

from seamproof import __version__
from seamproof.errors import InputError, SaveError, Stopped

STOPPED = 130
UNUSABLE = 2
FAULT = 70
"""How a fault of our own ends (EX_SOFTWARE of sysexits.h): nobody shall take it for a finding."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code. 0 fine, 1 findings of severity error, 2 usage or input that
    cannot be used, 130 stopped."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    _speak_utf8()
    _calculate_in_one_thread()
    from seamproof.cli.commands import app

    as_json = "--json" in arguments
    try:
        code = app(arguments, prog_name="seamproof", standalone_mode=False)
    except TyperException as problem:
        return _refuse(_usage(problem, arguments), as_json=as_json)
    except InputError as problem:
        return _refuse(problem, as_json=as_json)
    except SaveError as problem:
        return _refuse(InputError(str(problem)), as_json=as_json)
    except (KeyboardInterrupt, Stopped, typer.Abort):
        _tell("Stopped.")
        return STOPPED
    except BrokenPipeError:
        from seamproof.cli.telling import hush

        hush()
        return 0
    except Exception as problem:  # noqa: BLE001 - the last resort: a sentence, not a traceback
        return _fault(problem, debug="--debug" in arguments, as_json=as_json)
    if code == STOPPED:
        _tell("Stopped.")
    return int(code or 0)


def _speak_utf8() -> None:
    """Files and pipes get UTF-8 on every system; a terminal keeps what it can show."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            if stream.isatty():
                stream.reconfigure(errors="replace")
            else:
                stream.reconfigure(encoding="utf-8", errors="replace")


def _calculate_in_one_thread() -> None:
    """Before numpy is loaded: what there is to multiply is small, so that threads would only wait
    for each other, and the result shall not hang on how many there are."""
    for name in ("OPENBLAS_NUM_THREADS", "VECLIB_MAXIMUM_THREADS"):
        os.environ.setdefault(name, "1")


def _usage(problem: TyperException, arguments: Sequence[str]) -> InputError:
    from seamproof.cli.commands import COMMANDS

    named = next((word for word in arguments if word in COMMANDS), "")
    # How the library found out is of no use to whoever typed it.
    message = problem.format_message().replace("Value error, ", "").rstrip(".")
    return InputError(
        message[:1].lower() + message[1:],
        mend=f"see {' '.join(filter(None, ('seamproof', named, '--help')))}",
    )


def _refuse(problem: InputError, *, as_json: bool) -> int:
    from seamproof.cli import telling

    telling.tell_refusal(problem)
    if as_json:
        from seamproof.answers.model import refused

        telling.write_json(refused(problem).to_json())
    return UNUSABLE


def _fault(problem: Exception, *, debug: bool, as_json: bool) -> int:
    if debug:
        traceback.print_exception(problem)
    said = InputError(
        f"this is a fault of seamproof {__version__}, not yours ({type(problem).__name__})",
        mend="please report it, with the file and what seamproof --debug says; nothing was changed",
    )
    _refuse(said, as_json=as_json)
    return FAULT


def _tell(line: str) -> None:
    from seamproof.cli.telling import tell

    tell(line)
