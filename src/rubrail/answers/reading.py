"""Everything the engine says of one trailer by itself, its columns laid out and its envelope read once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rubrail.answers.decode import Decoding, figures
from rubrail.answers.envelope import Envelope, envelope_of, fan_of
from rubrail.answers.gaps import Gap, gaps_of
from rubrail.answers.height import built_columns
from rubrail.things.columns import Columns
from rubrail.things.trailer import Trailer


@dataclass(frozen=True)
class Reading:
    """One trailer, whatever pulls it.

    decoding : its numbers taken apart; envelope : the most it carries by where the load balances, ``None`` where the
    place of its deck is not known; columns : what all of it was read from.
    """

    decoding: Decoding
    envelope: Envelope | None
    columns: Columns

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """What to measure, what matters most first; asked only where somebody wants to know."""
        return gaps_of(self.columns)


def read_unit(trailer: Trailer) -> Reading:
    """Take one trailer's numbers apart and read its envelope."""
    columns = built_columns([trailer])
    fan = fan_of(columns, trailer_only=True)
    try:
        envelope = envelope_of(columns, trailer=trailer.id, with_truck=False, fan=fan)
    except ValueError:
        envelope = None
    parts = figures(columns, with_truck=False, fan=fan)
    decoding = Decoding(trailer.id, trailer.title or trailer.id, "", parts)
    return Reading(decoding, envelope, columns)
