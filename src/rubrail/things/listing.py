"""The yard's listing text: headline, paragraphs and ending as templates, and how long a price counts as looked at."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from rubrail.things.listing_names import NAMES
from rubrail.things.measure import refuse
from rubrail.things.part import Contradiction, Day, Line, Part, Text, Thing, Whole
from rubrail.things.template import Template, read_template


def _places(text: str) -> str:
    faults = read_template(text, names=NAMES)[1]
    if faults:
        raise refuse("text whose places are names of facts, such as {payload}", text, "; ".join(faults))
    return text


Places = Annotated[str, Field(min_length=1, max_length=2000), AfterValidator(_places)]
"""Text with named places."""


def template_of(text: str) -> Template:
    """A text of a listing file, taken apart."""
    return read_template(text, names=NAMES)[0]


class Paragraph(Part):
    """A paragraph, or a list of lines. It is left out where a fact of it is not known; of a list, that line is."""

    heading: Annotated[Line | None, Field(description="words above it")] = None
    text: Annotated[Places | None, Field(description="the paragraph, with named places")] = None
    lines: Annotated[tuple[Places, ...], Field(max_length=40, description="a list in its place, line by line")] = ()
    only: Annotated[
        Literal["new", "used"] | None, Field(description="only for units of that condition; for all where left out")
    ] = None


class ListingText(Thing):
    """How the yard words its listings, from one day on."""

    schema_name = "rubrail/listing/1"

    schema_: Annotated[Literal["rubrail/listing/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/listing/1"
    )
    title: Annotated[Line | None, Field(description="what it is called")] = None
    effective: Annotated[Day | None, Field(description="first day it holds")] = None
    until: Annotated[Day | None, Field(description="last day it holds; open where left out")] = None
    notes: Text | None = None
    headline: Annotated[
        tuple[Places, ...],
        Field(
            min_length=1, max_length=12, description="parts of the headline; one whose fact is not known is left out"
        ),
    ]
    headline_letters: Annotated[Whole, Field(ge=20, le=200, description="a longer headline is told")] = 90
    paragraph: Annotated[tuple[Paragraph, ...], Field(max_length=40, description="paragraphs, in order")] = ()
    ending: Annotated[Places | None, Field(description="words the yard always adds")] = None
    warranty_new: Annotated[Line | None, Field(description="warranty of a new unit, in words")] = None
    warranty_used: Annotated[Line | None, Field(description="warranty of a used unit, in words")] = None
    vin: Annotated[Literal["last 8", "whole", "none"], Field(description="how much of the VIN goes out")] = "last 8"
    stale_days: Annotated[
        Whole, Field(ge=1, le=365, description="days after which a price nobody looked at is shown with its day")
    ] = 30
    ask_days: Annotated[
        Whole, Field(ge=1, le=730, description="days after which it is no longer shown, and a buyer has to ask")
    ] = 90

    @property
    def warranty(self) -> dict[str, str]:
        """Words by condition."""
        return {"new": self.warranty_new or "", "used": self.warranty_used or ""}

    def texts(self) -> Iterator[tuple[str, str]]:
        """Every text with its field, as faults name it."""
        yield from ((f"headline[{n}]", text) for n, text in enumerate(self.headline, 1))
        for n, part in enumerate(self.paragraph, 1):
            if part.heading:
                yield f"paragraph[{n}].heading", part.heading
            if part.text:
                yield f"paragraph[{n}].text", part.text
            yield from ((f"paragraph[{n}].lines[{m}]", line) for m, line in enumerate(part.lines, 1))
        for name in ("ending", "warranty_new", "warranty_used"):
            if text := getattr(self, name):
                yield name, text

    def contradictions(self) -> Iterator[Contradiction]:
        """Days out of order, and paragraphs that are both text and list, or neither."""
        if self.effective and self.until and self.until < self.effective:
            yield "until", self.until, f"effective ({self.effective}) or later"
        if self.ask_days < self.stale_days:
            yield "ask_days", self.ask_days, f"stale_days ({self.stale_days}) or more"
        for n, part in enumerate(self.paragraph, 1):
            if (part.text is None) == (not part.lines):
                got: Any = part.text if part.text is not None else []
                yield f"paragraph[{n}].text", got, "given, or lines in its place; one of the two"
