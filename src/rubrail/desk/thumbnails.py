"""The small side drawing of a unit, kept beside its numbers so that a list of fifty costs no drawing."""

from __future__ import annotations

import zlib
from functools import lru_cache

from rubrail.sheets.drawing import thumbnail
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.things.trailer import Trailer

WIDTH_PX, LONGEST_IN = 176.0, 560.0
"""All drawings of a list share one scale; only a trailer beyond 46 ft 8 in is drawn smaller than the others."""


def drawn(trailer: Trailer) -> str:
    """The drawing as SVG."""
    return _drawn(trailer_outline(trailer))


@lru_cache(maxsize=512)
def _drawn(outline: TrailerOutline) -> str:
    """Drawn once for all of the same shape: a yard has many of a model."""
    return thumbnail(outline, width_px=WIDTH_PX, longest_in=LONGEST_IN)


@lru_cache(maxsize=512)
def pressed(drawing: str) -> bytes:
    """A drawing as it is stored, a quarter of its size."""
    return zlib.compress(drawing.encode(), 6)


def unpressed(stored: bytes) -> str:
    """The drawing again."""
    return zlib.decompress(stored).decode()
