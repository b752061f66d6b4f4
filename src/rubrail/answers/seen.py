"""What a list's entries say of the unit's own file: ratings off the label, stamps, lamps and a breakaway as seen.

Only what somebody read or saw is taken, and only where the file has it otherwise; a line left open says nothing. How
hard the tires were, how a part has worn, is a matter of that day and no figure of the unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from rubrail.answers.checklist_judge import judge
from rubrail.answers.checklist_parts import Entry, Judged, Line
from rubrail.answers.hand_over_fields import TIRE, field_of
from rubrail.answers.written import value_at
from rubrail.quantity.value import Value
from rubrail.things.rig_trailer import tire_load
from rubrail.things.trailer import Trailer

SAME_LB = 1.2
"""A label's two scales are rounded to whole pounds and kilograms, each by itself. [lb]"""


@dataclass(frozen=True, slots=True)
class Seen:
    """One value of a unit's file as it was seen.

    path : dotted, members of lists counted from 0; value : a number in the field's unit, text, or yes and no
    basis : of a number; line : key of the line that says so
    """

    path: str
    value: float | str | bool
    basis: str
    line: str


def seen_on(trailer: Trailer, lines: Sequence[Line], entries: Mapping[str, Entry], *, on: date) -> tuple[Seen, ...]:
    """Every value of the unit's file that a list's entries have otherwise.

    Parameters
    ----------
    trailer : Trailer
        As its file has it now.
    lines : sequence of Line
        As they were frozen when the list was begun.
    entries : mapping
        Latest entry by the line's key.
    on : date
        Day the entries are judged on.
    """
    judged = {line.key: judge(line, entries.get(line.key), on=on) for line in lines}
    found: list[Seen] = []
    for line in lines:
        entry = entries.get(line.key)
        if entry is not None and not entry.empty and entry.answer != "not here":
            found += _OF.get(line.sort, _fields)(trailer, line, entry, judged[line.key])
    found += _lamps(trailer, lines, judged)
    return tuple(s for s in found if _otherwise(trailer, s))


def _otherwise(trailer: Trailer, seen: Seen) -> bool:
    old = value_at(trailer, seen.path)
    if isinstance(old, Value):
        return old.number != seen.value or old.basis not in ("label", seen.basis)
    return old != seen.value


def _ratings(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """The certification label governs: what it reads goes before what the file has."""
    paths = ["ratings.gvwr_lb", *(f"axle.{n}.gawr_lb" for n in range(len(t.axle)))]
    for path, number in zip(paths, entry.numbers, strict=False):
        if number is not None:
            old = value_at(t, path)
            # A label read in kilograms is the file's figure still.
            same = old is not None and abs(number - old.number) <= SAME_LB
            yield Seen(path, old.number if same else float(number), "label", line.key)


def _vin(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """A VIN where the file has none; one that differs is a question, and maybe another trailer."""
    if judged.why == "vin alone" and not t.vin:
        yield Seen("vin", judged.facts["found"], "", line.key)


def _stamp(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """Size and rating of the coupling, which the line showed, as its stamp has them."""
    if judged.mark == "ok":
        yield from _confirmed(t, "coupling.ball_size_in", line.facts.get("ball_size_in"), line)
        yield from _confirmed(t, "coupling.gross_rating_lb", line.facts.get("rated_lb"), line)


def _sidewall(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """Load of a tire off its sidewall, rating of a wheel off its stamp, as the line showed them."""
    n = int(line.facts["axle"]) - 1
    if judged.mark != "ok" or n >= len(t.axle):
        return
    axle = t.axle[n]
    if tire_load(axle) is not None:
        name = "max_load_dual_lb" if axle.tires.count == 4 else "max_load_lb"
        yield from _confirmed(t, f"axle.{n}.tires.{name}", line.facts.get("load_lb"), line)
    together = line.facts.get("wheels_lb")
    if together is not None and axle.tires.count:
        yield from _confirmed(t, f"axle.{n}.wheel_rating_lb", together / axle.tires.count, line)


def _confirmed(t: Trailer, path: str, shown: float | None, line: Line) -> Iterator[Seen]:
    """A figure the line showed and somebody read off the part; nothing where the file has another one by now."""
    old = value_at(t, path)
    if shown is not None and old is not None and old.number == shown:
        yield Seen(path, old.number, "label", line.key)


def _torque(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """Torque of the maker's sheet where the file has none, entered with the wheel nuts set to it."""
    n = int(line.facts["axle"]) - 1
    if judged.why == "by sheet" and n < len(t.axle) and t.axle[n].wheel_torque_ft_lb is None:
        yield Seen(f"axle.{n}.wheel_torque_ft_lb", float(judged.facts["wanted"]), "maker", line.key)


def _breakaway(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    if judged.mark == "ok":
        yield Seen("breakaway", True, "", line.key)


def _fields(t: Trailer, line: Line, entry: Entry, judged: Judged) -> Iterator[Seen]:
    """Numbers of a hand-over that are the unit's own, such as the size stamped on its coupler."""
    for name, number in zip(line.facts.get("fields", ()), entry.numbers, strict=False):
        field = field_of(name, axles=len(t.axle))
        if number is not None and field is not None and field.trailer and not TIRE.fullmatch(name):
            yield Seen(field.trailer, float(number), field.basis, line.key)


_OF: Mapping[str, Callable[[Trailer, Line, Entry, Judged], Iterator[Seen]]] = {
    "ratings": _ratings,
    "vin": _vin,
    "coupling stamp": _stamp,
    "sidewall": _sidewall,
    "torque": _torque,
    "breakaway": _breakaway,
}


def _lamps(t: Trailer, lines: Sequence[Line], judged: Mapping[str, Judged]) -> Iterator[Seen]:
    """Whether every lamp and marking required was seen.

    One that is surely required and is not in order leaves them incomplete. A lamp that may or may not be required must
    be in order, too, before they are called complete.
    """
    asked = [line for line in lines if line.sort in ("lamp", "marking")]
    lacking = [x for x in asked if x.facts.get("sure") and judged[x.key].mark == "not ok"]
    if lacking:
        yield Seen("lamps_complete", False, "", lacking[0].key)
    elif asked and all(judged[x.key].mark == "ok" for x in asked):
        yield Seen("lamps_complete", True, "", asked[0].key)
