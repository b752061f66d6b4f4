"""One line entered: numbers read at the door, both kept where two stand at different lines, both told at the same."""

from __future__ import annotations

import math
import re
import uuid
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from rubrail.answers.checklist_parts import Line
from rubrail.desk.checking.lists import FINISHED, lines_of, look_again, to_put_right
from rubrail.desk.models import CheckEntry, Checklist, Photo, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.stock import Purpose
from rubrail.desk.photographs import keep_photos, photos_about
from rubrail.desk.typed import US, accepted_in, measures_sent, number_text, unit_word, with_unit
from rubrail.quantity.parse import EXAMPLES, UnreadableError, dimension_of, parse_quantity
from rubrail.rules.chambers import chamber_named
from rubrail.sheets.sentences_amounts import listed
from rubrail.sheets.sentences_checklist import MARK_WORDS, line_words, shown

ANSWERS = ("ok", "not ok", "not here")
MOST_TEXT = 500
MOST_NUMBER = 1_000_000
MOST_TURNS = 50
MOST_PHOTOS = 12
"""Photos of one line."""
CORE = {"length": "in", "size": "in"}
"""Units of a line that are read as another."""
READ = ("lb", "in", "psi", "ft lb")
PLAIN = {"V": "volts such as 12.6", "A": "amperes such as 3.1", "32nds": "thirty-seconds such as 8"}


class EntryError(ValueError):
    """What was entered is not taken; one sentence or more, each saying what is accepted."""


class ConflictError(Exception):
    """Somebody else entered something else at the same line meanwhile."""

    def __init__(self, theirs: CheckEntry, mine: Mapping[str, Any]) -> None:
        super().__init__(str(theirs))
        self.theirs, self.mine = theirs, mine


def line_in(it: Checklist, key: str) -> Line:
    """The line of a list by its key.

    Raises
    ------
    EntryError
        If the list has no such line.
    """
    found = next((line for line in lines_of(it) if line.key == key), None)
    if found is None:
        raise EntryError("This list has no such line any more; open the page again.")
    return found


def entry_seen(it: Checklist, line: Line, turn: int) -> Mapping[str, Any]:
    """What a line's entry of a turn says; nothing where there is none."""
    found = it.entries.filter(line=line.key, turn=turn).first() if turn else None
    return found.value if found else {}


def read_entry(line: Line, data: Mapping[str, str], *, was: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """What a form says of a line, as it is stored.

    Parameters
    ----------
    line : Line
    data : mapping
        ``answer``, ``number-0`` and on in the order of the line's places, ``pick`` of the first by name, ``text``;
        ``measures`` bare numbers are in.
    was : mapping, optional
        What the form showed, as stored: a number that comes back as it was shown is the same to the last digit.

    Raises
    ------
    EntryError
        With every fault at once.
    """
    faults, numbers = [], []
    answer = data.get("answer", "")
    allowed = ANSWERS if line.optional else ANSWERS[:2]
    if answer not in allowed:
        faults.append(f"The answer must be one of {', '.join(MARK_WORDS[a] for a in allowed)}.")
    allowed_numbers, measures = line.facts.get("allowed", ()), measures_sent(data)
    shown_numbers, pick = (was or {}).get("numbers", ()), ""
    for n, place in enumerate(line.places):
        try:
            if n == 0 and data.get("pick", "").strip() and line.facts.get("picks"):
                pick, number = read_pick(line, data, measures=measures)
                numbers.append(number)
                continue
            text, old = data.get(f"number-{n}", ""), shown_numbers[n] if n < len(shown_numbers) else None
            if text and old is not None and text.strip() == written_number(old, line.unit, measures):
                numbers.append(old)
                continue
            numbers.append(read_number(text, unit=line.unit, place=place, measures=measures))
            if n < len(allowed_numbers) and numbers[-1] is not None:
                unit = CORE.get(line.unit, line.unit)
                _within(numbers[-1], *allowed_numbers[n], text=text, unit=unit, place=place, measures=measures)
        except EntryError as fault:
            faults.append(str(fault))
    text = " ".join(data.get("text", "").split())
    if len(text) > MOST_TEXT:
        faults.append(f"The note has {len(text)} letters; at most {MOST_TEXT} are kept.")
    if answer == "not ok" and not text and not any(n is not None for n in numbers) and line.entry != "photo":
        faults.append("Write in a few words what is not in order, so that somebody can put it right.")
    if faults:
        raise EntryError(" ".join(faults))
    more = {name: said for name, said in (("pick", pick), ("text", text)) if said}
    return {"answer": answer, **({"numbers": numbers} if line.places else {}), **more}


def read_pick(line: Line, data: Mapping[str, str], *, measures: str = US) -> tuple[str, float]:
    """The first number of a line as it was picked by name: the name, and its number.

    Raises
    ------
    EntryError
        If there is no such name, or another number was typed beside it.
    """
    picks, said = dict(line.facts["picks"]), data.get("pick", "").strip()
    name, place = chamber_named(said, among=picks), line.places[0]
    if not name:
        known = listed([each.removeprefix("type ") for each in picks], joint="or")
        raise EntryError(
            f"The type must be {known}, got {said[:20]!r}: for any other leave it empty and type {place}."
        )
    typed = read_number(data.get("number-0", ""), unit=line.unit, place=place, measures=measures)
    if typed is not None and not math.isclose(typed, picks[name], abs_tol=0.005):
        allows, other = (shown(n, line.unit, metric=measures != US) for n in (picks[name], typed))
        raise EntryError(
            f"{name.capitalize()} allows {allows}, and {place} was typed as {other}: leave one of them empty."
        )
    return name, picks[name]


def field_unit(unit: str, measures: str) -> str:
    """What a bare number of a line is in; a ball's size is in inches everywhere, as it is stamped."""
    return "in" if unit == "size" else unit_word(CORE.get(unit, unit), measures)


def written_number(number: float, unit: str, measures: str) -> str:
    """A number of a line as its field shows it."""
    if unit == "code":
        return f"{round(number):04d}"
    core = CORE.get(unit, unit)
    return number_text(number, core, US if unit == "size" else measures) if core in READ else f"{number:.6g}"


def read_number(text: str, *, unit: str, place: str, measures: str = US) -> float | None:
    """One number of a line in its unit; nothing where the field was left empty.

    Raises
    ------
    EntryError
        If it is no such number.
    """
    text = text.strip()
    if not text:
        return None
    if unit == "code":
        if not re.fullmatch(r"[0-9]{4}", text):
            raise EntryError(
                f"{place.capitalize()} must be four digits, week and year such as 3524, got {text[:20]!r}."
            )
        return float(text)
    core, measures = CORE.get(unit, unit), US if unit == "size" else measures
    try:
        typed = with_unit(text, core, measures)
        number = parse_quantity(typed, core) if core in READ else float(text.replace(",", ""))
    except (UnreadableError, ValueError, OverflowError):
        number = math.nan
    if not (math.isfinite(number) and 0 <= number <= MOST_NUMBER):
        wanted = f"a {dimension_of(core)} such as {EXAMPLES[dimension_of(core)]}" if core in READ else PLAIN.get(
            unit, "a number such as 12"
        )  # fmt: skip
        raise EntryError(f"{place.capitalize()} must be {accepted_in(wanted, measures)}, got {text[:20]!r}.")
    return number


def _within(number: float, least: float, most: float, *, text: str, unit: str, place: str, measures: str) -> None:
    if not least <= number <= most:
        wanted = accepted_in(f"{least:,g} to {most:,g} {unit}", measures)
        raise EntryError(f"{place.capitalize()} must be {wanted}, got {with_unit(text.strip(), unit, measures)}.")


def keep_entry(
    it: Checklist, line: Line, value: Mapping[str, Any], *, seen: int, by: User, written: str = ""
) -> CheckEntry:
    """Add an entry at a line of a list; what is there already in the same words is not added again.

    Parameters
    ----------
    it : Checklist
    line : Line
    value : mapping
        As ``read_entry`` gives it.
    seen : int
        Turn of the line's entry the person had before them, 0 for none.
    by : User
    written : str
        The phone's time, where it was sent later.

    Raises
    ------
    ConflictError
        If somebody else entered something else meanwhile, or they themselves did later on another phone.
    EntryError
        If the list does not take entries at this line any more.
    """
    _open_for(it, line)
    there = it.entries.filter(line=line.key).select_related("by").order_by("-turn").first()
    if there is not None and there.value == value and it.state == CheckState.OPEN:
        return there
    # What one person entered twice before the first was sent is no conflict; what a second phone sends late is.
    since = it.entries.filter(line=line.key, turn__gt=seen)
    if since.exclude(by=by).exists() or (since.exists() and _older(moment(written), there)):
        raise ConflictError(there, value)
    turn = there.turn + 1 if there is not None else 1
    if turn > MOST_TURNS:
        raise EntryError(f"This line was entered {MOST_TURNS} times already; begin a new list.")
    try:
        with transaction.atomic():
            made = CheckEntry.objects.create(
                checklist=it, line=line.key, turn=turn, value=dict(value), by=by, seen_at=moment(written)
            )
    except IntegrityError:
        first = it.entries.filter(line=line.key).select_related("by").order_by("-turn").first()
        raise ConflictError(first, value) from None
    Checklist.objects.filter(pk=it.pk).update(updated=timezone.now())
    look_again(it, by=by)
    return made


def _older(at: datetime | None, there: CheckEntry) -> bool:
    return at is not None and at < (there.seen_at or there.at)


def keep_line_photos(
    it: Checklist, line: Line, files: Sequence[UploadedFile], *, by: User, key: uuid.UUID | None = None
) -> tuple[Photo, ...]:
    """Keep pictures of a line.

    Raises
    ------
    EntryError
        If the list takes none there, or one cannot be kept; nothing is kept then.
    """
    _open_for(it, line)
    there = photos_about(it).filter(spot__line=line.key).count()
    if there + len(files) > MOST_PHOTOS:
        raise EntryError(f"A line keeps at most {MOST_PHOTOS} photos; this one has {there}.")
    says = f"{line_words(line).title}, {it.unit.stock_number}"
    sent = keep_photos(
        files, unit=None, by=by, purpose=Purpose.CHECK, about=it, says=says, spot={"line": line.key}, key=key
    )
    if sent.faults:
        raise EntryError(" ".join(sent.faults))
    look_again(it, by=by)
    return sent.kept


def _open_for(it: Checklist, line: Line) -> None:
    if it.state == CheckState.OPEN:
        return
    if it.sort == "handover" and it.state in FINISHED:
        raise EntryError("This hand-over is signed, and its sheet is frozen.")
    if it.state not in FINISHED:
        raise EntryError("This list was given up; begin a new one.")
    if line.key not in to_put_right(it):
        raise EntryError("This list is signed. Only what was not in order can be looked at again.")


def moment(text: str) -> datetime | None:
    """The phone's own time of an entry, where it is one and not in the future; phones' clocks are not trusted far."""
    try:
        at = datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        return None
    at = at if at.tzinfo else at.replace(tzinfo=UTC)
    now = timezone.now()
    return at if now - timedelta(days=90) <= at <= now + timedelta(minutes=5) else None


def entry_words(line: Line, value: Mapping[str, Any], *, metric: bool = False) -> str:
    """An entry in words: ``in order; left 80 psi, right 80 psi; new valve``."""
    answer = MARK_WORDS.get(value.get("answer", ""), "")
    read = any(number is not None for number in value.get("numbers", ()))
    # Numbers and the typed text of a line speak for themselves; the word in front of them would judge.
    said = [] if value.get("answer") == "ok" and (read or line.entry == "text") else [answer]
    return "; ".join(filter(None, (*said, reading_words(line, value, metric=metric))))


def reading_words(line: Line, value: Mapping[str, Any], *, metric: bool = False) -> str:
    """What was read and written at a line, without how it stands: ``left 80 psi, right 80 psi; new valve``."""
    numbers = [
        f"{place} {shown(number, line.unit, metric=metric)}" if len(line.places) > 1 else
        shown(number, line.unit, metric=metric)
        for place, number in zip(line.places, value.get("numbers", ()), strict=False) if number is not None
    ]  # fmt: skip
    read = ", ".join(filter(None, (value.get("pick", ""), *numbers)))
    return "; ".join(filter(None, (read, value.get("text", ""))))
