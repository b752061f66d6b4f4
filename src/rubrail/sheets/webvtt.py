"""Captions as a WebVTT file (W3C, *WebVTT: The Web Video Text Tracks Format*, section 4, syntax)."""

from __future__ import annotations

import re

from rubrail.sheets.walk_times import LEAST_S, LINE_CHARS, LINES, MOST_S, Take

_ESCAPED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})


def webvtt(take: Take, *, title: str) -> str:
    """The captions of a take.

    Parameters
    ----------
    take : Take
    title : str
        What the film shows; it stands in the file's first note.
    """
    how = "times noted during the take" if take.noted else f"times worked out at {take.pace} words a minute"
    rules = (
        f"At most {LINES} lines of {LINE_CHARS} characters, {LEAST_S:g} to {MOST_S:g} s each unless the noted times"
        " leave less: common practice."
    )
    told = "\n".join(filter(None, (_note(title), how, rules)))
    blocks = ["WEBVTT", f"NOTE\n{told}"]
    last = 0
    for station in take.stations:
        for n, caption in enumerate(station.captions, 1):
            text = _payload(caption.text)
            if not text:
                continue
            # Rounding must neither lay one cue over another nor end one where it begins.
            start = max(round(caption.start_s * 1000), last)
            end = last = max(round(caption.end_s * 1000), start + 1)
            blocks.append(f"{station.key}-{n}\n{stamp(start)} --> {stamp(end)}\n{text}")
    return "\n\n".join(blocks) + "\n"


def stamp(milliseconds: int) -> str:
    """A time as the format has it: ``00:01:02.500``."""
    seconds, ms = divmod(milliseconds, 1000)
    minutes, s = divmod(seconds, 60)
    hours, m = divmod(minutes, 60)
    return f"{hours:02d}:{m:02d}:{s:02d}.{ms:03d}"


def _payload(text: str) -> str:
    """A cue's text: escaped, no empty line in it, which would end the cue."""
    lines = [" ".join(line.split()) for line in text.replace("\0", "").splitlines()]
    return "\n".join(line for line in lines if line).translate(_ESCAPED)


def _note(text: str) -> str:
    """A line of a note, which must not hold an arrow."""
    return re.sub("-{2,}>", "->", " ".join(text.replace("\0", "").split()))
