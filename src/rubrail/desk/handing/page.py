"""What the page of a hand-over shows of its weighing."""

from __future__ import annotations

from typing import Any

from rubrail.desk.checking.page import MARKS
from rubrail.desk.handing.stand import Stand
from rubrail.desk.models import Checklist, User
from rubrail.sheets.paper.hand_over import limit_rows
from rubrail.sheets.sentences_checklist import MARK_WORDS, judged_sentence, line_words
from rubrail.sheets.sentences_hand_over import (
    WAY_WORDS,
    change_sentence,
    inspected_words,
    meeting_sentence,
    put_words,
)
from rubrail.sheets.sentences_words import begin

SHAPES = {"not known": "unknown"}


def weighed_page(stand: Stand, *, it: Checklist, user: User) -> dict[str, Any]:
    """The weighing in words and rows: what governs, what was put on the rig, what stands otherwise than promised."""
    metric, found = user.measures == "metric", stand.found
    context: dict[str, Any] = {
        "stand": stand,
        "says": stand.says(metric=metric),
        "mark": SHAPES.get(stand.mark, stand.mark),
        "wrong": [
            (r.line.key, line_words(r.line, metric=metric).title, MARKS[r.judged.mark], MARK_WORDS[r.judged.mark],
             judged_sentence(r.line, r.judged, metric=metric))
            for r in stand.wrong
        ],
        "inspected": inspected_words(stand.inspected),
        "left": sum(r.judged.mark == "open" for r in stand.told.reasons),
    }  # fmt: skip
    if found is None:
        return context
    return context | {
        "way": WAY_WORDS[found.way],
        "change": change_sentence(found, metric=metric),
        "limits": [(SHAPES.get(row[0], row[0]), *row) for row in limit_rows(found, metric=metric)],
        "put": [(begin(p.says), *put_words(p, metric=metric)) for p in found.put],
        "touches": [meeting_sentence(t) for t in found.touches],
    }
