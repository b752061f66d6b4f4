"""Whether the cargo fits the deck: its wheels or tracks on the level deck, its body clear, its width."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.mechanics.members import of_present

BALL, GOOSENECK, KINGPIN, PINTLE = range(4)
BETWEEN_FENDERS = 1


def _for_present(present, demand, limit):
    """``(demand, limit)`` where a piece is there, *does not apply* where it is not."""
    present = np.asarray(present, float)
    open_ = 0.0 * present
    return (
        np.where(present == 0, 0.0, np.asarray(demand, float) + open_),
        np.where(present == 0, np.inf, np.asarray(limit, float) + open_),
    )


@check(
    id="deck-front",
    title="wheels or tracks behind the front of the deck",
    kind="fit",
    group="deck",
    demand="where(item_present == 0, 0, deck_front_x_in)",
    limit="where(item_present == 0, inf, item_front_x_in + item_contact_front_in)",
    unit="in",
    per="item",
    scale="demand",
    sources=("DECK-FIT",),
    says="Wheels and tracks must stand on the deck, none ahead of its front edge.",
    settle="measure the machine's wheels or tracks from its foremost point",
)
def deck_front(*, item_present, item_front_x_in, item_contact_front_in, deck_front_x_in):
    """Front edge of the deck against where each piece's contact begins.

    References
    ----------
    DECK-FIT
    """
    begins = np.asarray(item_front_x_in, float) + item_contact_front_in
    return _for_present(item_present, deck_front_x_in, begins)


@check(
    id="deck-rear",
    title="wheels or tracks ahead of the end of the level deck",
    kind="fit",
    group="deck",
    demand="where(item_present == 0, 0, item_front_x_in + item_contact_rear_in)",
    limit="where(item_present == 0, inf, deck_flat_rear_x_in)",
    unit="in",
    per="item",
    sources=("DECK-FIT",),
    says="Wheels and tracks must stand on the level deck, none on the slope of the tail.",
    settle="measure the machine's wheels or tracks from its foremost point",
)
def deck_rear(*, item_present, item_front_x_in, item_contact_rear_in, deck_flat_rear_x_in):
    """Where each piece's contact ends against the end of the level deck.

    References
    ----------
    DECK-FIT
    """
    ends = np.asarray(item_front_x_in, float) + item_contact_rear_in
    return _for_present(item_present, ends, deck_flat_rear_x_in)


@check(
    id="body-clear-of-neck",
    title="body of a piece clear of the neck",
    kind="fit",
    group="deck",
    demand="where((item_present == 0) + (coupling_kind == 0) + (coupling_kind == 3), 0, deck_front_x_in)",
    limit="where((item_present == 0) + (coupling_kind == 0) + (coupling_kind == 3), inf, item_front_x_in)",
    unit="in",
    per="item",
    scale="demand",
    sources=("DECK-FIT",),
    says="Nothing may reach ahead of the deck on a gooseneck: the neck stands there.",
    settle="measure the machine's length as carried",
)
def body_clear_of_neck(*, item_present, item_front_x_in, deck_front_x_in, coupling_kind):
    """Front edge of the deck against the foremost point of each piece; goosenecks and kingpins only.

    References
    ----------
    DECK-FIT
    """
    kind = np.asarray(coupling_kind, float)
    neck = np.where(np.isnan(kind), np.nan, (kind == GOOSENECK) | (kind == KINGPIN))
    return _for_present(of_present(present=item_present, value=neck), deck_front_x_in, item_front_x_in)


@check(
    id="body-over-tongue",
    title="body of a piece behind the front of the deck",
    kind="guidance",
    group="deck",
    demand="where((item_present == 0) + (coupling_kind == 1) + (coupling_kind == 2), 0, deck_front_x_in)",
    limit="where((item_present == 0) + (coupling_kind == 1) + (coupling_kind == 2), inf, item_front_x_in)",
    unit="in",
    per="item",
    scale="demand",
    sources=("DECK-FIT",),
    says="A piece that reaches out over the tongue can strike the jack, or the truck in a tight turn.",
    settle="measure the machine's length as carried, and try a tight turn",
)
def body_over_tongue(*, item_present, item_front_x_in, deck_front_x_in, coupling_kind):
    """Front edge of the deck against the foremost point of each piece; balls and pintles only.

    References
    ----------
    DECK-FIT
    """
    kind = np.asarray(coupling_kind, float)
    tongue = np.where(np.isnan(kind), np.nan, (kind == BALL) | (kind == PINTLE))
    return _for_present(of_present(present=item_present, value=tongue), deck_front_x_in, item_front_x_in)


@check(
    id="pieces-apart",
    title="pieces of cargo not in each other's place",
    kind="fit",
    group="deck",
    demand="",
    limit="",
    unit="in",
    per="item",
    scale="demand",
    affine=False,
    sources=("DECK-FIT",),
    says="Each piece needs the deck behind the one ahead of it to itself.",
    settle="measure the machines' lengths as carried",
)
def pieces_apart(*, item_present, item_front_x_in, item_length_in):
    """Length of the piece ahead against the distance from its front to this piece's front.

    For each piece, the one ahead of it that comes nearest to it or overlaps it most is taken; the foremost piece has
    none. Of two with the same front the earlier in the list counts as ahead. Linear in the positions for as long as
    the order stays the same.

    References
    ----------
    DECK-FIT
    """
    present, front, length = np.broadcast_arrays(
        *(np.asarray(a, float) for a in (item_present, item_front_x_in, item_length_in))
    )
    demand, limit = np.zeros(front.shape), np.full(front.shape, np.inf)
    for i in range(len(front)):
        for j in range(len(front)):
            if i == j:
                continue
            both = (present[i] != 0) & (present[j] != 0)
            ahead = (front[j] < front[i]) | ((front[j] == front[i]) & (j < i))
            apart, room = front[i] - front[j], limit[i] - demand[i]
            unknown = np.isnan(apart + present[i] + present[j]) | (ahead & np.isnan(length[j]))
            nearer = both & (unknown | (ahead & ~np.isnan(room) & (apart - length[j] < room)))
            demand[i] = np.where(nearer, np.where(unknown, np.nan, length[j]), demand[i])
            limit[i] = np.where(nearer, np.where(unknown, np.nan, apart), limit[i])
    return demand, limit


@check(
    id="deck-width",
    title="wheels or tracks on the deck's width",
    kind="fit",
    group="deck",
    demand="where(item_present == 0, 0, item_contact_width_in)",
    limit="where(item_present == 0, inf, deck_width_in)",
    unit="in",
    per="item",
    sources=("DECK-FIT",),
    says="Wheels and tracks must stand on the deck's width.",
    settle="measure the width over the machine's wheels or tracks",
)
def deck_width(*, item_present, item_contact_width_in, deck_width_in):
    """Width over each piece's wheels or tracks against the deck's width.

    References
    ----------
    DECK-FIT
    """
    return _for_present(item_present, item_contact_width_in, deck_width_in)


@check(
    id="between-fenders",
    title="body of a piece between the fenders",
    kind="fit",
    group="deck",
    demand="where((item_present == 0) + (deck_kind == 0), 0, item_width_in)",
    limit="where((item_present == 0) + (deck_kind == 0), inf, between_fenders_in)",
    unit="in",
    per="item",
    sources=("DECK-FIT",),
    says="On a deck between fenders the machine, bucket and all, must pass between them.",
    settle="measure the machine's full width, and the clear width between the fenders",
)
def between_fenders(*, item_present, item_width_in, deck_kind, between_fenders_in):
    """Width of each piece against the clear width between the fenders, where the deck lies between them.

    References
    ----------
    DECK-FIT
    """
    kind = np.asarray(deck_kind, float)
    between = np.where(np.isnan(kind), np.nan, kind == BETWEEN_FENDERS)
    return _for_present(of_present(present=item_present, value=between), item_width_in, between_fenders_in)
