"""A small picture of what stands on a scale's plate: a truck, a trailer or both, the wheels on the plate marked.

It is a sign, not a drawing to scale: every rig looks alike in it, so that the plates of a list are told at a glance.
"""

from __future__ import annotations

from collections.abc import Collection

from rubrail.sheets.drawing.svg import Element, element
from rubrail.sheets.drawing.tokens import pen_attributes
from rubrail.things.ticket_sense import WHOLE

WIDE, HIGH = 132.0, 40.0
_GROUND, _WHEEL = 34.0, 4.6
_TRUCK = {"steer": 15.0, "drive": 42.0}
_NOSE = {"coupler": 57.0, "jack": 66.0}
_REAR = 118.0
_SPACE = 11.0
_MOST_AXLES = 3


def plate_picture(state: str, on: Collection[str], *, axles: int = 2) -> str:
    """SVG of what stands on the plate.

    Parameters
    ----------
    state : str
        ``truck``, ``trailer`` or ``hitched``.
    on : collection of str
        What stands on the plate, as a ticket says.
    axles : int
        Of the trailer.
    """
    parts = {p for word in on for p in WHOLE.get(word, (word,))}
    truck, trailer = state != "trailer", state != "truck"
    count = min(max(axles, 1), _MOST_AXLES)
    wheels = dict(_TRUCK) if truck else {}
    if trailer:
        middle = 97.0
        wheels |= {f"axle {n + 1}": middle + (n - (count - 1) / 2) * _SPACE for n in range(count)}
    elements: list[Element] = [_line(2, _GROUND, WIDE - 2, _GROUND, "hidden")]
    if truck:
        elements += _truck()
    if trailer:
        elements += _trailer(state)
    if state == "trailer":
        x = _NOSE["jack" if "jack" in parts else "coupler"]
        wheels[("jack" if "jack" in parts else "coupler")] = x
        elements.append(_line(x, 25, x, _GROUND, "open"))
    for name, x in wheels.items():
        if name not in _NOSE:
            pen = "cargo-wheel" if name in parts else "tire"
            elements.append(element("circle", cx=x, cy=_GROUND - _WHEEL, r=_WHEEL, **pen_attributes(pen)))
    for first, last in _runs({n: x for n, x in wheels.items() if n in parts}, wheels):
        plate = element(
            "rect", x=first - 7, y=_GROUND, width=last - first + 14, height=4, **pen_attributes("cargo-solid")
        )
        elements.append(plate)
    svg = element(
        "svg", *elements, xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {WIDE:g} {HIGH:g}", class_="rd plate",
        width=WIDE, height=HIGH, aria_hidden="true", focusable="false",
    )  # fmt: skip
    return str(svg)


def _runs(on: dict[str, float], wheels: dict[str, float]) -> list[tuple[float, float]]:
    """Neighbors on the plate share one plate."""
    runs: list[tuple[float, float]] = []
    together = False
    for name, x in sorted(wheels.items(), key=lambda w: w[1]):
        if name not in on:
            together = False
            continue
        if together:
            runs[-1] = (runs[-1][0], x)
        else:
            runs.append((x, x))
        together = True
    return runs


def _truck() -> list[Element]:
    body = "M4 30V21h7l5-10h13v11h23v8z"
    return [element("path", d=body, **pen_attributes("truck"))]


def _trailer(state: str) -> list[Element]:
    nose = 53.0 if state == "hitched" else _NOSE["coupler"]
    return [
        _line(nose, 25, 74, 25, "open"),
        element("rect", x=72, y=22, width=_REAR - 62, height=5, **pen_attributes("outline")),
    ]


def _line(x1: float, y1: float, x2: float, y2: float, pen: str) -> Element:
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, **pen_attributes(pen))
