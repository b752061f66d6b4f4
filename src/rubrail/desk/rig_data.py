"""What the bench's page carries for its script: coefficients, words, shapes and the best place, as one attribute."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.affine import Affine, Steady
from rubrail.answers.affine_read import plain
from rubrail.checks.verdict import NOT_APPLICABLE
from rubrail.desk.rig_drawings import geometry
from rubrail.desk.rig_loads import Watched
from rubrail.desk.rig_reckon import Reckoned
from rubrail.desk.rig_rows import words_of_rows
from rubrail.desk.rig_stands import names_of
from rubrail.sheets.drawing.rig import Rig
from rubrail.sheets.sentences import rig_phrase


def bench_data(
    it: Reckoned, table: Affine, rig: Rig, loads: Sequence[Watched], *, deck_front_in: float | None, metric: bool
) -> dict[str, Any]:
    """Everything the script needs.

    Parameters
    ----------
    table : Affine
        Coefficients about the placement shown.
    rig : Rig
        As drawn.
    deck_front_in : float or None
        Front of the deck behind the coupling point; where it is not known, places are from the coupling itself. [in]
    """
    data = plain(table)
    codes = it.judgement.codes[:, 0, 0]
    kept = [n for n, r in enumerate(table.rows) if not isinstance(r, Steady) or codes[n] != NOT_APPLICABLE]
    words = words_of_rows(it, kept, metric=metric)
    # Rows keep their number in the list of all, which is what the page's lines go by.
    rows = [{**data["rows"][n], "n": n, **words[n]} for n in kept]
    place = {n: i for i, n in enumerate(kept)}
    best = it.best.placement if it.best else None

    def told(numbers: Sequence[int]) -> list[int]:
        return [place[n] for n in numbers if n in place]

    return {
        **data,
        "rows": rows,
        "fronts": list(it.placement.front_x_in),
        "names": names_of(it.stands),
        "facing": list(it.placement.facing),
        "best": {"x": [round(x, 3) for x in best.front_x_in], "facing": list(best.facing)} if best else None,
        "watched": [{"place": w.place, "load": w.load, "rows": told(w.rows), "also": told(w.also)} for w in loads],
        "carries": rig_phrase(it.weighing, "carries"),
        "refused": rig_phrase(it.weighing, "does not carry"),
        "origin_in": deck_front_in or 0.0,
        "origin": "coupling" if deck_front_in is None else "front of the deck",
        "metric": metric,
        **geometry(rig),
    }


def as_attribute(data: dict[str, Any]) -> SafeString:
    """Data as the text between the single quotes of an attribute."""
    text = json.dumps(data, separators=(",", ":"), allow_nan=False)
    return mark_safe(text.replace("&", "&amp;").replace("'", "&#39;").replace("<", "&lt;"))
