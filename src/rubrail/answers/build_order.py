"""Subsets in order of price, one after the other, without listing them all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from heapq import heappop, heappush
from typing import TypeVar

T = TypeVar("T")


def subsets_by_price(items: Sequence[T], *, price: Callable[[T], Decimal]) -> Iterator[tuple[T, ...]]:
    """Every subset once, the cheapest first; items of negative price are in the cheapest.

    With prices sorted, each subset has two that follow it: its last item moved on to the next, and the next added. A
    heap of those not yet given holds no more than were given. Ties come with fewer items first.
    """
    credit = [i for i in items if price(i) < 0]
    # Leaving out a credit costs its amount; taking another item costs its price.
    steps = sorted(items, key=lambda i: abs(price(i)))
    cost = [abs(price(i)) for i in steps]
    taken = set(map(id, credit))

    def subset(flipped: tuple[int, ...]) -> tuple[T, ...]:
        ids = taken ^ {id(steps[n]) for n in flipped}
        return tuple(i for i in items if id(i) in ids)

    yield subset(())
    if not steps:
        return
    heap: list[tuple[Decimal, int, tuple[int, ...]]] = [(cost[0], 1, (0,))]
    while heap:
        total, size, flipped = heappop(heap)
        yield subset(flipped)
        last = flipped[-1]
        if last + 1 < len(steps):
            heappush(heap, (total + cost[last + 1], size + 1, (*flipped, last + 1)))
            heappush(heap, (total - cost[last] + cost[last + 1], size, (*flipped[:-1], last + 1)))
