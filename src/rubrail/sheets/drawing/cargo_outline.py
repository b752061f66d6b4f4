"""What a drawing needs of a piece of cargo, and which silhouette stands for it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rubrail.things.cargo import Cargo, Contact, Pieces

# Silhouette -> words of a title that call for it; the first row that matches wins.
_WORDS: tuple[tuple[str, str], ...] = (
    ("backhoe", r"backhoe"),
    ("excavator", r"excavator|mini[- ]?ex\b|digger"),
    ("telehandler", r"telehandler|telescopic handler"),
    ("forklift", r"fork ?lift|fork truck|lift truck"),
    ("scissor", r"scissor|slab lift"),
    ("boom-lift", r"boom lift|articulating boom|aerial|man ?lift"),
    ("roller", r"roller|compactor"),
    ("dumper", r"dumper"),
    ("dozer", r"dozer|crawler tractor"),
    ("tractor", r"tractor"),
    ("mower", r"mower|sprayer"),
    ("stand-on", r"stand[- ]on|mini skid|walk[- ]behind loader"),
    ("trencher", r"trencher|plow"),
    ("wheel-loader", r"wheel loader|wheeled loader"),
    ("skid-steer", r"skid[- ]steer|track loader|compact loader|\bloader\b"),
    ("vehicle", r"\bcar\b|pickup|\bvan\b|utility vehicle|side[- ]by[- ]side|buggy|\bcart\b|\btruck\b"),
    ("round-bales", r"round bale"),
    ("bales", r"bale"),
)
_BLOCK_NEEDS_NOT = {"contact_width_in", "each_width_in"}
_BY_CONTACT = {"tracks": "tracked", "wheels": "wheeled", "drums": "roller", "flat": "crate"}


@dataclass(frozen=True)
class CargoOutline:
    """A piece's shape in inches; ``u`` places are from its own front, as its file gives them."""

    title: str
    form: str
    length_in: float
    width_in: float
    height_in: float
    stands_on: str
    contacts_in: tuple[float, ...]
    contact_width_in: float
    each_width_in: float
    cg_in: float
    cg_height_in: float
    weight_lb: float | None
    has_loader: bool = False
    rows: int = 1
    abreast: int = 1
    layers: int = 1
    on_top: int = 0
    piece_in: tuple[float, float, float] = (0.0, 0.0, 0.0)
    assumed: frozenset[str] = field(default_factory=frozenset)

    def rests_on(self, *names: str) -> bool:
        """Whether any of the named numbers was assumed."""
        return not self.assumed.isdisjoint(names)

    @property
    def contact_front_in(self) -> float:
        """Its front to where it begins to bear."""
        return self.contacts_in[0]

    @property
    def contact_rear_in(self) -> float:
        """Its front to where it ceases to bear."""
        return self.contacts_in[-1]


def silhouette(title: str, *, kind: str, stands_on: str | None) -> str:
    """Name of the silhouette that stands for a piece.

    Parameters
    ----------
    title : str
        What it is, in plain words.
    kind : str
        ``machine``, ``crate`` or ``bulk``.
    stands_on : str or None
        ``wheels``, ``tracks``, ``drums`` or ``flat``.
    """
    words = title.lower()
    if kind == "machine":
        for form, pattern in _WORDS:
            if "bale" not in form and re.search(pattern, words):
                return form
        return _BY_CONTACT.get(stands_on or "", "tracked")
    if kind == "bulk":
        return next((f for f, p in _WORDS if "bale" in f and re.search(p, words)), "blocks")
    return "crate"


def cargo_outline(cargo: Cargo) -> CargoOutline:
    """Settle a piece's shape for drawing; what was not known is named in ``assumed``."""
    assumed: set[str] = set()

    def settle(name: str, value: Any, default: float) -> float:
        if value is None:
            assumed.add(name)
            return float(default)
        return float(value)

    title = cargo.title or cargo.id
    contact = cargo.contact
    machine = cargo.kind == "machine"
    stands_on = contact.kind if contact else ("flat" if cargo.kind != "machine" else "tracks")
    pieces = cargo.pieces
    piece = (0.0, 0.0, 0.0)
    block: tuple[float | None, float | None, float | None] = (None, None, None)
    if pieces:
        piece = tuple(
            float(v) if v is not None else 48.0 for v in (pieces.length_in, pieces.width_in, pieces.height_in)
        )
        block = (piece[0] * pieces.rows, piece[1] * pieces.abreast, piece[2] * pieces.layers)
    length = settle("length_in", cargo.length_in if cargo.length_in is not None else block[0], 140)
    height = settle("height_in", cargo.height_in if cargo.height_in is not None else block[2], 80)
    width = settle("width_in", cargo.width_in if cargo.width_in is not None else block[1], 70)
    contacts = _contacts(contact, length, cargo.kind, assumed)
    middle = (contacts[0] + contacts[-1]) / 2 if machine else length / 2
    return CargoOutline(
        title=title,
        form=silhouette(f"{title} {cargo.model or ''}", kind=cargo.kind, stands_on=stands_on),
        length_in=length,
        width_in=width,
        height_in=height,
        stands_on=stands_on,
        contacts_in=contacts,
        contact_width_in=settle("contact_width_in", contact.outer_width_in if contact else None, width),
        each_width_in=settle("each_width_in", contact.each_width_in if contact else None, width * 0.2),
        cg_in=settle("cg_in", cargo.cg_from_front_in, middle),
        cg_height_in=settle(
            "cg_height_in", cargo.cg_height_in, _stack_middle(pieces, height) if pieces else height * 0.4
        ),
        weight_lb=_weight(cargo),
        has_loader="loader" in f"{title} {' '.join(cargo.attachments)}".lower(),
        rows=pieces.rows if pieces else 1,
        abreast=pieces.abreast if pieces else 1,
        layers=pieces.layers if pieces else 1,
        on_top=pieces.on_top if pieces else 0,
        piece_in=piece,
        # A crate or a block of equal pieces bears over its whole width, and a uniform block is heaviest in its middle.
        assumed=frozenset(
            assumed if machine else assumed - _BLOCK_NEEDS_NOT - ({"cg_in", "cg_height_in"} if pieces else set())
        ),
    )


def _weight(cargo: Cargo) -> float | None:
    if cargo.weight_lb is not None:
        return float(cargo.weight_lb)
    pieces = cargo.pieces
    return float(pieces.weight_lb) * pieces.count if pieces and pieces.weight_lb is not None else None


def _stack_middle(pieces: Pieces, height: float) -> float:
    """Height of the middle of equal pieces, those on top at the block's own height."""
    one = float(pieces.height_in) if pieces.height_in is not None else height / max(pieces.layers, 1)
    below = pieces.count - pieces.on_top
    return (below * pieces.layers * one / 2 + pieces.on_top * (height - one / 2)) / pieces.count


def _contacts(contact: Contact | None, length: float, kind: str, assumed: set[str]) -> tuple[float, ...]:
    if contact and contact.kind in ("wheels", "drums"):
        known = tuple(float(a) for a in contact.axles_from_front_in if a is not None)
        if len(known) >= 2:
            return known
    if contact and contact.start_from_front_in is not None and contact.length_in is not None:
        start = float(contact.start_from_front_in)
        return (start, start + float(contact.length_in))
    if kind != "machine":
        return (0.0, length)
    assumed.add("contacts_in")
    return (0.3 * length, 0.75 * length)
