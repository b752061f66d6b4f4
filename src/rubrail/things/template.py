"""Text with named places, such as ``{payload} on a {length} deck``: read once, every fault told."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

_TOKEN = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")
_LITERAL = {"{{": "{", "}}": "}"}


@dataclass(frozen=True, slots=True)
class Template:
    """A text taken apart: plain pieces, and names of places, in order."""

    pieces: tuple[tuple[str, str], ...]
    """Each a plain text and the name of the place after it, ``""`` after the last."""

    @property
    def names(self) -> tuple[str, ...]:
        """Names of its places, each once, in order."""
        return tuple(dict.fromkeys(name for _, name in self.pieces if name))

    @property
    def words(self) -> str:
        """What it says without its places."""
        return " ".join(text for text, _ in self.pieces).strip()

    def missing(self, known: Mapping[str, str]) -> tuple[str, ...]:
        """Names of places that ``known`` has no words for."""
        return tuple(name for name in self.names if not known.get(name))

    def filled(self, known: Mapping[str, str]) -> str:
        """The text with every place filled.

        Raises
        ------
        KeyError
            If a place has no words.
        """
        return "".join(text + (known[name] if name else "") for text, name in self.pieces)


def read_template(text: str, *, names: Collection[str]) -> tuple[Template, tuple[str, ...]]:
    """A text taken apart, and what is wrong with it in a few words each; with any fault it is not to be used.

    Doubled braces stand for one. Any text is read; none makes it fail.

    Parameters
    ----------
    text : str
    names : collection of str
        Names a place may have.
    """
    pieces: list[tuple[str, str]] = []
    faults: list[str] = []
    plain, end = "", 0
    for found in _TOKEN.finditer(text):
        plain += text[end : found.start()]
        end, token = found.end(), found[0]
        if token in _LITERAL:
            plain += _LITERAL[token]
        elif found[1] is None:
            faults.append(f"a lone {token} at letter {found.start() + 1}; write {token * 2} for the sign itself")
        elif found[1] in names:
            pieces.append((plain, found[1]))
            plain = ""
        else:
            faults.append(_unknown(found[1], names))
    pieces.append((plain + text[end:], ""))
    return Template(tuple(pieces)), tuple(dict.fromkeys(faults))


def _unknown(name: str, names: Collection[str]) -> str:
    shown = name if len(name) <= 40 else name[:37] + "..."
    near = difflib.get_close_matches(name.strip().lower(), list(names), 1, 0.5)
    return f"{{{shown}}} is no fact" + (f", did you mean {{{near[0]}}}?" if near else "")


def places_in(text: str) -> Iterator[str]:
    """Names written as places, known or not."""
    return (found[1] for found in _TOKEN.finditer(text) if found[1] is not None)
