"""docs/limits.md, written from the registry so that it cannot drift from it."""

from __future__ import annotations

from collections.abc import Iterator

from rubrail.checks.registry import CHECKS, GROUPS, QUANTITIES, Check, Quantity
from rubrail.rules.sources import Source, source
from rubrail.sheets.sentences_words import KIND_WORDS, SAFETY, begin
from rubrail.things.names import COLUMNS, unit_of

GROUP_HEADS = {
    "coupling": "Coupling",
    "trailer": "Trailer",
    "tires": "Trailer tires and wheels",
    "truck": "Truck",
    "road": "Road",
    "deck": "Deck",
    "papers": "Papers, equipment and tax",
    "loading": "Loading",
    "securing": "Securing",
}
HEAD = """# The limits

Written by `rubrail rules --markdown` from the registry of checks; a test fails when this page differs from it.
Change the check, not the page.

Every check compares a *demand* with a *limit*; the margin is limit − demand, and exactly at the limit holds.
Ratings, law and fit decide the verdict. Guidance is not law: a rig that goes against it is `depends`. Duties and
tax are told beside the verdict. Names in formulas are explained under [Quantities](#quantities) and
[Inputs](#inputs); `inf` means that the check does not apply. What is not known makes the check not known.

"""


def limits_page() -> str:
    """The whole page."""
    return HEAD + "\n".join([f"{SAFETY}\n", *_contents(), *_checks(), *_quantities(), *_inputs(), *_sources()]) + "\n"


def _contents() -> Iterator[str]:
    yield "| check | what it compares | kind | sources read |"
    yield "|---|---|---|---|"
    for group in GROUPS:
        for c in _of(group):
            read = ", ".join(dict.fromkeys(source(k).verified for k in c.sources))
            yield f"| [{c.id}](#{c.id}) | {_cell(begin(c.title))} | {KIND_WORDS[c.kind]} | {read} |"
    yield ""


def _of(group: str) -> list[Check]:
    return sorted((c for c in CHECKS.values() if c.group == group), key=lambda c: c.id)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _checks() -> Iterator[str]:
    for group in GROUPS:
        if not _of(group):
            continue
        yield f"## {GROUP_HEADS.get(group, begin(group))}\n"
        for c in _of(group):
            yield f"### {c.id}\n"
            yield f"{begin(c.title)}. *{begin(KIND_WORDS[c.kind])}.* {c.says}\n"
            yield from _formula(c)
            yield f"- In doubt: {c.settle}." if c.settle else "- In doubt: measure the widest input."
            yield from (_cited(source(k)) for k in c.sources)
            yield ""


def _formula(c: Check) -> Iterator[str]:
    about = _first_line(c.function.__doc__)
    if c.demand and c.limit:
        yield f"- Demand: `{c.demand}`"
        yield f"- Limit: `{c.limit}`"
    else:
        yield f"- No one expression says it. {about}"
    per = f", one for each {c.per}" if c.per else ""
    yield f"- In {c.unit}{per}." if c.unit else f"- Yes or no: 1 is needed or there, 0 is not{per}."
    yield f"- Inputs: {', '.join(f'`{n}`' for n in c.inputs)}"


def _cited(s: Source) -> str:
    return f"- Source [{s.key}](#sources): {s.title}, {s.section}; {s.how_read}."


def _first_line(text: str | None) -> str:
    return (text or "").strip().split("\n")[0]


def _quantities() -> Iterator[str]:
    yield "## Quantities\n"
    yield "Values that checks share. `sum`, `min` and `max` of a name that comes once an axle or piece go over all.\n"
    yield "| name | what it is | unit | how it is made up |"
    yield "|---|---|---|---|"
    for q in sorted(QUANTITIES.values(), key=lambda q: q.name):
        per = f", each {q.per}" if q.per else ""
        how = f"`{_cell(q.formula)}`" if q.formula else _cell(_words(q))
        yield f"| `{q.name}` | {_cell(begin(q.title))}{per} | {unit_of(q.name)} | {how} |"
    yield ""


def _words(q: Quantity) -> str:
    return f"{_first_line(q.function.__doc__)} From {', '.join(f'`{n}`' for n in q.inputs)}."


def _inputs() -> Iterator[str]:
    yield "## Inputs\n"
    yield "What is read off labels, tapes and scales, and where the [files](files.md) write it.\n"
    yield "| name | what it is | written under |"
    yield "|---|---|---|"
    for c in COLUMNS.values():
        per = f", each {c.per}" if c.per else ""
        yield f"| `{c.name}` | {_cell(begin(c.says))}{per} | `{c.path}` |"
    yield ""


def _sources() -> Iterator[str]:
    yield "## Sources\n"
    yield "How each was read is part of the record. *Practice* is common practice of the trade without a source.\n"
    yield "| key | document | how it was read | what it says |"
    yield "|---|---|---|---|"
    used = dict.fromkeys(k for c in CHECKS.values() for k in c.sources)
    used |= dict.fromkeys(k for q in QUANTITIES.values() for k in q.sources)
    for key in sorted(used):
        s = source(key)
        title = ", ".join(p for p in (s.title, s.section, s.edition) if p)
        where = f" ({s.address})" if s.address else ""
        on = f", {s.read_on}" if s.read_on else ""
        yield f"| {key} | {_cell(title)}{_cell(where)} | {s.how_read}{on} | {_cell(s.says)} |"
