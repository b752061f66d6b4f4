"""The yard's own lines of its checklists, beside those that are computed from each unit."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.part import Contradiction, Day, Flag, Id, Line, Part, Text, Thing

Station = Literal[
    "label", "coupling", "chains", "jack", "deck", "anchors", "frame", "wheels", "tires", "brakes", "ramps", "lamps",
    "last",
]  # fmt: skip
Reading = Annotated[float, Field(ge=-1_000_000, le=1_000_000)]


class OwnLine(Part):
    """One line of the yard's own."""

    id: Annotated[Id, Field(description="its own name in the file")]
    on: Annotated[
        tuple[Literal["inspection", "round", "handover"], ...],
        Field(min_length=1, max_length=3, description="lists it stands on"),
    ] = ("inspection",)
    station: Annotated[Station, Field(description="where one stands for it")] = "last"
    title: Annotated[Line, Field(description="what is looked at, in a few words")]
    do: Annotated[Line, Field(description="what to do")]
    good: Annotated[Line | None, Field(description="what counts as good")] = None
    entry: Annotated[
        Literal["look", "numbers", "text", "photo"],
        Field(description="what is entered besides ok or not ok: nothing, numbers, words, a photo"),
    ] = "look"
    places: Annotated[
        tuple[Line, ...], Field(max_length=8, description="what each number is of; one number where left out")
    ] = ()
    unit: Annotated[Literal["lb", "in", "psi", "V", "A", "ft lb"] | None, Field(description="unit of the numbers")] = (
        None
    )
    least: Annotated[Reading | None, Field(description="least that counts as good")] = None
    most: Annotated[Reading | None, Field(description="most that counts as good")] = None
    holds: Annotated[Flag, Field(description="holds the unit back when not in order")] = False
    optional: Annotated[Flag, Field(description="a unit may be without it")] = True
    couplings: Annotated[
        tuple[Literal["ball", "gooseneck", "kingpin", "pintle"], ...],
        Field(max_length=4, description="only units with these couplings; all where left out"),
    ] = ()
    condition: Annotated[Literal["new", "used"] | None, Field(description="only units of that condition")] = None


class Checks(Thing):
    """Lines the yard adds to its checklists, from one day on."""

    schema_name = "rubrail/checks/1"

    schema_: Annotated[Literal["rubrail/checks/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/checks/1"
    )
    title: Annotated[Line | None, Field(description="what it is called")] = None
    effective: Annotated[Day | None, Field(description="first day it holds")] = None
    until: Annotated[Day | None, Field(description="last day it holds; open where left out")] = None
    notes: Text | None = None
    line: Annotated[tuple[OwnLine, ...], Field(max_length=60, description="the lines")] = ()

    def contradictions(self) -> Iterator[Contradiction]:
        """A line named twice, bounds without numbers or against each other, a file that ends before it begins."""
        if self.effective and self.until and self.until < self.effective:
            yield "until", self.until, f"effective ({self.effective}) or later"
        seen: set[str] = set()
        for n, line in enumerate(self.line, 1):
            if line.id in seen:
                yield f"line[{n}].id", line.id, "used once in the file"
            seen.add(line.id)
            if line.entry != "numbers":
                for name in ("places", "unit", "least", "most"):
                    value = getattr(line, name)
                    if value not in (None, ()):
                        yield f"line[{n}].{name}", value, "left out, for no numbers are entered"
            elif line.least is not None and line.most is not None and line.most < line.least:
                yield f"line[{n}].most", line.most, f"least ({line.least:g}) or more"
