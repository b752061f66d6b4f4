"""A trailer as ordered beside the same as received: every field that either has, member by member."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rubrail.answers.receive_names import GROUPS, LEFT_OUT, group_of
from rubrail.quantity.show import UNKNOWN, show
from rubrail.quantity.value import Value
from rubrail.things.fields import names_of, parts_in
from rubrail.things.measure import Measure
from rubrail.things.part import Part
from rubrail.things.trailer import Anchor, Equipment, Trailer

EACH = "*"
"""Stands in a path for every member of a list, where all of them agree."""
NEAR_IN = 12.0
"""Anchors farther apart than this are not the same anchor."""
SidePart = Part | None


@dataclass(frozen=True)
class Pair:
    """One field of two trailers.

    path : its name, ``axle.*.gawr_lb`` where all axles agree; measure : its annotation, ``None`` where it is not
    measured; whole : it is a whole member of a list, there or not there; inner : what the member holds, where both
    sides have it.
    """

    path: str
    ordered: Any
    received: Any
    measure: Measure | None = None
    whole: bool = False
    inner: tuple[Pair, ...] = ()


def pairs(ordered: Trailer | None, received: Trailer) -> tuple[Pair, ...]:
    """Every field that either has, in the order the trade looks at them."""
    found = [p for p in _of_part(Trailer, ordered, received, "") if p.ordered is not None or p.received is not None]
    return tuple(sorted(found, key=lambda p: GROUPS.index(group_of(p.path))))


def _of_part(model: type[Part], ordered: SidePart, received: SidePart, prefix: str) -> Iterator[Pair]:
    for name, info in names_of(model).items():
        attribute = next(a for a, i in model.model_fields.items() if (i.alias or a) == name)
        if name in LEFT_OUT or (model is Equipment and name == "says"):
            continue
        first, second = (getattr(side, attribute, None) for side in (ordered, received))
        inner = next(parts_in(info.annotation), None)
        path = f"{prefix}{name}"
        if inner is None:
            measure = next((m for m in _annotations(info) if isinstance(m, Measure)), None)
            yield Pair(path, _set(first, name), _set(second, name), measure)
        elif not inner[1]:
            yield from _of_part(inner[0], first, second, f"{path}.")
        elif inner[0] is Anchor:
            yield from _matched(path, first or (), second or (), _same_anchor)
        elif inner[0] is Equipment:
            yield from _matched(path, first or (), second or (), lambda a, b: a.tag == b.tag)
        else:
            yield from _numbered(inner[0], path, first or (), second or ())


def _set(value: Any, name: str) -> Any:
    return None if value == () else value


def _annotations(info: Any) -> list[Any]:
    return [*info.metadata, *getattr(info.annotation, "__metadata__", ())]


def _numbered(model: type[Part], path: str, ordered: Sequence[Part], received: Sequence[Part]) -> Iterator[Pair]:
    """Members by number, folded into one row where every one of them says the same on each side."""
    both = min(len(ordered), len(received)) or max(len(ordered), len(received))
    sides = [
        (ordered[n] if n < len(ordered) else None, received[n] if n < len(received) else None) for n in range(both)
    ]
    listed = [list(_of_part(model, a, b, f"{path}.{n}.")) for n, (a, b) in enumerate(sides)]
    for row in zip(*listed, strict=True):
        first = row[0]
        if len(row) > 1 and all((p.ordered, p.received) == (first.ordered, first.received) for p in row):
            yield Pair(first.path.replace(f"{path}.0.", f"{path}.{EACH}.", 1), first.ordered, first.received,
                       first.measure)  # fmt: skip
        else:
            yield from row
    if ordered and received:
        for n in range(both, max(len(ordered), len(received))):
            yield Pair(
                f"{path}.{n}",
                ordered[n] if n < len(ordered) else None,
                received[n] if n < len(received) else None,
                whole=True,
            )


def _same_anchor(a: Anchor, b: Anchor) -> bool:
    if a.kind != b.kind or a.both_sides != b.both_sides:
        return False
    apart = [
        abs(float(x) - float(y)) for x, y in ((a.from_coupler_in, b.from_coupler_in), (a.y_in, b.y_in)) if x and y
    ]
    return all(d <= NEAR_IN for d in apart)


def _matched(
    path: str, ordered: Sequence[Part], received: Sequence[Part], same: Callable[[Any, Any], bool]
) -> Iterator[Pair]:
    """Members by what they are; those of one side alone as a whole, missing ones numbered on after those there."""
    left, next_free = dict(enumerate(received)), len(received)
    for one in ordered:
        found = next((k for k, other in left.items() if same(one, other)), None)
        if found is None:
            yield Pair(f"{path}.{next_free}", one, None, whole=True)
            next_free += 1
            continue
        other = left.pop(found)
        inner = [p for p in _of_part(type(one), one, other, f"{path}.{found}.") if p.ordered != p.received]
        yield Pair(f"{path}.{found}", one, other, whole=True, inner=tuple(inner))
    for k, other in left.items():
        yield Pair(f"{path}.{k}", None, other, whole=True)


def put(thing: Any, path: str, value: Any) -> Any:
    """A copy of a trailer with one field changed; ``axle.*.gawr_lb`` changes every axle's."""
    return _put(thing, path.split("."), value)


def _put(thing: Any, steps: list[str], value: Any) -> Any:
    head, rest = steps[0], steps[1:]
    if isinstance(thing, tuple):
        members = list(thing)
        if not rest:
            n = int(head)
            if value is None:
                del members[n : n + 1]
            elif n < len(members):
                members[n] = value
            else:
                members.append(value)
            return tuple(members)
        # A member that is not there cannot have a field changed: a ramp that was ordered and that nobody looked at.
        chosen = range(len(members)) if head == EACH else [n for n in (int(head),) if n < len(members)]
        for n in chosen:
            members[n] = _put(members[n], rest, value)
        return tuple(members)
    old = getattr(thing, head)
    return thing.model_copy(update={head: value if not rest else _put(old, rest, value)})


def text_of(value: Any, measure: Measure | None) -> str:
    """A field's value as text: with its unit, ``yes`` or ``no``, a member in short."""
    if value is None:
        return UNKNOWN
    if isinstance(value, Value):
        return show(value.number, measure.unit if measure else "", decimals=4 if measure and measure.rating else None)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Part):
        return member_text(value)
    return str(value)


def member_text(member: Part) -> str:
    """A member of a list in short: ``D-ring at 110 in, 6,000 lb``."""
    if isinstance(member, Anchor):
        place = f" at {show(float(member.from_coupler_in), 'in')}" if member.from_coupler_in else ""
        limit = f", {show(float(member.wll_lb), 'lb')}" if member.wll_lb else ""
        return f"{member.kind}{place}{', both sides' if member.both_sides else ''}{limit}"
    if isinstance(member, Equipment):
        name = member.says or member.tag.replace("-", " ")
        return f"{member.count} x {name}" if member.count > 1 else name
    return getattr(member, "kind", None) or "there"
