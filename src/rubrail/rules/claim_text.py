"""Text as claims are looked for in it: small letters, plain quotes and dashes, each with its place in the original."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

_DASHES = dict.fromkeys("‐‑‒–—―−", "-")
_QUOTES = dict.fromkeys("‘’‚‛`´", "'") | dict.fromkeys("“”„‟", '"')
_DROPPED = frozenset("\u00ad\u200b\u200c\u200d\u2060\ufeff")
_ENDS = re.compile(r"(?<!\.\w)[.!?](?=\s|$)|[;\n]")
_DENIES = re.compile(
    r"\b(?:not|never|nor|neither|no|nothing|without|cannot|can'?t|isn'?t|aren'?t|doesn'?t|don'?t|won'?t)\b"
    r"(?: (?:a|an|the|it|its|is|are|be|to|say|says|claim|claims|call|called|any|this|that|as|at|all|of|for|given|give"
    r"|means|mean|tell|tells|you|promise|promises|every|have|has|rated|exactly|really|will|can)\b)* ?$"
)


@dataclass(frozen=True, slots=True)
class Plain:
    """A text made plain, and for each letter where it stands in the original."""

    text: str
    at: tuple[int, ...]

    def original(self, start: int, end: int) -> tuple[int, int]:
        """Place in the original of a stretch that is not empty."""
        return self.at[start], self.at[end - 1] + 1

    def sentence(self, start: int, end: int) -> tuple[int, int]:
        """Bounds of the sentence a stretch stands in; of several if it spans them."""
        before = [m.end() for m in _ENDS.finditer(self.text, 0, start)]
        after = _ENDS.search(self.text, end)
        return (before[-1] if before else 0), (after.start() if after else len(self.text))

    def denied(self, start: int) -> bool:
        """Whether the words just before a place deny what follows: ``not a``, ``never say it is``.

        A question denies nothing: *isn't it one?*
        """
        begin, end = self.sentence(start, start)
        if self.text[end : end + 1] == "?":
            return False
        return bool(_DENIES.search(re.sub(r"[\s-]+", " ", self.text[begin:start])))


def plain(text: str) -> Plain:
    """A text made plain, its blanks and hyphens kept."""
    if text.isascii():
        return Plain(text.lower().replace("`", "'"), tuple(range(len(text))))
    letters: list[str] = []
    at: list[int] = []
    for place, letter in enumerate(text):
        if letter in _DROPPED:
            continue
        letter = _DASHES.get(letter) or _QUOTES.get(letter) or letter
        made = unicodedata.normalize("NFKC", letter).lower().replace("\u2044", "/")
        if "/" in made[1:] and letters and letters[-1].isdigit():
            made = f" {made}"
        for small in made:
            letters.append(small)
            at.append(place)
    return Plain("".join(letters), tuple(at))


@cache
def pattern(written: str) -> re.Pattern[str]:
    """A pattern of the table; a blank in it stands for any blanks and hyphens."""
    return re.compile(written.replace(" ?", r"[\s\-]*").replace(" ", r"[\s\-]+"))
