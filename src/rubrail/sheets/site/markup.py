"""HTML as values: elements that escape what is put into them, and nothing that carries script or style."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable
from typing import TypeAlias

VOID = frozenset({"br", "hr", "img", "link", "meta", "source", "wbr"})
FORBIDDEN = frozenset({"script", "style", "iframe", "object", "embed", "form", "base"})
UNPRINTABLE = re.compile("[^\t\n -~\xa0-\ud7ff\ue000-\ufdcf\ufdf0-\ufffd\U00010000-\U0001fffd]")
"""What HTML cannot carry as text."""


class Markup(str):
    """Text that is HTML already."""

    __slots__ = ()

    def __add__(self, other: str) -> Markup:
        """The two, one after the other; text that is not HTML yet is escaped."""
        return together((self, other))


Child: TypeAlias = "str | Markup | Iterable[Child] | None"


def escape(text: str) -> str:
    """Text made safe between tags and inside quotes; characters that HTML cannot carry are dropped."""
    return html.escape(UNPRINTABLE.sub("", text), quote=True)


def el(tag: str, *children: Child, **attributes: str | int | bool | None) -> Markup:
    """An element; keywords become attributes, ``_`` becomes ``-``, ``class_`` becomes ``class``, None is left out.

    Raises
    ------
    ValueError
        For an element or attribute that would carry script, style or a form.
    """
    if tag in FORBIDDEN:
        raise ValueError(f"public pages carry no <{tag}> element")
    said = "".join(_attribute(k.rstrip("_").replace("_", "-"), v) for k, v in attributes.items())
    if tag in VOID:
        return Markup(f"<{tag}{said}>")
    return Markup(f"<{tag}{said}>{together(children)}</{tag}>")


def _attribute(name: str, value: str | int | bool | None) -> str:
    if name == "style" or name.startswith("on"):
        raise ValueError(f"public pages carry no {name} attribute")
    if value is None or value is False:
        return ""
    return f" {name}" if value is True else f' {name}="{escape(str(value))}"'


def together(children: Child, *, joint: str = "") -> Markup:
    """Children one after the other, text escaped, nothing for None."""
    if children is None:
        return Markup("")
    if isinstance(children, Markup):
        return children
    if isinstance(children, str):
        return Markup(escape(children))
    return Markup(joint.join(together(c) for c in children if c is not None))


def data_block(kind: str, text: str) -> Markup:
    """A block of data, such as JSON-LD, that browsers do not run.

    What it holds must be JSON in which ``<``, ``>`` and ``&`` are written as escapes, so that no text of it can end
    the block.

    Raises
    ------
    ValueError
        If it is not.
    """
    if set(text) & set("<>&"):
        raise ValueError("a data block must be written without <, > and &")
    if not kind.endswith("+json"):
        raise ValueError(f"a data block holds JSON, not {kind!r}")
    return Markup(f'<script type="{escape(kind)}">{text}</script>')
