"""Words the sentences share: what a limit is called, what a thing is called, how an unknown is found out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import Final

from rubrail.answers.report import Need, Piece
from rubrail.sheets.sentences_amounts import listed

SAFETY: Final = (
    "Ratings on the certification labels govern; figures are estimates until the loaded rig is weighed;"
    " local law prevails."
)
"""Said briefly wherever a decision is made."""

KIND_WORDS: Final = {
    "rating": "rating",
    "law": "law",
    "fit": "fit",
    "guidance": "guidance, not law",
    "duty": "duty",
    "tax": "tax",
}
KIND_HEADS: Final = {
    "rating": "Ratings",
    "law": "Law",
    "fit": "Fit",
    "guidance": "Guidance, not law",
    "duty": "Duties, told beside the verdict",
    "tax": "Tax, told beside the verdict",
}
_EACH: Final = re.compile(r"\beach ((?:trailer |truck )?)(axle group|axle|piece|gear)\b")


def limit_name(title: str, member: str = "") -> str:
    """A limit by its title, with its member worked in: ``tires of trailer axle 2``."""
    if not member:
        return title
    word = re.match(r"\D*", member)[0].strip().removesuffix("s")
    named, found = _EACH.subn(lambda m: f"{m[1]}{member}" if m[2] == word else m[0], title, count=1)
    return named if found and named != title else f"{title}, {member}"


def together(members: Sequence[str]) -> str:
    """Several members as one: ``axles 1 and 2``; members of no number are listed."""
    numbered = [re.fullmatch(r"(.+) (\d+)", m) for m in members]
    if len(members) < 2 or not all(numbered) or len({m[1] for m in numbered}) > 1:
        return listed(list(members))
    return f"{numbered[0][1]}s {listed(sorted((m[2] for m in numbered), key=int))}"


def begin(text: str) -> str:
    """Text with its first letter a capital."""
    return text[:1].upper() + text[1:]


def called(title: str, id: str = "", *, what: str = "unit") -> str:
    """A thing inside a sentence: ``the low equipment tag``; by its id where it has no title.

    Only what stands before the first comma is said aloud. The first letter goes small unless the first word is all
    capitals or holds a digit, so that names stay names.
    """
    title = title.strip()
    if not title or title == id or (" " not in title and re.search(r"[\d._]", title)):
        return f"{what} {title or id}".strip()
    title = re.split(r"\s*[,;(](?!\d{3})", title, maxsplit=1)[0] or title
    first = title.split(" ", 1)[0]
    if first.lower() in ("the", "a", "an", "this", "that", "two", "three"):
        return title[:1].lower() + title[1:]
    shy = first[1:].islower() and not any(c.isdigit() for c in first)
    return f"the {title[:1].lower() + title[1:] if shy else title}"


def unit(title: str, id: str) -> str:
    """A unit of the yard inside a sentence, its id with it: ``the low equipment trailer Y-104``."""
    name = called(title, id)
    if name.startswith("unit "):
        return name
    if not re.search(r"(trailer|hauler|flatbed)s?\b", name):
        name += " trailer"
    return name if not id or id in name else f"{name} {id}"


_NUMBERS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def cargo(pieces: Sequence[Piece]) -> str:
    """What is carried: each piece by its title, equal ones counted, more than three kinds as a number."""
    if not pieces:
        return "nothing"
    counts = Counter(called(p.title, p.id, what="piece") for p in pieces)
    if len(counts) > 3:
        return f"all {len(pieces)} pieces"
    return listed([_counted(name, n) for name, n in counts.items()])


def _counted(name: str, n: int) -> str:
    if n == 1:
        return name
    number = _NUMBERS[n] if n < len(_NUMBERS) else str(n)
    many = name.removeprefix("the ")
    return f"{number} {many}" if many.endswith("s") else f"{number} {many}s"


_FINDING: Final = (
    (re.compile(r"^(item|gear)_weight_lb$"), "by scale ticket"),
    (re.compile(r"^truck_.*(gvwr|gawr)_lb$"), "on the door label"),
    (re.compile(r"^truck_(gcwr|tow_rating)_lb$"), "from the truck maker's towing figures"),
    (re.compile(r"^(trailer_gvwr|axle_gawr)_lb$"), "on the trailer's label"),
    (re.compile(r"^(hitch|coupler|axle_wheel)_.*rating_lb$"), "stamped on the part"),
    (re.compile(r"^chain_strength_lb$"), "on the chain's tag"),
    (re.compile(r"_max_load_lb$|_max_pressure_psi$|_tire_load_lb$"), "on the sidewall"),
    (re.compile(r"_tire_pressure_psi$"), "with a gauge, tires cold"),
    (re.compile(r"_(axle|weight|coupler)_lb$"), "by scale ticket"),
    (re.compile(r"^truck_registered_lb$"), "on the registration"),
    (re.compile(r"_cg_in$"), "by weighing the piece axle by axle, or from its maker"),
    (re.compile(r"_in$"), "with a tape"),
)


def found_out(need: Need) -> str:
    """Where an input is to be had: on a label, by scale ticket, with a tape; ``""`` for what is asked or looked at."""
    return next((where for pattern, where in _FINDING if pattern.search(need.name)), "")


_MEMBER: Final = re.compile(r"\b(axle|gear|anchor)\[(\d+)\]")


FLAG: Final = "1 where "
"""How the list of columns describes a yes-or-no input."""


def which(need: Need) -> str:
    """Which axle, piece or gear an input belongs to: ``axle 2``, ``skid-steer-7k``; ``""`` where there is but one."""
    member = _MEMBER.search(need.where)
    if member:
        return f"{member[1]} {member[2]}"
    return need.where.rpartition(" of cargo ")[2] if " of cargo " in need.where else ""


def need_phrase(need: Need, *, of: str | None = None) -> str:
    """An input as something to go and get: ``rear axle rating (on the door label)``.

    Parameters
    ----------
    need : Need
        The input.
    of : str, optional
        Which axles or pieces it is wanted of; its own by default.
    """
    inside = ", ".join(p for p in (which(need) if of is None else of, found_out(need)) if p)
    says = f"whether {need.says.removeprefix(FLAG)}" if need.says.startswith(FLAG) else need.says
    return f"{says} ({inside})" if inside else says
