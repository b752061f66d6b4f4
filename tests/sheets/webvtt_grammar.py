"""A strict reader of WebVTT, by the syntax of the format and by nothing of the program's.

W3C, *WebVTT: The Web Video Text Tracks Format*, Candidate Recommendation 4 April 2019, section 4.1 (file structure)
and 4.2 (cue payload text): remembered, not read again here. Only what a caption file without styles, regions or cue
settings may hold is accepted; anything else is an error.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

TIME = r"(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})"
TIMING = re.compile(rf"{TIME}[ \t]+-->[ \t]+{TIME}")
REFERENCES = {"&amp;": "&", "&lt;": "<", "&gt;": ">", "&lrm;": "\u200e", "&rlm;": "\u200f", "&nbsp;": "\u00a0"}


class NotWebVTT(ValueError):  # noqa: N818 - it says what the text is
    """The text breaks the syntax."""


@dataclass(frozen=True)
class Cue:
    id: str
    start_ms: int
    end_ms: int
    text: str


def parse(text: str) -> tuple[list[Cue], list[str]]:
    """Cues and notes of a file; raises NotWebVTT at the first fault."""
    if "\0" in text:
        raise NotWebVTT("a NUL")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0]):
        raise NotWebVTT(f"signature {lines[0]!r}")
    if len(lines) < 2 or lines[1]:
        raise NotWebVTT("no empty line after the signature")
    cues, notes = [], []
    for block in blocks(lines[2:]):
        if re.fullmatch(r"NOTE(?:[ \t].*)?", block[0]):
            if any("-->" in line for line in block):
                raise NotWebVTT("an arrow in a note")
            notes.append("\n".join(block)[4:].strip())
        else:
            cues.append(cue(block))
    starts = [c.start_ms for c in cues]
    if starts != sorted(starts):
        raise NotWebVTT("cues out of order")
    if len({c.id for c in cues}) != len(cues):
        raise NotWebVTT("one identifier twice")
    return cues, notes


def blocks(lines: list[str]) -> list[list[str]]:
    found: list[list[str]] = [[]]
    for line in lines:
        if line:
            found[-1].append(line)
        elif found[-1]:
            found.append([])
    return [b for b in found if b]


def cue(block: list[str]) -> Cue:
    name = ""
    if "-->" not in block[0]:
        name, block = block[0], block[1:]
    match = TIMING.fullmatch(block[0]) if block else None
    if not match:
        raise NotWebVTT(f"timing {block[:1]!r}")
    start, end = (_ms(match.groups()[i : i + 4]) for i in (0, 4))
    if end <= start:
        raise NotWebVTT(f"{name}: ends at {end} before it starts at {start}")
    payload = block[1:]
    if not payload:
        raise NotWebVTT(f"{name}: no text")
    return Cue(name, start, end, "\n".join(plain(line) for line in payload))


def _ms(parts: tuple[str | None, ...]) -> int:
    hours, minutes, seconds, ms = (int(p or 0) for p in parts)
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + ms


def plain(line: str) -> str:
    """A line of cue text without tags: no bare ``<``, no bare ``&``, no arrow."""
    if "-->" in line or "<" in line:
        raise NotWebVTT(f"an arrow or a tag in {line!r}")
    out, at = "", 0
    while at < len(line):
        if line[at] != "&":
            out, at = out + line[at], at + 1
            continue
        end = line.find(";", at)
        name = line[at : end + 1] if end > 0 else ""
        if name not in REFERENCES:
            raise NotWebVTT(f"a bare ampersand in {line!r}")
        out, at = out + REFERENCES[name], end + 1
    return out
