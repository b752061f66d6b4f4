"""Parts that machine silhouettes share: wheels, tracks, buckets."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, Line, box, shape


@dataclass(frozen=True, slots=True)
class Frame:
    """The numbers a silhouette is built on: length, height, first and last contact, span between them, inches."""

    long: float
    high: float
    c1: float
    c2: float

    @property
    def span(self) -> float:
        """First to last contact."""
        return self.c2 - self.c1

    def u(self, share: float) -> float:
        """Place a share of the way from the first contact to the last."""
        return self.c1 + share * self.span

    def v(self, share: float) -> float:
        """A share of the height."""
        return share * self.high


def frame_of(o: CargoOutline) -> Frame:
    """The frame of a piece; contacts at least a foot apart so that a silhouette can stand on them."""
    c1, c2 = o.contact_front_in, o.contact_rear_in
    return Frame(o.length_in, o.height_in, c1, max(c2, c1 + 12))


def has_loader(o: CargoOutline) -> bool:
    """Whether a tractor is drawn with a front loader: it says so, and there is room ahead of its front axle."""
    return o.has_loader and o.contact_front_in > 24


def wheel(u: float, radius: float, *, dashed: bool = False) -> Figure:
    """A wheel standing on the ground."""
    return (
        Disc(u, radius, radius, "cargo-wheel", dashed=dashed, role="cargo-wheel"),
        Disc(u, radius, radius * 0.52, "cargo-part"),
        Disc(u, radius, min(radius * 0.12, 1.2), "cargo-solid"),
    )


def track(f: Frame, height: float, *, dashed: bool = False) -> Figure:
    """A track bearing from the first contact to the last."""
    r = height / 2
    outer = box(f.c1 - r, 0, f.c2 + r, height, pen="cargo-wheel", round_in=r, dashed=dashed, role="track")
    inset = min(2.2, r * 0.3)
    inner = box(f.c1 - r + inset, inset, f.c2 + r - inset, height - inset, pen="cargo-part", round_in=r - inset)
    ends = (Disc(f.c1, r, (r - inset) * 0.72, "cargo-part"), Disc(f.c2, r, (r - inset) * 0.72, "cargo-part"))
    count = max(int(f.span // 14), 2)
    small = min(2.6, r * 0.34)
    rollers = tuple(Disc(f.c1 + f.span * (i + 0.5) / count, inset + small, small, "cargo-part") for i in range(count))
    return (outer, inner, *ends, *rollers)


def track_height(f: Frame) -> float:
    """Height of a track that suits the machine, small enough not to stick out of its ends."""
    return max(min(0.32 * f.span, 0.26 * f.high, 2 * max(f.c1, 4), 2 * max(f.long - f.c2, 4)), 6.0)


def equal_radius(f: Frame, share: float) -> float:
    """Radius of equal wheels: a share of the height, never touching each other or past the ends."""
    return max(min(f.v(share), f.span / 2 - 1, f.c1 + 2, f.long - f.c2 + 2), 3.0)


def bucket(u1: float, u2: float, high: float) -> Line:
    """A loader's bucket flat on the deck between two places."""
    return shape(
        (u1, 0.6), (u2 - 2, 0.6), (u2 + 1, 4), (u2 + 1, high * 0.75), (u2 - 3, high), (u2 - 0.35 * (u2 - u1), high),
        pen="cargo", round_in=1.5, role="bucket",
    )  # fmt: skip
