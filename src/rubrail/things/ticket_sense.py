"""What cannot be true together in one scale ticket."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rubrail.things.part import Contradiction

if TYPE_CHECKING:
    from rubrail.things.ticket import Reading, Ticket, Weighing

TRUCK = ("steer", "drive")
AXLES = tuple(f"axle {n}" for n in range(1, 7))
STANDS = {
    "truck": ("steer", "drive", "truck"),
    "trailer": (*AXLES, "axles", "coupler", "jack", "trailer"),
    "hitched": ("steer", "drive", "truck", *AXLES, "axles", "rig"),
}
"""What can stand on a plate, by how the rig stood."""
WHOLE = {"truck": TRUCK, "axles": AXLES, "trailer": (*AXLES, "coupler", "jack"), "rig": (*TRUCK, *AXLES)}
"""Words for several at once."""


def ticket_contradictions(t: Ticket) -> Iterator[Contradiction]:
    """What cannot be true of one ticket."""
    scales = [s.id for s in t.scale]
    for n, scale in enumerate(t.scale, 1):
        if scale.id in scales[: n - 1]:
            yield f"scale[{n}].id", scale.id, "used once, and another scale has it too"
        if scale.kind == "other" and scale.accuracy_lb is None:
            yield f"scale[{n}].accuracy_lb", None, "given, because nothing is known of a scale of another kind"
    for n, weighing in enumerate(t.weighing, 1):
        yield from _weighing(weighing, f"weighing[{n}]", scales)


def _weighing(w: Weighing, at: str, scales: list[str]) -> Iterator[Contradiction]:
    if w.state == "truck" and w.load:
        yield f"{at}.load", w.load, "left out, because the truck stood alone"
    if w.state == "trailer" and w.aboard:
        yield f"{at}.aboard", len(w.aboard), "left out, because the trailer stood alone"
    if w.state != "hitched" and w.weight_distribution:
        yield f"{at}.weight_distribution", True, "left out, because nothing was hitched"
    if w.state != "trailer" and w.jack_from_coupler_in is not None:
        says = "left out, because only a trailer alone stands on its jack"
        yield f"{at}.jack_from_coupler_in", w.jack_from_coupler_in.number, says
    for n, reading in enumerate(w.reading, 1):
        yield from _reading(reading, w, f"{at}.reading[{n}]", scales)
    noses = {p for r in w.reading for p in r.on if p in ("coupler", "jack")}
    if len(noses) == 2:
        yield f"{at}.reading", sorted(noses), "on the coupler or on the jack: a trailer stands on one of them"


def _reading(r: Reading, w: Weighing, at: str, scales: list[str]) -> Iterator[Contradiction]:
    if r.scale is None and len(scales) > 1:
        yield f"{at}.scale", None, f"one of {', '.join(scales)}, because the ticket has several scales"
    elif r.scale is not None and r.scale not in scales:
        yield f"{at}.scale", r.scale, f"one of {', '.join(scales)}"
    known = STANDS[w.state]
    for word in r.on:
        if word not in known:
            yield f"{at}.on", word, f"one of {', '.join(known)}, because the state is {w.state}"
            return
    parts = [p for word in r.on for p in WHOLE.get(word, (word,))]
    twice = sorted({p for p in parts if parts.count(p) > 1})
    if twice:
        yield f"{at}.on", ", ".join(r.on), f"each part once, and it has {', '.join(twice)} twice"
    if r.side and {"coupler", "jack", "trailer"} & set(r.on):
        yield f"{at}.side", r.side, "left out, because a coupler or jack has no sides"
