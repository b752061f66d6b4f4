"""How a command ends: its exit codes, and every failure as a sentence instead of a traceback."""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable
from typing import Any

import typer

CLEAR = 0
OVER = 1
BAD_INPUT = 2
DEPENDS = 3
NOT_KNOWN = 4
OWN_FAULT = 70
INTERRUPTED = 130
PIPE_CLOSED = 141

CODES = {
    CLEAR: "clear; or the command answers no yes-or-no question and did its work",
    OVER: "over: it does not work, or nothing in the yard carries it",
    BAD_INPUT: "bad input: each fault is one sentence on standard error",
    DEPENDS: "depends: on a measurement, or on somebody's decision",
    NOT_KNOWN: "not known: the answer names what is missing",
    OWN_FAULT: "a fault of rubrail itself",
    INTERRUPTED: "stopped by Ctrl-C",
    PIPE_CLOSED: "the reader of the output went away",
}
OF_VERDICT = {"clear": CLEAR, "does not apply": CLEAR, "depends": DEPENDS, "over": OVER, "not known": NOT_KNOWN}


class BadInput(Exception):  # noqa: N818 - it says what a person wrote, not what the program did
    """Something a person wrote that cannot be used; ``sentences`` says what, each one whole."""

    def __init__(self, *sentences: str) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = sentences


def all_at_once(**asks: Callable[[], Any]) -> dict[str, Any]:
    """What each ask gives, by its name.

    Raises
    ------
    BadInput
        Everything that cannot be used of any of them, all at once.
    """
    from rubrail.things.faults import Faults

    found: dict[str, Any] = {}
    sentences: list[str] = []
    for name, ask in asks.items():
        try:
            found[name] = ask()
        except BadInput as bad:
            sentences += bad.sentences
        except Faults as told:
            sentences += [f.sentence for f in told.faults]
    if sentences:
        raise BadInput(*dict.fromkeys(sentences))
    return found


def ends(function: Callable[..., str | int | None]) -> Callable[..., None]:
    """Make a command end with a documented code.

    The command returns a verdict word, a code, or nothing for 0.
    """

    @functools.wraps(function)
    def command(*args: Any, **kwargs: Any) -> None:
        raise typer.Exit(_code_of(function, args, kwargs))

    return command


def _code_of(function: Callable[..., str | int | None], args: tuple, kwargs: dict) -> int:
    try:
        result = function(*args, **kwargs)
        sys.stdout.flush()
    except BadInput as bad:
        return complain(*bad.sentences)
    except BrokenPipeError:
        return _pipe_closed()
    except KeyboardInterrupt:
        return complain("Stopped.", code=INTERRUPTED)
    except OSError as error:
        return complain(os_sentence(error))
    except (typer.Exit, typer.Abort, typer.BadParameter):
        raise
    except Exception as error:
        return _unforeseen(error)
    return OF_VERDICT[result] if isinstance(result, str) else (result or CLEAR)


def complain(*sentences: str, code: int = BAD_INPUT) -> int:
    """Print sentences on standard error, and pass the code through."""
    for sentence in sentences:
        print(sentence, file=sys.stderr)
    return code


def os_sentence(error: OSError) -> str:
    """What the system refused, as a sentence."""
    reason = (error.strerror or str(error) or type(error).__name__).strip()
    reason = reason[:1].lower() + reason[1:]
    name = f"{os.fsdecode(error.filename)} cannot be used" if error.filename else "The system refused something"
    return f"{name}: {reason}."


def _pipe_closed() -> int:
    # Whatever is still buffered would raise again when the interpreter closes standard output.
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    return PIPE_CLOSED


def _unforeseen(error: Exception) -> int:
    faults = getattr(error, "faults", None)
    if faults:
        return complain(*(str(f) for f in faults))
    if os.environ.get("RUBRAIL_DEBUG", "no") not in ("", "0", "no", "false", "off"):
        import traceback

        traceback.print_exc()
    return complain(
        f"This is a fault of rubrail, not of your files: {type(error).__name__}: {error}.",
        "Set RUBRAIL_DEBUG=yes and run it again to see where.",
        code=OWN_FAULT,
    )
