"""Builds: rules, statics by hand, and the cheapest one against judging every build there is."""

from decimal import Decimal
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubrail import match, weigh
from rubrail.answers.build import BuildError, broken_rules, build_of, built, model_price
from rubrail.answers.build_order import subsets_by_price
from rubrail.answers.cheapest import cheapest
from rubrail.answers.match import match_columns
from rubrail.answers.rig import rigs
from rubrail.checks.verdict import CLEAR, DEPENDS, WORDS

from .yard import haul, yard

CATALOGS = yard().catalogs
MODELS = [(c.id, m.id) for c in CATALOGS.values() for m in c.model]


def some_of(catalog, keep, prices=None):
    """The catalog with some of its options, and rules that only they can meet."""
    ids = set(keep)
    options = []
    for o in catalog.option:
        if o.id in ids:
            change = {
                n: tuple(x for x in getattr(o, n) if x in ids) for n in ("requires", "requires_one_of", "excludes")
            }
            if prices:
                change["price_usd"] = Decimal(prices[o.id])
            options.append(o.model_copy(update=change))
    return catalog.model_copy(update={"option": tuple(options)})


def every_build(catalog, model):
    """Every choice that keeps the rules, with its price."""
    base = next(m for m in catalog.model if m.id == model)
    options = catalog.options_of(base)
    for size in range(len(options) + 1):
        for taken in combinations(options, size):
            if not any(broken_rules(catalog, base, taken)):
                yield taken, model_price(base, taken), built(base, taken)


def verdicts(the_haul, trailers):
    one = rigs(haul=the_haul, trailers=trailers)
    blocks = match_columns(one.columns, offsets_in=one.offsets_in)
    return np.concatenate([b.judgement.verdict[:, 0] for b in blocks])


def brute(the_haul, catalog, model, goal):
    builds = list(every_build(catalog, model))
    codes = verdicts(the_haul, tuple(t for _, _, t in builds))
    return min((price for (_, price, _), code in zip(builds, codes, strict=True) if code >= goal), default=None)


def test_weights_are_put_on_by_hand():
    # GN-2505 of the Quarrant book: 7,560 lb empty. Toolbox and spare by the file's own weights and places.
    catalog = CATALOGS["quarrant-2027"]
    plain = build_of(catalog, "GN-2505").trailer
    found = build_of(catalog, "GN-2505", ["toolbox", "spare"]).trailer
    axles = np.mean([float(a.from_coupler_in) for a in plain.axle])
    added = [
        (float(a.weight_lb), float(a.from_coupler_in))
        for o in catalog.option
        if o.id in ("toolbox", "spare")
        for a in o.adds
    ]
    added += [
        (float(e.weight_lb) * e.count, float(e.from_coupler_in))
        for o in catalog.option
        if o.id in ("toolbox", "spare")
        for e in o.more.equipment
    ]
    assert added
    weight = float(plain.weights.empty_lb) + sum(w for w, _ in added)
    coupler = float(plain.weights.empty_coupler_lb) + sum(w - w * x / axles for w, x in added)
    assert float(found.weights.empty_lb) == pytest.approx(weight)
    assert float(found.weights.empty_coupler_lb) == pytest.approx(coupler)


@pytest.mark.parametrize(("catalog", "model"), MODELS)
def test_statics_hold_for_every_single_option(catalog, model):
    c = CATALOGS[catalog]
    base = next(m for m in c.model if m.id == model)
    for option in c.options_of(base):
        trailer = built(base, (option,))
        places = [float(a.from_coupler_in) for a in trailer.axle]
        axle = sum(places) / len(places)
        on_axles = float(trailer.weights.empty_lb) - float(trailer.weights.empty_coupler_lb)
        moment = on_axles * axle
        before = [float(a.from_coupler_in) for a in base.axle]
        want = (float(base.weights.empty_lb) - float(base.weights.empty_coupler_lb)) * sum(before) / len(before)
        dropped = set(option.drops)
        want += sum(float(a.weight_lb) * float(a.from_coupler_in) for a in option.adds)
        want += sum(float(e.weight_lb) * e.count * float(e.from_coupler_in) for e in option.more.equipment)
        want -= sum(
            float(e.weight_lb) * e.count * float(e.from_coupler_in) for e in base.equipment if e.tag in dropped
        )
        assert moment == pytest.approx(want), option.id


def test_a_build_is_a_trailer_like_any_other():
    build = build_of(CATALOGS["tarnbeck-2027"], "LE-20", ["tires-3520", "coupler-20k", "label-15400"], id="order-1")
    weighing = weigh(haul=haul("03-landscaper-track-loader"), trailer=build.trailer, remedies=False)
    assert weighing.trailer == "order-1"
    assert weighing.verdict in WORDS
    board = match(haul=haul("03-landscaper-track-loader"), trailers=(build.trailer,))
    assert board.candidates[0].verdict == weighing.verdict
    assert board.candidates[0].price_usd == build.price_usd == Decimal(7990 + 90 + 190 + 180)


def test_nothing_of_a_build_claims_a_label():
    build = build_of(CATALOGS["quarrant-2027"], "GN-2505", ["axles-12k"])
    trailer = build.trailer
    read = [trailer.ratings.gvwr_lb, trailer.coupling.gross_rating_lb, *(a.gawr_lb for a in trailer.axle)]
    assert {v.basis for v in read} == {"maker"}
    assert {v.plus_minus for v in read} == {0}
    assert "label" not in str(trailer.model_dump()["ratings"])


def test_cost_holds_surcharge_and_freight_or_is_not_known():
    catalog = CATALOGS["quarrant-2027"]
    base = next(m for m in catalog.model if m.id == "GN-2505")
    found = build_of(catalog, "GN-2505", ["toolbox"])
    toolbox = next(o for o in catalog.option if o.id == "toolbox")
    rate = 1 + Decimal(str(float(catalog.surcharge_percent or 0))) / 100
    freight = base.freight_usd or 0
    assert found.cost_usd == ((base.cost_usd + toolbox.cost_usd) * rate).quantize(Decimal("0.01")) + freight
    bare = base.model_copy(update={"cost_usd": None})
    unknown = catalog.model_copy(update={"model": (bare,)})
    assert build_of(unknown, "GN-2505").cost_usd is None


@pytest.mark.parametrize(
    ("model", "options", "words"),
    [
        ("GN-2505", ["air-brakes", "x"], ["'air-brakes' is not made for GN-2505", "'x' is not made"]),
        ("GN-2505", ["label-25900"], ["label-25900 requires torque-tube."]),
        ("GN-2505", ["axles-12k", "tires-g-dual"], ["exclude each other"]),
        ("GN-2505", ["kingpin", "ball-3in"], ["group coupler allows one"]),
        ("XX", [], ["model must be one of"]),
    ],
)
def test_rules_that_are_not_kept_are_told(model, options, words):
    with pytest.raises(BuildError) as told:
        build_of(CATALOGS["quarrant-2027"], model, options)
    assert all(any(w in fault for fault in told.value.faults) for w in words)


def test_a_needed_group_asks_for_one():
    with pytest.raises(BuildError, match="color is needed"):
        build_of(CATALOGS["pellamy-2027"], "DO-22")


@given(prices=st.lists(st.integers(-6, 9), max_size=9))
def test_subsets_come_once_and_in_order_of_price(prices):
    items = list(enumerate(prices))
    found = list(subsets_by_price(items, price=lambda i: Decimal(i[1])))
    totals = [sum(p for _, p in s) for s in found]
    assert len(found) == len(set(found)) == 2 ** len(items)
    assert totals == sorted(totals)


FEW = {
    "LE-20": (
        "axles-8k",
        "tires-3520",
        "tires-g",
        "label-15400",
        "coupler-20k",
        "pintle",
        "torsion",
        "toolbox",
        "ramps-8ft",
    ),
    "GN-2505": (
        "axles-12k",
        "label-25900",
        "torque-tube",
        "ball-3in",
        "tail-straight",
        "tail-lowering",
        "toolbox",
        "spare",
    ),
    "DO-22": ("three-7k", "springs", "straight-deck", "oak", "toolbox", "spare", "pintle", "black"),
}
HAULS = (
    "02-midi-excavator-for-hire",
    "03-landscaper-track-loader",
    "04-three-machines",
    "06-under-26001",
    "10-weight-distribution",
)


@pytest.mark.parametrize("name", HAULS)
@pytest.mark.parametrize("model", FEW)
@pytest.mark.parametrize("wanted", ["clear", "depends"])
def test_no_build_that_clears_is_cheaper(name, model, wanted):
    catalog = next(c for c in CATALOGS.values() if any(m.id == model for m in c.model))
    few = some_of(catalog, FEW[model])
    found = cheapest(haul=haul(name), catalog=few, model=model, wanted=wanted)
    want = brute(haul(name), few, model, WORDS.index(wanted))
    assert (found.build and found.build.price_usd) == want
    if found.build:
        assert verdicts(haul(name), (found.build.trailer,))[0] >= WORDS.index(wanted)
        assert found.verdict in WORDS[WORDS.index(wanted) :]
        assert {f.option for f in found.forced} == {o.id for o in found.build.options}
    else:
        assert found.proven
        assert found.nearest is not None


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_no_build_is_cheaper_whatever_options_cost(data):
    model = data.draw(st.sampled_from(sorted(FEW)))
    catalog = next(c for c in CATALOGS.values() if any(m.id == model for m in c.model))
    keep = data.draw(st.lists(st.sampled_from(FEW[model]), min_size=3, max_size=7, unique=True))
    if model == "DO-22":
        keep = [*dict.fromkeys((*keep, "black"))]
    prices = {o: data.draw(st.integers(-400, 900)) for o in keep}
    few = some_of(catalog, keep, prices)
    the_haul = haul(data.draw(st.sampled_from(HAULS)))
    goal = data.draw(st.sampled_from([CLEAR, DEPENDS]))
    found = cheapest(haul=the_haul, catalog=few, model=model, wanted=WORDS[goal])
    assert (found.build and found.build.price_usd) == brute(the_haul, few, model, goal)


def test_what_forces_an_option_is_what_fails_without_it():
    found = cheapest(haul=haul("02-midi-excavator-for-hire"), catalog=CATALOGS["quarrant-2027"], model="GN-2505")
    by_limit = [f for f in found.forced if f.by == "limit"]
    assert by_limit
    for forced in by_limit:
        rest = [o.id for o in found.build.options if o.id != forced.option]
        without = build_of(CATALOGS["quarrant-2027"], "GN-2505", rest)
        weighing = weigh(haul=haul("02-midi-excavator-for-hire"), trailer=without.trailer, remedies=False)
        assert weighing.verdict != "clear"
        assert weighing.governing.check == forced.line.check


def test_a_search_that_is_cut_says_so():
    found = cheapest(haul=haul("09-loaded-service-truck"), catalog=CATALOGS["tarnbeck-2027"], model="LE-20", most=100)
    assert found.build is None
    assert not found.proven
