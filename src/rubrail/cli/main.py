"""The command line: one small module a command, none imported heavier than its signature."""

from __future__ import annotations

import gc
import os
import sys

import typer

from rubrail.cli import (
    build,
    check_files,
    checklist,
    climb,
    compare,
    decode,
    demo,
    envelope,
    hand_over,
    listing,
    match,
    paper,
    place,
    price,
    receive,
    rules,
    schema,
    serve,
    site,
    ticket,
    tie_down,
    turn,
    vin,
    walk,
    weigh,
    why,
)
from rubrail.cli.ends import CODES, INTERRUPTED, ends

EPILOG = "\b\nHow it ends:\n" + "\n".join(f"{code:>5}  {says}" for code, says in CODES.items())

app = typer.Typer(
    name="rubrail",
    help="Which trailer carries these machines behind this truck, where must they sit, what governs, and by how much.",
    epilog=EPILOG,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["--help", "-h"]},
)

COMMANDS = {
    "match": (match.command, "Which units of a yard carry a haul, best first."),
    "weigh": (weigh.command, "One haul on one trailer: every limit, what governs, what to change."),
    "place": (place.command, "Where the cargo must stand, and how far it may slide."),
    "climb": (climb.command, "The machines driven up a trailer: slopes, room, grip, loads."),
    "tie-down": (tie_down.command, "Which chain from where to where, and whether it holds."),
    "turn": (turn.command, "A rig through the corner of two lanes."),
    "ticket": (ticket.command, "Scale readings: every weight they tell, and which is off."),
    "receive": (receive.command, "A unit off the truck: VIN, order against unit, ratings, what to do."),
    "vin": (vin.command, "A VIN: valid or not, the suspicious character, where readings differ."),
    "checklist": (checklist.command, "What is looked at on a unit before it leaves, computed from it."),
    "hand-over": (hand_over.command, "A rig weighed again with its truck as it was read and measured."),
    "walk": (walk.command, "Around a unit, front to back: what each station does for a haul."),
    "compare": (compare.command, "Two to six units on the same rows."),
    "envelope": (envelope.command, "How much a trailer carries, by where the load sits."),
    "decode": (decode.command, "A unit's numbers taken apart: advertised, label, axles, payloads."),
    "build": (build.command, "The cheapest build of a model that carries a haul."),
    "price": (price.command, "A unit's price with every tax, stage by stage."),
    "listing": (listing.command, "What a unit's listing says, and which claims are refused."),
    "paper": (paper.command, "Any sheet as a PDF file: window, plan, card and the others."),
    "site": (site.command, "The public pages as a folder of files for any web server."),
    "why": (why.command, "One check of one rig: formula, numbers, where read, source."),
    "rules": (rules.command, "Every check, its kind, its source and how that was read."),
    "check": (check_files.command, "Every fault of files and yard folders."),
    "schema": (schema.command, "The JSON Schema of a file or an answer."),
    "serve": (serve.command, "The desk in a browser."),
    "demo": (demo.command, "A match on the invented yard, then the desk on it."),
}
for _name, (_command, _short) in COMMANDS.items():
    app.command(_name, short_help=_short)(ends(_command))


def _version(wanted: bool) -> None:
    if wanted:
        from rubrail import __version__

        print(f"rubrail {__version__}")
        raise typer.Exit


@app.callback()
def _everything(
    version: bool = typer.Option(False, "--version", callback=_version, is_eager=True, help="Print the version."),
) -> None:
    pass


def _start_fast() -> None:
    """A command lives for a second: collecting garbage while importing and threads for small arrays only cost time."""
    gc.set_threshold(100_000, 50, 50)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def run() -> None:
    """Run the command line and leave with a documented exit code."""
    _start_fast()
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter gets a substitute, never a traceback.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app(prog_name="rubrail")
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)


if __name__ == "__main__":
    run()
