"""The excise-tax worksheet and the order sheet to a maker."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.answers.build import cost_parts
from rubrail.quantity.money import show_money
from rubrail.sheets.drawing import side_view
from rubrail.sheets.paper.blocks import Block, Drawing, Facts, Paper, Signatures, Steps, Table, Words
from rubrail.sheets.paper.facts import said, unit_facts
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_build import build_sentence, excise_sentence
from rubrail.sheets.sentences_words import begin

if TYPE_CHECKING:
    from rubrail.answers.build import Build
    from rubrail.answers.price_parts import Price
    from rubrail.things.trailer import Trailer

ADVISER = "Not tax advice. Review by a tax adviser before it is relied on."


def tax_worksheet(
    *, price: Price, trailer: Trailer, yard: str = "", date: str = "", link: str = "", watch_until: str = "",
    metric: bool = False,
) -> Paper:  # fmt: skip
    """How the federal excise tax was reckoned, so that somebody else can check it.

    Parameters
    ----------
    watch_until : str
        Day on which later accessories stop being taxed, as printed; to be filled in where it is not known.
    """
    tax = price.excise
    bed = trailer.tax.bed_center_from_coupler_in
    axles = [float(a.from_coupler_in) for a in trailer.axle if a.from_coupler_in is not None]
    center = sum(axles) / len(axles) if len(axles) == len(trailer.axle) else None
    ratings = [float(a.gawr_lb) for a in trailer.axle if a.gawr_lb is not None]
    total = sum(ratings) if len(ratings) == len(trailer.axle) else None

    def lb(value: float | None) -> str:
        return "not known" if value is None else amount(value, "lb", metric=metric)

    owed = tax.standing in ("due", "not known")
    weights = Facts(
        (
            ("Weight by the label's rating", lb(tax.by_rating_lb)),
            ("Weight by axles, load centered on the bed", lb(tax.by_axles_lb)),
            ("Axle ratings added up", lb(total)),
            (
                "Coupling to the center of the axles (Z)",
                "not known" if center is None else amount(center, "in", metric=metric),
            ),
            ("Coupling to the center of the bed (X)", said(bed, "in", metric=metric)),
            ("Taxed above", lb(tax.line_lb)),
        ),
        heading="Is it taxed: two weights, the stricter governs",
    )
    lines = Table(
        ("Charge", "Amount", "Counts", "Why"),
        tuple((c.title, show_money(c.amount_usd), c.counts, c.why) for c in tax.lines),
        align="lrll",
        heading="What the taxed price holds" if owed else "What the taxed price would hold",
        widths=(1.1, 0, 0.7, 1.6),
    )
    reckoned = Facts(
        (
            ("Taxed price", show_money(tax.base_usd)),
            (f"Tax at {tax.rate_percent} %", show_money(tax.before_credit_usd)),
            ("Less the tax on the tires sold with it", show_money(-tax.tire_credit_usd)),
            ("Federal excise tax", show_money(tax.tax_usd)),
            ("Of it on charges nobody has settled", show_money(tax.unsettled_usd)),
            ("Paper the yard must hold", tax.paper or "none for this sale"),
        ),
        heading="The tax",
        columns=1,
    )
    states = Table(
        ("State and local", "Taxed", "Rate", "Tax", ""),
        tuple(
            (t.title, show_money(t.base_usd), f"{t.rate_percent} %", show_money(t.tax_usd), t.why or t.paper)
            for t in price.taxes
        ),
        align="lrrrl", heading="State and local",
    )  # fmt: skip
    watch = Words(
        (
            f"Accessories the owner has fitted within {tax.accessory_months} months of first service are taxed too"
            f" where all of them come to more than {show_money(tax.accessory_free_to_usd)}; whoever fits them"
            " may be liable."
            f" Watch until {watch_until or '____________'}.",
        ),
        heading="Six-month watch",
    )
    blocks: list[Block] = [weights, lines, reckoned]
    if price.taxes:
        blocks.append(states)
    blocks += [watch, Signatures(("Prepared by, date", "Reviewed by, date")), Words((ADVISER,), quiet=True)]
    return Paper(
        sort=f"Excise-tax worksheet, {trailer.id}",
        title=trailer.title or trailer.id,
        lead=excise_sentence(tax),
        blocks=tuple(blocks),
        yard=yard,
        date=date,
        link=link,
        link_says="this unit",
        foot=ADVISER,
    )


def order_sheet(
    *,
    build: Build,
    number: str = "",
    need_by: str = "",
    sold_to_stock: str = "",
    yard: str = "",
    date: str = "",
    with_cost: bool = False,
    metric: bool = False,
) -> Paper:
    """What the yard orders from a maker, complete enough to be built from.

    Parameters
    ----------
    number : str
        The yard's own order number.
    sold_to_stock : str
        ``sold`` or ``stock``, as printed.
    with_cost : bool
        Also print what it costs the yard; never for eyes that may not see cost.
    """
    t, model = build.trailer, build.model
    head = Facts(
        (
            ("Order number", number),
            ("To", build.catalog.maker),
            ("Price book", f"{build.catalog.title or build.catalog.id}, from {build.catalog.effective:%b %d, %Y}"),
            ("Model", f"{model.id}, {model.title or ''}".rstrip(", ")),
            ("Needed by", need_by),
            ("For", sold_to_stock),
            ("Lead time", f"{model.lead_weeks} weeks" if model.lead_weeks else "not known"),
            ("No change from", f"{model.freeze_weeks} weeks before" if model.freeze_weeks else "not known"),
        )
    )
    rows = [
        (model.id, model.title or "", show_money(model.price_usd), *((_cost(model.cost_usd),) if with_cost else ()))
    ]
    rows += [
        (o.id, o.title, show_money(o.price_usd), *((_cost(o.cost_usd),) if with_cost else ())) for o in build.options
    ]
    if with_cost:
        rows += [("", begin(name), "", show_money(amount_usd)) for name, amount_usd in cost_parts(build)]
    total = ("", "Together", show_money(build.price_usd), *((_cost(build.cost_usd),) if with_cost else ()))
    table = Table(
        ("Code", "What", "List", *(("Cost",) if with_cost else ())), (*rows, total),
        align="llr" + "r" * with_cost, heading="Ordered", strong=(len(rows),), widths=(0, 1, 0, *((0,) * with_cost)),
    )  # fmt: skip
    ratings = Facts(
        (
            ("Label GVWR required", said(t.ratings.gvwr_lb, "lb", metric=metric)),
            ("Coupling to the center of the bed (X)", said(t.tax.bed_center_from_coupler_in, "in", metric=metric)),
            ("Color", t.color or "as the model has it"),
        ),
        heading="To be on it",
    )
    blocks: list[Block] = [
        head,
        table,
        ratings,
        Drawing(side_view(t, width_px=700.0, metric=metric), says="as ordered, to scale"),
    ]
    blocks += [f for f in unit_facts(t, metric=metric)[2:] if f.rows]
    blocks += [
        Steps(
            (
                "Certification label, certificate and papers name the same VIN.",
                "Spare, keys, ramp pins and manuals with it.",
            ),
            heading="With it",
        ),
        Signatures(("Ordered by, date", "Confirmed by the maker, date, with the arrival promised")),
    ]  # fmt: skip
    return Paper(
        sort=f"Order sheet{', ' + number if number else ''}",
        title=f"{build.catalog.maker} {model.id}",
        lead=build_sentence(build),
        blocks=tuple(blocks),
        yard=yard,
        date=date,
        foot="Weights of options are the maker's; the trailer is weighed when it arrives.",
    )


def _cost(amount_usd: object) -> str:
    return "not known" if amount_usd is None else show_money(amount_usd)
