"""Arguments and options that several commands share."""

from __future__ import annotations

from typing import Annotated

import typer

Haul = Annotated[str, typer.Argument(metavar="HAUL", help="A haul file, or the id of a haul in the yard.")]
Trailer = Annotated[str, typer.Argument(metavar="TRAILER", help="A trailer file, or the id of a unit in the yard.")]
Yard = Annotated[
    str | None,
    typer.Option(
        "--yard",
        metavar="FOLDER",
        help="The yard folder where ids are looked up; 'demo' is the invented yard."
        " Without it: the yard the named files lie in, or the folder you are in.",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON (docs/json.md).")]
Metric = Annotated[bool, typer.Option("--metric", help="Show kilograms, centimeters and kilopascals.")]
At = Annotated[
    list[str] | None,
    typer.Option(
        "--at",
        metavar="PLACE",
        help="Where a piece stands: its foremost point behind the front of the deck, such as '60', '5 ft'"
        " or '5 ft rear-first'. Once for each piece, in the haul's order; without it, the best place.",
    ),
]
