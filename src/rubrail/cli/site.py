"""``rubrail site``: the public pages as a folder of files for any web server."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.sheets.site.whole import SiteFile

ADDRESS = re.compile(r"https?://[A-Za-z0-9.:\[\]-]+(?:/[A-Za-z0-9._~/-]*)?")


def command(
    folder: Annotated[
        str, typer.Argument(metavar="FOLDER", help="Where the files go: an empty folder, or one written before.")
    ],
    address: Annotated[
        str,
        typer.Option(
            "--address",
            metavar="ADDRESS",
            help="Where buyers will find the pages, such as https://yard.example/; without it, what"
            " RUBRAIL_PUBLIC_ADDRESS says.",
        ),
    ] = "",
    yard: Annotated[
        str | None,
        typer.Option(
            "--yard",
            metavar="FOLDER",
            help="Show every unit for sale of this yard folder ('demo' is the invented yard), its prices as of today;"
            " without it, what the desk's own stock shows.",
        ),
    ] = None,
    contact: Annotated[
        list[str] | None,
        typer.Option("--contact", metavar="LINE", help="How to reach the yard, a line at a time, for --yard."),
    ] = None,
    arrivals: Annotated[
        bool, typer.Option("--arrivals", help="Tell the day each unit came, for --yard; without it no day is told.")
    ] = False,
) -> None:
    """Write the public pages into a folder: only what changed; sold units drop out."""
    from pathlib import Path

    from rubrail.sheets.site.contact import contact_lines
    from rubrail.sheets.site.folder import SiteFolderError, write_site

    address = address_of(address, option="--address")
    if yard is not None and not address:
        raise BadInput("--address must say where buyers will find the pages, such as https://yard.example/.")
    if contact and yard is None:
        raise BadInput("--contact goes with --yard; the desk takes its own lines from RUBRAIL_CONTACT.")
    if arrivals and yard is None:
        raise BadInput("--arrivals goes with --yard; the desk's own choice is RUBRAIL_ARRIVALS.")
    lines, faults = contact_lines(contact or [], of="--contact")
    if faults:
        raise BadInput(*faults)
    try:
        files = _of_yard(yard, address, lines, arrivals=arrivals) if yard is not None else _of_desk(address)
        done = write_site(files, Path(folder))
    except SiteFolderError as told:
        raise BadInput(str(told)) from None
    print(
        f"{folder}: {_files(done.written)} written, {done.kept:,} as before, {done.removed:,} taken away;"
        f" {done.size_bytes / 1e6:,.1f} MB in all."
    )


def address_of(text: str, *, option: str) -> str:
    """An address of public pages as typed, with its last slash; ``""`` where none is.

    Raises
    ------
    BadInput
        If it is none.
    """
    if text and not ADDRESS.fullmatch(text):
        raise BadInput(f"{option} must be an address such as https://yard.example/, got {text!r}.")
    return f"{text.rstrip('/')}/" if text else ""


def _files(n: int) -> str:
    return "1 file" if n == 1 else f"{n:,} files"


def _of_yard(name: str, address: str, contact: tuple[str, ...], *, arrivals: bool) -> Iterable[SiteFile]:
    from datetime import UTC, datetime

    from rubrail.cli import given
    from rubrail.sheets.site.from_files import files_of_yard
    from rubrail.sheets.site.shown import SiteYard

    yard = given.yard_of(name)
    today = datetime.now(tz=UTC).astimezone().date()
    return files_of_yard(yard, shown_by=SiteYard(yard.title, address, contact), today=today, arrivals=arrivals)


def _of_desk(address: str) -> Iterable[SiteFile]:
    from rubrail.cli.serve import start

    found: list[Iterable[SiteFile]] = []
    start("public_files", address=address, into=found.append, say=lambda line: print(line, file=sys.stderr))
    if not found:
        raise BadInput("--address must say where buyers will find the pages, or RUBRAIL_PUBLIC_ADDRESS must.")
    return found[0]
