"""A small SVG builder: elements as values, everything escaped, numbers trimmed, nothing styled inline.

The same text goes into a web page under a strict content policy and into a printed sheet, so color is a class
name with a presentation attribute as the fallback; ``style``, ``<style>`` and ``<script>`` cannot be written at all.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TypeAlias

_FORBIDDEN_TAGS = {"style", "script", "foreignObject", "iframe", "image", "use", "a", "animate", "set"}
_UNPRINTABLE = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})

Value: TypeAlias = str | float | int | bool | None
Child: TypeAlias = "Element | str"


@lru_cache(maxsize=4096)
def escape(text: str) -> str:
    """Text made safe between tags and inside quotes; characters XML cannot carry are dropped."""
    return _UNPRINTABLE.sub("", text).translate(_ENTITIES)


def number(value: float) -> str:
    """A coordinate with at most two decimals and no trailing zeros.

    Raises
    ------
    ValueError
        If the value is not finite: an unknown must be settled before it is drawn.
    """
    if not math.isfinite(value):
        raise ValueError(f"a coordinate must be a finite number, got {value}")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@dataclass(frozen=True, slots=True)
class Element:
    """One SVG element: tag, attributes in order, children."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    children: tuple[Child, ...] = ()

    def __str__(self) -> str:
        return "".join(_written(self))

    def get(self, name: str) -> str | None:
        """The attribute of that name, unescaped; None where it is absent."""
        return dict(self.attributes).get(name)


@cache
def _attribute_name(keyword: str) -> str:
    """The name of an attribute.

    Raises
    ------
    ValueError
        If it would carry style, script or a link.
    """
    name = keyword.rstrip("_").replace("_", "-")
    if name == "style" or name == "href" or name.startswith("on"):
        raise ValueError(f"drawings carry no {name} attribute")
    return name


def _attribute_value(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return value if isinstance(value, str) else number(float(value))


def element(tag: str, *children: Child | None, **attributes: Value) -> Element:
    """An element; keywords become attributes, ``_`` becomes ``-``, ``class_`` becomes ``class``, None is left out.

    Raises
    ------
    ValueError
        For a tag or attribute that would carry style, script or a link.
    """
    if tag in _FORBIDDEN_TAGS:
        raise ValueError(f"drawings carry no <{tag}> element")
    pairs = tuple((_attribute_name(k), _attribute_value(v)) for k, v in attributes.items() if v is not None)
    return Element(tag, pairs, tuple(c for c in children if c is not None))


def group(*children: Child | None, **attributes: Value) -> Element:
    """A ``<g>``."""
    return element("g", *children, **attributes)


def _written(node: Element) -> list[str]:
    parts = ["<", node.tag]
    parts += [f' {name}="{escape(value)}"' for name, value in node.attributes]
    if not node.children:
        parts.append("/>")
        return parts
    parts.append(">")
    lines = (node.tag in ("svg", "g") and "\n") or ""
    for child in node.children:
        parts.append(lines)
        parts += [escape(child)] if isinstance(child, str) else _written(child)
    parts += [lines, "</", node.tag, ">"]
    return parts


def document(
    *children: Child | None,
    left: float,
    top: float,
    width: float,
    height: float,
    title: str,
    desc: str,
    **attributes: Value,
) -> str:
    """A whole drawing as text.

    Parameters
    ----------
    left, top, width, height : float
        The window of coordinates shown, in px; the drawing's natural size is ``width`` by ``height``.
    title, desc : str
        What a screen reader says: a name, then the numbers in words.
    """
    root = element(
        "svg",
        element("title", title),
        element("desc", desc),
        *children,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"{number(left)} {number(top)} {number(width)} {number(height)}",
        width=width,
        height=height,
        role="img",
        **attributes,
    )
    return str(root)
