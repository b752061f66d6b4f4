"""What a receipt's ratings page shows: three columns of figures, each rating against the others, lamps, payload."""

from __future__ import annotations

from typing import Any

from rubrail.desk.receiving.answer import Answered
from rubrail.sheets.sentences_receive import (
    alike_lines,
    costliest_sentence,
    effect_words,
    field_amount,
    label_words,
    lamp_line,
    line_numbers,
    line_title,
    marking_sentence,
    payload_words,
    to_read,
)

RANK = {"over": 0, "not known": 1, "depends": 2, "clear": 3}


def ratings_page(answered: Answered, *, metric: bool) -> dict[str, Any]:
    """Parts of the page, in the sentences of the answer."""
    a = answered.answer
    lines = sorted(alike_lines(a.consistency), key=lambda told: RANK[told[0].verdict])
    return {
        "label_rows": [
            (row, *label_words(row, metric=metric), {"same": "clear", "differs": "over"}.get(row.verdict, "not known"))
            for row in a.label
        ],
        "differences": [
            (
                f,
                field_amount(f, ordered=True, metric=metric),
                field_amount(f, ordered=False, metric=metric),
                effect_words(f, metric=metric),
            )
            for f in a.fields
            if f.verdict == "differs"
        ],
        "costliest": costliest_sentence(a, metric=metric),
        "payload": [(p.title, *payload_words(p, metric=metric)) for p in a.payload],
        "lines": [(x, title, *line_numbers(x, metric=metric), to_read(x)) for x, title in lines],
        "left_out": [line_title(x) for x in a.consistency if x.verdict not in RANK],
        "lamps": [lamp_line(lamp, metric=metric) for lamp in a.lamps],
        "marking": marking_sentence(a, metric=metric),
        "compared": a.compared,
    }
