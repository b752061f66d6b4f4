"""Which trailer carries these machines behind this truck, where must they sit, and what governs."""

from __future__ import annotations

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_PLACES = {
    "load_yard": "rubrail.things.folder",
    "load_haul": "rubrail.things.folder",
    "resolve": "rubrail.things.folder",
    "read_file": "rubrail.things.door",
    "Faults": "rubrail.things.faults",
    "weigh": "rubrail.answers.weigh",
    "place": "rubrail.answers.place",
    "match": "rubrail.answers.board",
    "tie_down": "rubrail.answers.tie_down",
    "envelope": "rubrail.answers.envelope",
    "decode": "rubrail.answers.decode",
    "compare": "rubrail.answers.compare",
    "why": "rubrail.answers.why",
}
__all__ = [*_PLACES]


def __getattr__(name: str) -> Any:
    """Fetch a public name on first use, so that importing the package costs nothing."""
    if name in _PLACES:
        return getattr(import_module(_PLACES[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
