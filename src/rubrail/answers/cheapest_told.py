"""The cheapest build in plain fields, as JSON and pages tell it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from rubrail.answers.build import Build
from rubrail.answers.cheapest import Cheapest, Forced
from rubrail.answers.report import Line


@dataclass(frozen=True, slots=True)
class TakenOption:
    """One option of a build."""

    id: str
    title: str
    price_usd: Decimal


@dataclass(frozen=True, slots=True)
class ToldBuild:
    """One build: its maker's catalog and the day that holds from, what is taken, what it asks and weighs empty."""

    catalog: str
    effective: str
    maker: str
    model: str
    title: str
    options: tuple[TakenOption, ...]
    price_usd: Decimal
    empty_weight_lb: float
    gvwr_lb: float


@dataclass(frozen=True, slots=True)
class ToldCheapest:
    """The cheapest build for a haul, or the nearest where none reaches the verdict wanted.

    possible : choices of options there are at most; judged : builds weighed; dropped : kinds proven hopeless;
    proven : False where the search was cut
    """

    haul: str
    model: str
    wanted: str
    verdict: str
    build: ToldBuild | None
    governing: Line | None
    forced: tuple[Forced, ...]
    nearest: ToldBuild | None
    nearest_line: Line | None
    possible: int
    judged: int
    dropped: int
    proven: bool


def told_build(build: Build) -> ToldBuild:
    """A build in plain fields."""
    trailer = build.trailer
    return ToldBuild(
        catalog=build.catalog.title or build.catalog.id,
        effective=build.catalog.effective.isoformat(),
        maker=build.catalog.maker,
        model=build.model.id,
        title=build.model.title or build.model.id,
        options=tuple(TakenOption(o.id, o.title, o.price_usd) for o in build.options),
        price_usd=build.price_usd,
        empty_weight_lb=float(trailer.weights.empty_lb),
        gvwr_lb=float(trailer.ratings.gvwr_lb),
    )


def cheapest_told(found: Cheapest) -> ToldCheapest:
    """A search's result in plain fields."""
    return ToldCheapest(
        haul=found.haul,
        model=found.model,
        wanted=found.wanted,
        verdict=found.verdict,
        build=told_build(found.build) if found.build else None,
        governing=found.governing,
        forced=found.forced,
        nearest=told_build(found.nearest) if found.nearest else None,
        nearest_line=found.nearest_line,
        possible=found.possible,
        judged=found.judged,
        dropped=found.dropped,
        proven=found.proven,
    )
