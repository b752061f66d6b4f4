"""From what was typed to things: files, folders, and ids of a yard."""

from __future__ import annotations

import difflib
import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.place import Placement
    from rubrail.things.haul import Haul
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard

DEMO = "demo"
GONE = ("sold", "retired")
"""A unit with one of these states is not offered."""


def demo_folder() -> Path:
    """The invented yard that ships with rubrail."""
    from importlib.resources import files

    return Path(str(files("rubrail") / "demo" / "yard"))


def yard_of(option: str | None, *named: str) -> Yard | None:
    """The yard where ids are looked up.

    Parameters
    ----------
    option : str or None
        What ``--yard`` says.
    named : str
        The other arguments: a file that lies in a yard names that yard.

    Raises
    ------
    Faults
        Every fault of the yard's files.
    """
    from rubrail.things.folder import load_yard

    folder = Path(option) if option and option != DEMO else demo_folder() if option else _yard_around(named)
    return load_yard(folder) if folder else None


def _yard_around(named: Iterable[str]) -> Path | None:
    for name in named:
        if _is_path(name):
            path = Path(name).resolve()
            for folder in (path, *path.parents[:2]):
                if (folder / "yard.toml").is_file():
                    return folder
    return Path() if Path("yard.toml").is_file() else None


def _is_path(name: str) -> bool:
    if name.endswith((".toml", ".json")) or "/" in name or os.sep in name:
        return True
    try:
        return Path(name).exists()
    except (OSError, ValueError):
        return False


def haul_of(name: str, yard: Yard | None) -> Haul:
    """The haul of a file, or of an id of the yard, with its truck, cargo and limits put in.

    Raises
    ------
    BadInput, Faults
        If there is none, and every fault of what there is.
    """
    from rubrail.things.folder import load_haul, resolve

    if _is_path(name):
        return load_haul(name, yard)
    known = yard.hauls if yard else {}
    if name not in known:
        raise BadInput(no_such("HAUL", "a haul file or the id of a haul", name, known, yard))
    return resolve(known[name], yard, f"haul {name}")


def trailers_of(names: Sequence[str], yard: Yard | None) -> tuple[Trailer, ...]:
    """Trailers of files, folders and ids, in the order given; each once.

    Raises
    ------
    BadInput, Faults
        Everything that names nothing, and every fault of the files.
    """
    from rubrail.things.faults import Faults

    found: dict[str, Trailer] = {}
    sentences: list[str] = []
    for name in names:
        try:
            for trailer in _trailers(name, yard):
                found.setdefault(trailer.id, trailer)
        except BadInput as bad:
            sentences += bad.sentences
        except Faults as told:
            sentences += [f.sentence for f in told.faults]
    if sentences:
        raise BadInput(*sentences)
    return tuple(found.values())


def trailer_of(name: str, yard: Yard | None) -> Trailer:
    """One trailer of a file or an id."""
    found = trailers_of((name,), yard)
    if len(found) != 1:
        raise BadInput(f"TRAILER must name one trailer, and {name} holds {len(found)}.")
    return found[0]


def _trailers(name: str, yard: Yard | None) -> list[Trailer]:
    if not _is_path(name):
        known = yard.trailers if yard else {}
        if name not in known:
            raise BadInput(no_such("TRAILER", "a trailer file or the id of a unit", name, known, yard))
        return [known[name]]
    path = Path(name)
    if path.is_dir():
        return _folder(path)
    from rubrail.things.door import read_file

    return [thing for _, thing in read_file(path, "trailer")]


def _folder(path: Path) -> list[Trailer]:
    """Every trailer of a yard folder, or of a plain folder of trailer files."""
    from rubrail.things.door import read_file
    from rubrail.things.faults import Faults
    from rubrail.things.folder import load_yard

    if (path / "yard.toml").is_file() or (path / "trailers").is_dir():
        return list(load_yard(path).trailers.values())
    files = sorted(p for p in path.iterdir() if p.suffix.lower() in (".toml", ".json") and not p.name.startswith("."))
    if not files:
        raise BadInput(f"{path} holds no trailer files (*.toml or *.json).")
    found: list[Trailer] = []
    faults: list[str] = []
    for file in files:
        try:
            found += [thing for _, thing in read_file(file, "trailer")]
        except Faults as told:
            faults += [f.sentence for f in told.faults]
    if faults:
        raise BadInput(*faults)
    return found


def for_sale(yard: Yard | None, *, wanted: str = "match") -> tuple[tuple[Trailer, ...], int]:
    """Units of the yard that can be offered, and how many cannot."""
    if yard is None:
        raise BadInput(
            f"There is no yard to {wanted}: name it with --yard FOLDER (--yard demo is the invented one),"
            " or name trailer files."
        )
    offered = tuple(t for t in yard.trailers.values() if t.status not in GONE)
    return offered, len(yard.trailers) - len(offered)


def no_such(argument: str, wanted: str, name: str, known: Mapping[str, Any], yard: Yard | None) -> str:
    """The sentence for a name that is neither a file nor an id of the yard, with the nearest that is."""
    if yard is None:
        return (
            f"{argument} must be {wanted} in a yard, got {name!r}:"
            " there is no such file, and no yard is named (--yard FOLDER, or --yard demo for the invented one)."
        )
    near = difflib.get_close_matches(name, list(known), 1, 0.5)
    hint = f" (did you mean {near[0]}?)" if near else f" ({_some(known)})"
    return f"{argument} must be {wanted} in the yard, got {name!r}{hint}."


def _some(known: Mapping[str, Any]) -> str:
    ids = list(known)
    if not ids:
        return "the yard has none"
    return f"it has {', '.join(ids[:8])}{f' and {len(ids) - 8} more' if len(ids) > 8 else ''}"


def placement_of(at: Sequence[str] | None, haul: Haul, trailer: Trailer) -> Placement | None:
    """Places typed with ``--at``, measured from the front of the deck; None where none were.

    Raises
    ------
    BadInput
        If there is not one for each piece, one cannot be read, or the trailer's deck has no known front.
    """
    if not at:
        return None
    from rubrail.answers.place import Placement
    from rubrail.quantity.parse import UnreadableError, parse_quantity

    facings = [load.facing for load in haul.cargo for _ in range(load.count)]
    sentences = []
    if len(at) != len(facings):
        sentences.append(f"--at must be given once for each of the {len(facings)} pieces of the haul, got {len(at)}.")
    deck = trailer.deck.front_from_coupler_in if trailer.deck else None
    if deck is None:
        sentences.append(
            f"--at measures from the front of the deck, and {trailer.id} does not say where that is"
            " (deck.front_from_coupler_in)."
        )
    places: list[float] = []
    for n, text in enumerate(at):
        place, _, way = text.strip().rpartition(" ")
        if way not in ("front-first", "rear-first"):
            place, way = text, ""
        try:
            places.append(parse_quantity(place, "in"))
        except UnreadableError as reason:
            sentences.append(
                f"--at must be a length such as '60', '5 ft' or '5 ft rear-first', got {text!r}: it {reason}."
            )
            continue
        if n < len(facings) and way:
            if facings[n] not in ("either", way):
                sentences.append(f"--at {text!r} turns piece {n + 1} round, and the haul says {facings[n]}.")
            facings[n] = way
    if sentences:
        raise BadInput(*sentences)
    front = float(deck)
    return Placement(tuple(front + p for p in places), tuple("front-first" if f == "either" else f for f in facings))
