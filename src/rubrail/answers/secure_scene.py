"""From files to a scene: the piece as it stands, the trailer's anchors, the kit's gear."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from rubrail.answers.rig import Placement
from rubrail.answers.secure_parts import Anchor, Cell, Outfit, Point, Scene, Top
from rubrail.quantity.value import Value
from rubrail.rules import tiedown_gear
from rubrail.things.cargo import Cargo, Tie
from rubrail.things.fill import minus, plus, times
from rubrail.things.haul import Haul
from rubrail.things.kit import Binder, Gear, Kit
from rubrail.things.rig_cargo import contact_of, height_of, length_of, pieces_of, place_cells, weight_of, width_of
from rubrail.things.trailer import Trailer

SIDES = {"L": "left", "R": "right"}


def scenes(
    *, haul: Haul, trailer: Trailer, placement: Placement, kit: Kit, friction: float | None = None
) -> tuple[Scene, ...]:
    """Each piece of a placed haul, with all of the kit.

    Parameters
    ----------
    haul : Haul
        With its cargo resolved.
    trailer : Trailer
    placement : Placement
        Where each piece stands.
    kit : Kit
        The gear there is.
    friction : float, optional
        Between piece and deck, in place of what its surfaces give.
    """
    anchors = anchors_on(trailer)
    pairings, stock = outfits_of(kit)
    counts = {member.id: member.count for member in (*kit.gear, *kit.binder)}
    return tuple(
        _scene(
            n, piece, trailer, front=front, facing=facing, friction=friction, anchors=anchors,
            stock=stock, outfits=pairings, counts=counts,
        )
        for n, (piece, front, facing) in enumerate(
            zip(pieces_of(haul), placement.front_x_in, placement.facing, strict=True)
        )
    )  # fmt: skip


def _scene(
    index: int, piece: Cargo, trailer: Trailer, *, front: float, facing: str, friction: float | None, **of_rig
) -> Scene:
    cells = place_cells(piece, facing)
    at = Value(front, "label")
    length, deck, center = length_of(piece), trailer.deck.height_in, piece.cg_height_in
    if center is None and piece.kind == "bulk":
        center = times(height_of(piece), 0.5)
    machine = piece.kind == "machine"
    surface = piece.contact.surface if piece.contact else None
    if friction is None:
        found = tiedown_gear.deck_friction(surface=surface, deck=trailer.frame.deck_material)
        friction = None if found != found else found
    columns: dict[str, Cell | float] = {
        "secured_weight_lb": weight_of(piece),
        "secured_length_in": length,
        "secured_cg_x_in": plus(at, _value(cells["item_cg_in"])),
        "secured_cg_height_in": center,
        "secured_contact_front_x_in": plus(at, _value(cells["item_contact_front_in"])),
        "secured_contact_rear_x_in": plus(at, _value(cells["item_contact_rear_in"])),
        "secured_contact_width_in": contact_of(piece)[2],
        "secured_deck_height_in": deck,
        "secured_is_machine": float(machine),
        # The files know machines, crates and bulk goods; a car would come as a machine.
        "secured_is_vehicle": 0.0,
        "secured_accessory_count": piece.accessory_count if machine else 0.0,
        "secured_bends": float(piece.articulated is not False) if machine else 0.0,
        "deck_friction": friction,
    }
    return Scene(
        index=index,
        id=piece.id,
        title=piece.title or piece.id,
        columns=columns,
        wheres=_wheres(piece, trailer),
        top=_top(piece, front=front, deck=deck),
        front_x_in=front,
        rear_x_in=front + (float("nan") if length is None else float(length)),
        points=_points(piece, facing=facing, front=at, length=length, deck=deck),
        **of_rig,
    )


def _top(piece: Cargo, *, front: float, deck: Value | None) -> Top | None:
    """Top edge of a piece; pieces lying on the top layer of a block stand in its middle."""
    length, height, width = length_of(piece), height_of(piece), width_of(piece)
    if None in (length, height, width, deck):
        return None
    high, long = float(deck) + float(height), float(length)
    low, reach = high, long
    p = piece.pieces
    if p and p.on_top and None not in (p.height_in, p.length_in):
        low = float(deck) + p.layers * float(p.height_in)
        reach = -(-p.on_top // p.abreast) * float(p.length_in)
    middle = front + long / 2
    return Top(float(width) / 2, high, middle - reach / 2, middle + reach / 2, low)


def _value(cell) -> Value | None:
    return cell if cell is None or isinstance(cell, Value) else Value(float(cell))


def _wheres(piece: Cargo, trailer: Trailer) -> Mapping[str, str]:
    of_piece = {
        "secured_weight_lb": "weight_lb",
        "secured_length_in": "length_in",
        "secured_cg_x_in": "cg_from_front_in",
        "secured_cg_height_in": "cg_height_in",
        "secured_contact_front_x_in": "contact",
        "secured_contact_rear_x_in": "contact",
        "secured_contact_width_in": "contact.outer_width_in",
        "secured_accessory_count": "accessory_count",
        "secured_bends": "articulated",
        "secured_is_machine": "kind",
        "deck_friction": f"frame.deck_material of trailer {trailer.id}, and contact.surface",
        "point": "a [[tie]]",
    }
    wheres = {name: f"{field} of cargo {piece.id}" for name, field in of_piece.items()}
    of_trailer = {"secured_deck_height_in": "deck.height_in", "anchor": "an [[anchor]]"}
    return wheres | {name: f"{field} of trailer {trailer.id}" for name, field in of_trailer.items()}


def _sides(member: Anchor | Tie, n: int) -> list[tuple[str, str, float]]:
    """Key, side in words and factor on ``y_in`` of each place an entry of a file stands for."""
    y = member.y_in
    if y is None or float(y) == 0:
        return [(f"{n}", "", 1.0)]
    own, other = ("R", "L") if float(y) > 0 else ("L", "R")
    found = [(f"{n}{own}", f", {SIDES[own]}", 1.0)]
    return found + ([(f"{n}{other}", f", {SIDES[other]}", -1.0)] if member.both_sides else [])


def anchors_on(trailer: Trailer) -> dict[str, Anchor]:
    """Every anchor of a trailer by its key, those on both sides as two."""
    found = {}
    for n, a in enumerate(trailer.anchor, 1):
        for key, side, factor in _sides(a, n):
            word = a.kind if a.kind == "D-ring" else a.kind.replace("-", " ")
            found[key] = Anchor(
                key, f"{word} {n}{side}", a.kind, a.from_coupler_in, times(a.y_in, factor), a.height_in, a.wll_lb,
                f"anchor[{n}] of trailer {trailer.id}",
            )  # fmt: skip
    return found


def _points(
    piece: Cargo, *, facing: str, front: Value, length: Value | None, deck: Value | None
) -> dict[str, Point]:
    """Tie points where they are on the trailer: turned round with the piece, left and right as seen from behind."""
    turned, found = facing == "rear-first", {}
    for n, t in enumerate(piece.tie, 1):
        along = minus(length, t.from_front_in) if turned else t.from_front_in
        for _, _, factor in _sides(t, n):
            y = times(t.y_in, -factor if turned else factor)
            side = "" if y is None or float(y) == 0 else "R" if float(y) > 0 else "L"
            name = t.says or ("accessory" if t.holds == "accessory" else "tie point")
            found[f"{n}{side}"] = Point(
                f"{n}{side}", f"{name}, {SIDES[side]}" if side else name, t.holds, plus(front, along), y,
                plus(deck, t.height_in), t.wll_lb, f"tie[{n}] of cargo {piece.id}", t.holds,
            )  # fmt: skip
    return found


def outfits_of(kit: Kit) -> tuple[dict[tuple[str, str], Outfit], tuple[Outfit, ...]]:
    """Every pairing of gear and binder that fits, by ids; and the kit made up piece by piece, the strongest first."""
    pairings: dict[tuple[str, str], Outfit] = {}
    left = Counter({b.id: b.count for b in kit.binder})
    stock: list[Outfit] = []
    for gear in sorted(kit.gear, key=lambda g: -_or_zero(_line(g))):
        fitting = [b for b in kit.binder if _fits(gear, b)] if gear.kind == "chain" else []
        fitting.sort(key=lambda b: -_or_zero(b.wll_lb))
        for binder in (None, *fitting):
            outfit = _outfit(gear, binder)
            pairings[outfit.gear, outfit.binder] = outfit
        for _ in range(gear.count):
            binder = next((b for b in fitting if left[b.id] > 0), None)
            if gear.kind == "chain" and binder is None:
                break
            if binder:
                left[binder.id] -= 1
            stock.append(pairings[gear.id, binder.id if binder else ""])
    return pairings, tuple(sorted(stock, key=_rank))


def _rank(outfit: Outfit) -> tuple:
    """The strongest first; those of unknown strength last."""
    return (-_or_zero(outfit.wll_lb), outfit.gear, outfit.binder)


def _or_zero(value: Cell | float) -> float:
    number = 0.0 if value is None else float(value)
    return number if number == number else 0.0


def _fits(gear: Gear, binder: Binder) -> bool:
    if gear.size_in is None:
        return False
    size, least, most = float(gear.size_in), binder.chain_min_in, binder.chain_max_in
    return (least is None or float(least) <= size + 1e-9) and (most is None or size <= float(most) + 1e-9)


def _line(gear: Gear) -> Value | None:
    """Limit marked on the gear, else by the table."""
    if gear.wll_lb is not None or gear.size_in is None:
        return gear.wll_lb
    size = float(gear.size_in)
    if gear.kind == "chain":
        found = tiedown_gear.chain_wll_lb(size_in=size, mark=gear.grade)
    else:
        found = tiedown_gear.line_wll_lb(kind="webbing", size_in=size)
    return None if found != found else Value(found, "label")


def _outfit(gear: Gear, binder: Binder | None) -> Outfit:
    chain = gear.kind == "chain"
    factor = tiedown_gear.line_factor(line=tiedown_gear.grade_of(mark=gear.grade) if chain else "webbing")
    return Outfit(
        gear=gear.id,
        binder=binder.id if binder else "",
        kind=gear.kind,
        title=gear.says or _said(gear),
        binder_title=f"{binder.kind} binder" if binder else "" if chain else "its ratchet",
        line_wll_lb=_line(gear),
        line_factor=factor,
        hook_wll_lb=gear.hook_wll_lb,
        binder_wll_lb=(binder.wll_lb if binder else None) if chain else gear.tightener_wll_lb,
        length_in=gear.length_in,
        tension_lb=gear.tension_lb,
    )


def _said(gear: Gear) -> str:
    size = f"{float(gear.size_in):g} in " if gear.size_in is not None else ""
    grade = f", grade {gear.grade or '30'}" if gear.kind == "chain" else ""
    return f"{size}{gear.kind}{grade}"


