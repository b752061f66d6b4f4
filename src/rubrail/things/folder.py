"""A yard folder becomes a yard; ids are looked up, and every fault of every file is told at once."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from rubrail.things.door import read_file, read_thing
from rubrail.things.explain import Place
from rubrail.things.faults import NOTHING, Fault, Faults, one
from rubrail.things.haul import Haul
from rubrail.things.limits import Limits
from rubrail.things.listing import ListingText
from rubrail.things.part import Thing
from rubrail.things.read import read_table
from rubrail.things.yard import Yard, YardFile

FOLDERS = {
    "trailers": "trailer",
    "trucks": "truck",
    "machines": "cargo",
    "hauls": "haul",
    "limits": "limits",
    "catalogs": "catalog",
    "rates": "rates",
    "kits": "kit",
    "tickets": "ticket",
    "listings": "listing",
    "checks": "checks",
}
"""Folders of a yard and the kind of file each holds."""


@lru_cache(maxsize=1)
def federal_limits() -> Limits:
    """The limits file that ships with the program: federal figures, and common state practice where there are none."""
    found = read_file(Path(str(files("rubrail.things") / "data" / "limits-federal.toml")), "limits")
    return found[0][1]  # type: ignore[return-value]


@lru_cache(maxsize=1)
def plain_listing() -> ListingText:
    """The listing text that ships with the program, for a yard without one of its own."""
    found = read_file(Path(str(files("rubrail.things") / "data" / "listing-plain.toml")), "listing")
    return found[0][1]  # type: ignore[return-value]


def load_yard(folder: Path | str) -> Yard:
    """Everything a yard folder holds.

    Parameters
    ----------
    folder : path
        A folder with ``yard.toml`` and the folders of ``FOLDERS``, any of which may be absent;
        files beside them are read by their ``schema`` line.

    Raises
    ------
    Faults
        Every fault of every file, ids used twice, and ids that name nothing.
    """
    folder = Path(folder)
    faults: list[Fault] = []
    about = YardFile()
    things: dict[str, dict[str, Thing]] = {kind: {} for kind in FOLDERS.values()}
    places: dict[tuple[str, str], Place] = {}
    for path, kind in _paths(folder):
        where = path.relative_to(folder).as_posix()
        try:
            if where in ("yard.toml", "yard.json"):
                table, text = read_table(path, where)
                about = read_thing(YardFile, table, Place(where, "", text if where == "yard.toml" else ""))
                continue
            for place, thing in read_file(path, kind, where):
                found = type(thing).schema_name.split("/")[1]
                if thing.id in things[found]:
                    other = places[found, thing.id].of(("id",))
                    faults.append(Fault("id", thing.id, f"used once, and {other} has it too", place.of(("id",))))
                    continue
                things[found][thing.id] = thing
                places[found, thing.id] = place
        except Faults as told:
            faults += told.faults
    yard = Yard(
        about.title or "",
        about.limits or "federal",
        things["trailer"],
        things["truck"],
        things["cargo"],
        things["haul"],
        {"federal": federal_limits(), **things["limits"]},
        things["catalog"],
        things["rates"],
        things["kit"],
        about.kit or "",
        things["ticket"],
        things["listing"],
        things["checks"],
    )
    if not faults:
        faults += _dangling(yard, places)
    if faults:
        raise Faults(faults)
    return yard


def _paths(folder: Path) -> list[tuple[Path, str | None]]:
    name = folder.name or "the folder"
    try:
        entries = sorted(folder.iterdir())
        found: list[tuple[Path, str | None]] = [(p, None) for p in entries if _is_ours(p)]
        for sub, kind in FOLDERS.items():
            if (folder / sub).is_dir():
                found += [(p, kind) for p in sorted((folder / sub).iterdir()) if _is_ours(p)]
    except FileNotFoundError:
        raise one("", NOTHING, "is not there", name, lead="the folder") from None
    except NotADirectoryError:
        raise one("", NOTHING, "a folder, not a file", name, lead="it must be") from None
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "its name is not a folder name").lower()
        raise one("", NOTHING, f"cannot be read: {reason}", name, lead="the folder") from None
    if not found:
        wanted = "hold yard.toml or any of " + ", ".join(f"{f}/*.toml" for f in FOLDERS)
        raise one("", NOTHING, wanted, name, lead="a yard folder must")
    return found


def _is_ours(path: Path) -> bool:
    return path.suffix.lower() in (".toml", ".json") and not path.name.startswith(".")


def _dangling(yard: Yard, places: Mapping[tuple[str, str], Place]) -> list[Fault]:
    faults: list[Fault] = []
    for haul in yard.hauls.values():
        try:
            resolve(haul, yard, places["haul", haul.id])
        except Faults as told:
            faults += told.faults
    if yard.limits_id not in yard.limits:
        faults.append(_missing("limits", yard.limits_id, yard.limits, "yard.toml", "a limits file"))
    if yard.kit_id and yard.kit_id not in yard.kits:
        faults.append(_missing("kit", yard.kit_id, yard.kits, "yard.toml", "a kit"))
    return faults


def _missing(field: str, name: str, known: Mapping[str, Any], where: str, what: str) -> Fault:
    near = difflib.get_close_matches(name, list(known), 1, 0.5)
    remedy = f"did you mean {near[0]}?" if near else "" if known else "the yard has none"
    return Fault(field, name, f"the id of {what} of the yard", where, remedy)


def resolve(haul: Haul, yard: Yard, where: str | Place = "") -> Haul:
    """The haul with its truck, cargo and limits put in where it names them by id.

    Parameters
    ----------
    haul : Haul
        As its file says.
    yard : Yard
        Where ids are looked up.
    where : str or Place
        What to call the haul in a fault.

    Raises
    ------
    Faults
        Every id that names nothing, and what contradicts itself once they are put in.
    """
    place = where if isinstance(where, Place) else Place(where)
    faults: list[Fault] = []

    def look(field: str, named: Any, known: Mapping[str, Any], what: str, *loc: Any) -> Any:
        if not isinstance(named, str) or named in known:
            return known[named] if isinstance(named, str) else named
        faults.append(_missing(field, named, known, place.of(loc), what))
        return named

    truck = look("truck", haul.truck, yard.trucks, "a truck", "truck")
    limits = look("limits", haul.limits or yard.limits_id, yard.limits, "a limits file", "limits")
    cargo = tuple(
        load.model_copy(
            update={"piece": look(f"cargo[{n + 1}].piece", load.piece, yard.cargo, "cargo", "cargo", n, "piece")}
        )
        for n, load in enumerate(haul.cargo)
    )
    whole = haul.model_copy(update={"truck": truck, "limits": limits, "cargo": cargo})
    faults += [Fault(name, value, accepted, place.of()) for name, value, accepted in whole.contradictions()]
    if faults:
        raise Faults(faults)
    return whole


def load_haul(path: Path | str, yard: Yard | None = None) -> Haul:
    """The haul of a file, whole.

    Parameters
    ----------
    path : path
        A haul file.
    yard : Yard, optional
        Where ids are looked up; without it, the yard folder the file lies in, if it lies in one.

    Raises
    ------
    Faults
        Every fault of the haul, and ids that name nothing.
    """
    path = Path(path)
    found = read_file(path, "haul")
    if len(found) != 1:
        raise one("", NOTHING, f"must hold one haul, and it holds {len(found)}", path.name, lead="the file")
    place, haul = found[0]
    above = path.resolve().parent.parent
    if yard is None and (above / "yard.toml").is_file():
        yard = load_yard(above)
    return resolve(haul, yard or Yard(limits={"federal": federal_limits()}), place)  # type: ignore[arg-type]
