"""``rubrail build``: a model with options, or the cheapest build that clears a haul."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.cheapest import Cheapest
    from rubrail.cli.screen import Screen
    from rubrail.things.catalog import Catalog
    from rubrail.things.yard import Yard as YardThing


def command(
    model: Annotated[str, typer.Argument(metavar="MODEL", help="A model of one of the yard's catalogs.")],
    haul: Annotated[str, typer.Argument(metavar="HAUL", help="A haul file, or the id of a haul in the yard.")],
    depends: Annotated[bool, typer.Option("--depends", help="Take a build that holds only as stated.")] = False,
    most: Annotated[int, typer.Option("--most", metavar="N", min=1, help="Builds to judge at most.")] = 50_000,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Find the cheapest build of a model that carries a haul, and what forces each of its options."""
    from rubrail.answers.cheapest import cheapest
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_build import cheapest_sentence

    found_yard = given.yard_of(yard, haul)
    the_haul = given.haul_of(haul, found_yard)
    catalog = catalog_of(model, found_yard)
    wanted = "depends" if depends else "clear"
    found = cheapest(haul=the_haul, catalog=catalog, model=model, wanted=wanted, most=most)
    sentence = cheapest_sentence(found, metric=metric)
    if as_json:
        print(told(answer="build", sentence=sentence, record=record_of(found)))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), found, sentence)
    return found.verdict


def catalog_of(model: str, yard: YardThing | None) -> Catalog:
    """The catalog that has a model.

    Raises
    ------
    BadInput
        If none has, or more than one.
    """
    catalogs = yard.catalogs if yard else {}
    having = [c for c in catalogs.values() if any(m.id == model for m in c.model)]
    if len(having) == 1:
        return having[0]
    known = ", ".join(m.id for c in catalogs.values() for m in c.model) or "none"
    if not having:
        raise BadInput(f"MODEL must be a model of the yard's catalogs, got {model!r}; they have {known}.")
    raise BadInput(f"MODEL {model!r} is in several catalogs: {', '.join(c.id for c in having)}.")


def record_of(found: Cheapest) -> object:
    """The record as JSON tells it."""
    from rubrail.answers.cheapest_told import cheapest_told

    return cheapest_told(found)


def show(screen: Screen, found: Cheapest, sentence: str) -> None:
    """Print the cheapest build, or what is in the way of any."""
    from rubrail.cli import show as part
    from rubrail.quantity.money import show_money
    from rubrail.sheets.sentences_build import forced_sentence

    screen.verdict(found.verdict, sentence)
    build = found.build or found.nearest
    if build is not None:
        screen.heading("The build" if found.build else "The nearest build")
        rows = [(build.model.title or build.model.id, show_money(build.model.price_usd))]
        rows += [(o.title, show_money(o.price_usd)) for o in build.options]
        rows.append(("Asks", show_money(build.price_usd)))
        screen.table(("", "wrap"), ("", "right", 10), no_header=True, rows=rows)
    if found.forced:
        screen.heading("Why each option is there")
        for forced in found.forced:
            screen.text(forced_sentence(forced, metric=screen.metric))
    screen.text()
    end = "" if found.proven else " The search was cut there: nothing beyond is proven."
    screen.text(
        f"{found.judged:,} builds judged; {found.dropped:,} kinds of build proven hopeless and dropped.{end}",
        style="dim",
    )
    part.safety(screen)
