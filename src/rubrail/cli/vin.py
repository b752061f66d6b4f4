"""``rubrail vin``: whether a VIN is valid, which character is suspicious, and where readings differ."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput, all_at_once

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rubrail.answers.receive_report import VinFindings
    from rubrail.cli.screen import Screen

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def command(
    vin: Annotated[str, typer.Argument(metavar="VIN", help="The VIN as read; PLACE=VIN says where (label, papers).")],
    others: Annotated[
        list[str] | None, typer.Argument(metavar="OTHER", help="Other readings of it, such as papers=1Z9...")
    ] = None,
    maker: Annotated[
        list[str] | None,
        typer.Option("--maker", metavar="CODE", help="A code known for its maker: three characters or six."),
    ] = None,
    year: Annotated[int | None, typer.Option("--year", metavar="YEAR", help="Model year on the label.")] = None,
    as_json: options.AsJson = False,
) -> str:
    """Check a VIN: check digit, model year, maker; the character that is suspicious; where readings differ."""
    from rubrail.answers.receive_vin import read_vins, standing_of
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_vin import vin_sentence

    asked = all_at_once(
        vins=lambda: named([vin, *(others or [])]), maker_codes=lambda: maker_codes(maker), year=lambda: _year(year)
    )
    findings = read_vins(**asked, this_year=this_year())
    sentence = vin_sentence(findings, alone=True)
    verdict = standing_of(findings)
    if as_json:
        print(told(answer="vin", sentence=sentence, record=findings))
    else:
        from rubrail.cli.screen import Screen

        screen = Screen()
        screen.verdict(verdict, sentence)
        show(screen, findings)
    return verdict


def named(texts: Sequence[str]) -> dict[str, str]:
    """Readings by where they were made, ``first`` and so on where nobody said.

    Raises
    ------
    BadInput
        If a reading is empty, or two are said to be of one place.
    """
    found: dict[str, str] = {}
    faults = []
    for n, text in enumerate(texts):
        place, equals, vin = text.rpartition("=")
        place = (
            place.strip().lower() if equals else ORDINALS[n] + " reading" if n < len(ORDINALS) else f"reading {n + 1}"
        )
        if not vin.strip() or not place:
            faults.append(f"VIN must be a VIN or PLACE=VIN such as label=1Z9FG3225SHZ12001, got {text!r}.")
        elif place in found:
            faults.append(f"VIN must be given once for each place, and {place} is given twice.")
        found[place] = vin.strip()
    if faults:
        raise BadInput(*faults)
    return found


def maker_codes(codes: Sequence[str] | None) -> list[str]:
    """Maker's codes as typed.

    Raises
    ------
    BadInput
        If one has neither three nor six letters and digits.
    """
    from rubrail.rules.vin import clean

    found = [clean(vin=c).replace(".", "") for c in codes or []]
    faults = [
        f"--maker must be three characters, or six for a low-volume maker, got {typed!r}."
        for typed, code in zip(codes or [], found, strict=True)
        if len(code) not in (3, 6) or not code.isalnum()
    ]
    if faults:
        raise BadInput(*faults)
    return found


def _year(year: int | None) -> int | None:
    if year is not None and not 1950 <= year <= 2100:
        raise BadInput(f"--year must be 1950 to 2100, got {year}.")
    return year


def this_year() -> int:
    """The calendar year model years are judged by."""
    from datetime import UTC, datetime

    return datetime.now(tz=UTC).astimezone().year


def show(screen: Screen, findings: VinFindings) -> None:
    """Print what each reading says, and where two differ."""
    from rubrail.sheets.sentences_amounts import listed
    from rubrail.sheets.sentences_vin import CANNOT_TELL, difference_lines, not_caught_line, reading_lines, vin_facts
    from rubrail.sheets.sentences_words import begin

    alike: dict[str, list[str]] = {}
    for r in findings.readings:
        alike.setdefault(r.vin, []).append(r.place)
    for r in {r.vin: r for r in findings.readings}.values():
        screen.heading(f"{begin(listed(alike[r.vin]))}: {r.vin}")
        screen.table(("", "left", 14), ("", "wrap"), rows=list(vin_facts(r)), no_header=True)
        for line in reading_lines(r):
            screen.text(line)
        if r.valid and (again := not_caught_line(r)):
            screen.text(again)
    if findings.differences:
        screen.heading("Where they differ")
        for line in difference_lines(findings):
            screen.text(line)
    screen.text()
    screen.text(CANNOT_TELL, style="dim")
