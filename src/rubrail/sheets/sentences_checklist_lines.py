"""What each sort of line of a checklist says: its title, what to do, what counts as good."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from rubrail.answers.checklist_parts import Line
from rubrail.sheets.sentences_checklist_front import FRONT
from rubrail.sheets.sentences_checklist_handover import HANDOVER
from rubrail.sheets.sentences_checklist_rest import REST
from rubrail.sheets.sentences_checklist_running import RUNNING
from rubrail.sheets.sentences_checklist_shared import Words


def _round(title: str, do: str, good: str) -> Callable[[Line, bool], Words]:
    return lambda line, metric: (title, do, good)


ROUND: Final = {
    "round lights": _round("Lights", "Plug in and walk around it.", "Every lamp lights."),
    "round stands": _round("Stands safely", "Look at jack, chocks and pad.", "On its pad, chocked, pin in the jack."),
    "round tidy": _round("Tidy", "Look over the deck and around it.", "Nothing lies on it; grass and dirt off."),
    "round sheet": _round(
        "Window sheet",
        "Read it from where a buyer stands.",
        "It hangs there, is this unit's, and its price is today's.",
    ),
    "round ramps": _round("Ramps", "Look at them from behind.", "Up and locked."),
}
LINES: Final[dict[str, Callable[[Line, bool], Words]]] = {**FRONT, **RUNNING, **REST, **ROUND, **HANDOVER}
"""Words by the sort of line."""
