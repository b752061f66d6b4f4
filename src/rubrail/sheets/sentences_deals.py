"""What is said of a deal on a unit that came otherwise than it was: whether it still holds, and what is against it."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

ROAD, LOADING, SECURING = "road", "loading", "securing"
"""What a deal can be asked about."""
NO_HAUL: Final = "No haul is told for it: hold what was offered against the label before the buyer comes."


def deal_state(*, result: str, before: str, after: str) -> tuple[str, str]:
    """The verdict word whose shape a deal shows, and how it stands, in words.

    Parameters
    ----------
    result : str
        ``broken``, ``doubtful``, ``unknown``, ``over``, ``holds`` or ``unweighed``.
    before, after : str
        Verdicts as ordered and as it came; ``""`` where it was not weighed.
    """
    if result == "broken":
        words = {"": "over as it came", "not known": "over now; not known as ordered"}
        return "over", words.get(before, "no longer holds")
    if result == "doubtful":
        return (after, "not known now") if after == "not known" else (after, "in doubt now")
    if result == "unknown":
        return "not known", "not known, as ordered" if before == "not known" else "not known as it came"
    return {
        "over": ("over", "over already as ordered"),
        "holds": (after, "holds as before" if before else "holds as it came"),
        "unweighed": ("not known", "not weighed"),
    }[result]


def deal_reason(*, result: str, after: str, why: str) -> str:
    """What is against a deal, one sentence; ``""`` where nothing new is.

    Parameters
    ----------
    result, after : str
        As ``deal_state`` has them.
    why : str
        Limits by name, with how far past they are.
    """
    if not why:
        return ""
    if result in ("broken", "over"):
        return f"What fails now: {why}."
    return f"{'Not known' if after == 'not known' else 'In doubt'} now: {why}."


def asked_sentence(asked: Collection[str]) -> str:
    """What deals were asked about when they were weighed again."""
    where = "each with its pieces where they were kept, else at their best place"
    if LOADING not in asked:
        return f"Weighed again on the road alone, {where}; driving up and tying down were not asked."
    if SECURING not in asked:
        return (
            f"Weighed again on the road and driven up, {where}. Tying down is not judged: the yard has no list of its"
            " chains and straps."
        )
    return f"Weighed again on the road, driven up, and tied down by law with the yard's gear, {where}."
