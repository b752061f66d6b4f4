"""A unit's listing text: the yard's wording filled with what is known, as plain text and as HTML."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from rubrail.sheets.listing_facts import PublicFacts
from rubrail.sheets.sentences_amounts import listed
from rubrail.sheets.sentences_words import begin
from rubrail.things.listing import ListingText, Paragraph, template_of
from rubrail.things.listing_names import NAMES

WORDS = "the words for this unit"
NOT_MEASURED = "Not measured yet: {}. Ask before you drive out."


@dataclass(frozen=True, slots=True)
class Said:
    """A paragraph as it is told: its heading, ``""`` for none; its lines, one for a paragraph; where it comes from."""

    where: str
    heading: str
    lines: tuple[str, ...]
    listed: bool


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What was left out of the text, and for want of which facts."""

    where: str
    missing: tuple[str, ...]

    @property
    def says(self) -> str:
        """In a sentence."""
        return (
            f"{begin(self.where)} is left out: nothing is to be told of {listed([_small(m) for m in self.missing])}."
        )


@dataclass(frozen=True, slots=True)
class Listing:
    """One unit's listing text.

    stock_number, headline : of the unit; headline_most : letters a headline may have; paragraphs : in order, the
    yard's own words among them; unknown : what a buyer decides by and nobody knows yet; ending : words the yard always
    adds; left_out : parts that were left out
    """

    stock_number: str
    headline: str
    headline_most: int
    paragraphs: tuple[Said, ...]
    unknown: tuple[str, ...]
    ending: str
    left_out: tuple[LeftOut, ...]

    @property
    def headline_letters(self) -> int:
        """How long the headline is."""
        return len(self.headline)

    @property
    def not_measured(self) -> str:
        """What nobody knows yet, in a sentence; ``""`` where everything is known."""
        return NOT_MEASURED.format(listed([_small(u) for u in self.unknown])) if self.unknown else ""

    def parts(self) -> Iterator[tuple[str, str]]:
        """Every piece of the text with where it comes from, in the order it is read."""
        yield "the headline", self.headline
        for part in self.paragraphs:
            if part.heading:
                yield part.where, part.heading
            for line in part.lines:
                yield part.where, line
        if self.ending:
            yield "the ending", self.ending

    @property
    def plain(self) -> str:
        """As plain text."""
        blocks = [self.headline]
        for part in self.paragraphs:
            mark = "- " if part.listed else ""
            blocks.append("\n".join(filter(None, (part.heading, *(f"{mark}{line}" for line in part.lines)))))
        blocks += [block for block in (self.not_measured, self.ending) if block]
        return "\n\n".join(blocks) + "\n"

    @property
    def html(self) -> str:
        """As HTML, for a page that takes some."""
        out = [f"<h1>{escape(self.headline)}</h1>"]
        for part in self.paragraphs:
            if part.heading:
                out.append(f"<h2>{escape(part.heading)}</h2>")
            if part.listed:
                out.append("<ul>" + "".join(f"<li>{escape(line)}</li>" for line in part.lines) + "</ul>")
            else:
                out += [f"<p>{escape(line)}</p>" for line in part.lines]
        out += [f"<p>{escape(block)}</p>" for block in (self.not_measured, self.ending) if block]
        return "\n".join(out) + "\n"


def listing_text(facts: PublicFacts, wording: ListingText, *, words: str = "") -> Listing:
    """Word a unit's listing.

    Parameters
    ----------
    facts : PublicFacts
        What may be told of it.
    wording : ListingText
        The yard's, or the plain one that ships with the program.
    words : str
        The yard's own words for this unit; they stand first.
    """
    known = {key: fact.text for key, fact in facts.facts.items()}
    left: list[LeftOut] = []
    head = [_part(text, known, f"part {n} of the headline", left) for n, text in enumerate(wording.headline, 1)]
    paragraphs = [_own(words)] if words.strip() else []
    for n, part in enumerate(wording.paragraph, 1):
        if part.only and part.only != known.get("condition"):
            continue
        said = _paragraph(part, f"paragraph {n}", known, left)
        if said is not None:
            paragraphs.append(said)
    ending = _filled(wording.ending, known, "the ending", left) if wording.ending else ""
    return Listing(
        stock_number=facts.stock_number,
        headline=begin(", ".join(filter(None, head))) or facts.stock_number,
        headline_most=wording.headline_letters,
        paragraphs=tuple(paragraphs),
        unknown=facts.not_measured,
        ending=ending,
        left_out=tuple(left),
    )


def _own(words: str) -> Said:
    lines = tuple(line.strip() for line in words.splitlines() if line.strip())
    return Said(WORDS, "", lines, listed=False)


def _paragraph(part: Paragraph, where: str, known: dict[str, str], left: list[LeftOut]) -> Said | None:
    if part.text is not None:
        lines = (_filled(part.text, known, where, left),)
    else:
        lines = tuple(_filled(line, known, f"line {m} of {where}", left) for m, line in enumerate(part.lines, 1))
    kept = tuple(begin(line) for line in lines if line)
    return Said(where, part.heading or "", kept, listed=part.text is None) if kept else None


def _part(text: str, known: dict[str, str], where: str, left: list[LeftOut]) -> str:
    """A part of the headline; one made of names alone leaves out those that are not known."""
    template = template_of(text)
    if template.words:
        return _filled(text, known, where, left)
    if missing := template.missing(known):
        left.append(LeftOut(f"something in {where}", tuple(NAMES[name][0] for name in missing)))
    return " ".join(known[name] for name in template.names if known.get(name))


def _filled(text: str, known: dict[str, str], where: str, left: list[LeftOut]) -> str:
    template = template_of(text)
    missing = template.missing(known)
    if missing:
        left.append(LeftOut(where, tuple(NAMES[name][0] for name in missing)))
        return ""
    return template.filled(known).strip()


def _small(label: str) -> str:
    """A label inside a sentence."""
    first = label.split(" ", 1)[0]
    return label if first.isupper() else f"{label[:1].lower()}{label[1:]}"
