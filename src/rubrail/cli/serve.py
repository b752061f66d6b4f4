"""``rubrail serve``: the desk in a browser."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

import typer

from rubrail.cli.ends import BadInput

Port = Annotated[
    int | None,
    typer.Option(
        "--port", min=0, max=65535, help="Port to answer on; 0 takes a free one; without it, the desk's own."
    ),
]


def command(
    host: Annotated[
        str | None, typer.Option("--host", help="Address to listen on; this machine alone by default.")
    ] = None,
    port: Port = None,
    lan: Annotated[
        bool, typer.Option("--lan", help="Answer the yard's own network too, and say how to do so safely.")
    ] = False,
    open_browser: Annotated[bool, typer.Option("--open", help="Open it in this machine's browser.")] = False,
) -> None:
    """Serve the desk until it is stopped with Ctrl-C."""
    start("serve", host=host, lan=lan, open_browser=open_browser, **({} if port is None else {"port": port}))


def start(which: str, **options: object) -> None:
    """Run one of the desk's own entries; what keeps it from starting becomes a sentence.

    Raises
    ------
    BadInput
        If its packages are not installed, or it says that it cannot start.
    """
    try:
        from rubrail.desk import serve as desk
    except ModuleNotFoundError as error:
        raise BadInput(_not_installed(error)) from None
    entry: Callable[..., None] = getattr(desk, which)
    try:
        entry(**options)
    except ModuleNotFoundError as error:
        raise BadInput(_not_installed(error)) from None
    except desk.ServeError as error:
        raise BadInput(str(error)) from None


def _not_installed(error: ModuleNotFoundError) -> str:
    if (error.name or "").split(".")[0] == "rubrail":
        raise error
    return f"The desk needs the package {error.name}, which is not installed: python go.py installs all it needs."
