"""docs/listing.md: the facts a listing may speak of, and the claims that are refused, from the tables themselves."""

from __future__ import annotations

from rubrail.rules.claims import claim_rules
from rubrail.rules.sources import source
from rubrail.things.listing_names import NAMES

HEAD = """# Listings

Written by `scripts/make_docs.py`; a test fails when it differs.

What may be told of a unit to anybody, and how it is worded. Facts come from the unit's file and from what the engine
reckons of it. Nothing else goes out: no cost, no margin, no buyer, no note, no place on the lot, and of the VIN the
last 8 characters unless the yard lets out more or less. What is not known is left out and told as *not measured yet*;
it is never guessed.

```
rubrail listing SH-132 --yard demo
rubrail listing SH-132 --yard demo --html
rubrail listing SH-132 --yard demo --check advertisement.txt
```

The exit code is 1 where a claim is refused. `--template` names another listing file, `--words` the own words for this
unit, `--price-looked-at` the day its price was last found right.

## The yard's own wording

A listing file words the headline, the paragraphs and the ending; [files.md](files.md) has its fields. On the desk it
is written on one page, looked at on a unit while it is written, and kept from a day on; the latest in force counts. A
yard without one uses the plain text that comes with rubrail.

- A part of the headline, a paragraph or a line of a list **whose fact is not known is left out**, and the page says
  which and why.
- A part of the headline made of names alone, such as `{year} {maker}`, leaves out those that are not known.
- A headline longer than the file allows is told, not cut.
- The yard's own words for one unit stand first.
- A name in braces that is no fact is refused with the nearest one. Doubled braces stand for one.

| name | called | is |
|---|---|---|
"""
SHOWN = """
## Which units are shown

| where it stands | on the public pages |
|---|---|
| in the yard | if the yard chose to show it |
| held for a buyer | the same, marked as held |
| expected | the same, marked as expected: its figures are what was ordered, and nobody has read its label |
| sold, retired | never; it drops out by itself and comes back if it is brought back |

A unit whose text or title makes a claim that is refused is not put on the public pages. One that is there already is
held against what is true of it each time a page is made: where its text fails since, it is shown with its figures
alone. Own words that no longer hold, because the unit was weighed or its price changed, are left out of the text until
somebody mends them, and the list of listings says so.

What somebody typed and pages show by itself is held to the same: title, maker, model, color, floor, plug, what is also
fitted, the warranty, what is added to the price, and what a photo is said to show. What makes a claim that is refused
is left out. In place of such a title, pages, feeds, drawings and labels say one made of facts alone: coupling, deck
and length. The unit's listing, the list of listings and the first page after sign-in say so. A model's name may hold a
number: it is its maker's own.

## The age of a price

A price is as old as the last day on which somebody set it or pressed *the price is still right*. Before that it is as
old as the unit's record. With the bounds of the listing file (common practice, no source: 30 and 90 days):

| age | shown as |
|---|---|
| up to `stale_days` | the price |
| more | the price with its day, *as of* |
| more than `ask_days`, or of unknown age | *ask for the price* |

An old price stands on the unit's listing, on the list of listings, and among what needs a hand today.

## Claims that are refused

Read in the yard's wording, in its own words for a unit, in the text as it comes out, and in any text of `--check`.
Spelling does not matter: capitals, hyphens, dots, curly quotes, and letters that do not show are seen through. Numbers
are read as written, `14K`, `14,000 lb`, `7 ton`, `6,350 kg`, `twenty-five thousand`, and held against the unit's own;
two machines of a weight weigh twice that. A number of axles and a model year are held against the unit's file. A
sentence that denies a claim, such as *not a 14K payload*, is let pass where the table says so; a question denies
nothing. What is refused is kept for the person to change, with the place marked.

The table is a help, not a judge: a text it lets pass may still mislead, and the law where the yard sells prevails.

| rule | refuses | because | say instead | source |
|---|---|---|---|---|
"""
SOURCES = """
The sources, and how they were read:

"""


def listing_page() -> str:
    """The whole page."""
    names = "".join(f"| `{{{key}}}` | {label} | {says} |\n" for key, (label, says) in NAMES.items())
    rules = claim_rules().values()
    rows = "".join(f"| {r.id} | {_refuses(r)} | {r.why} | {r.instead} | {r.source} |\n" for r in rules)
    keys = dict.fromkeys(r.source for r in rules)
    return HEAD + names + SHOWN + rows + SOURCES + "".join(_source(key) for key in keys)


def _refuses(rule) -> str:
    only = {"used": "of units not known to be new: ", "excise due": ""}.get(rule.when, "")
    return f"{only}{rule.refuses}{'' if rule.denied else '; also where it is denied'}"


def _source(key: str) -> str:
    it = source(key)
    where = ", ".join(filter(None, (it.section, it.edition)))
    return f"- **{key}**: {it.title}{f' ({where})' if where else ''}; {it.how_read}. {it.says}\n"
