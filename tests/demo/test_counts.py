"""The invented yard is whole: everything loads, the counts are as promised, nothing is named twice."""

import tomllib
from collections import Counter

import pytest

from rubrail.demo import MAKERS, YARD
from rubrail.things.folder import load_yard, resolve


@pytest.fixture(scope="module")
def yard():
    return load_yard(YARD)


def test_every_file_loads_without_a_fault(yard):
    files = list(YARD.rglob("*.toml"))
    kinds = (yard.trailers, yard.trucks, yard.cargo, yard.hauls, yard.catalogs, yard.rates, yard.kits)
    things = sum(map(len, (*kinds, yard.tickets, yard.listings, yard.checks)))
    assert things == len(files) - 1, "every file but yard.toml holds one thing"
    assert yard.title


def test_counts(yard):
    assert 40 <= len(yard.trailers) <= 45
    assert len(yard.trucks) >= 12
    assert len(yard.cargo) >= 40
    assert len(yard.hauls) == 15
    assert len(yard.catalogs) == 3


def test_every_haul_finds_its_truck_and_cargo(yard):
    for haul in yard.hauls.values():
        whole = resolve(haul, yard)
        assert whole.truck.id in yard.trucks
        assert all(load.piece.id in yard.cargo for load in whole.cargo)


def test_a_file_is_named_like_what_it_holds():
    for folder, start in (("trucks", 'id = "'), ("machines", 'id = "'), ("hauls", 'id = "')):
        for path in (YARD / folder).glob("*.toml"):
            assert f'{start}{path.stem}"' in path.read_text(encoding="utf-8"), path.name


def test_places_in_the_yard_and_vins_are_used_once(yard):
    for name in ("vin", "location", "title"):
        found = Counter(getattr(t, name) for t in yard.trailers.values() if getattr(t, name))
        assert [x for x, n in found.items() if n > 1] == []


def test_the_whole_range_is_there(yard):
    units = yard.trailers.values()
    assert {t.coupling.kind for t in units} == {"ball", "pintle", "gooseneck", "kingpin"}
    assert {t.deck.kind for t in units} == {"deck-over", "between-fenders"}
    assert {t.deck.tail_kind for t in units} == {"none", "fixed", "lowering", "tilt"}
    assert {t.suspension.kind for t in units} == {"equalized", "independent"}
    assert {len(t.axle) for t in units} == {1, 2, 3}
    assert {t.axle[0].tires.count for t in units} == {2, 4}
    assert {a.brakes for t in units for a in t.axle} == {
        "none",
        "electric",
        "electric-over-hydraulic",
        "surge",
        "air",
    }
    assert {t.frame.build for t in units} == {"pierced", "stacked"}
    assert {t.condition for t in units} == {"new", "used"}
    assert 2 <= sum(t.condition == "used" for t in units) <= 4
    ratings = [t.ratings.gvwr_lb.number for t in units]
    assert min(ratings) < 3_000
    assert max(ratings) > 30_000
    assert {c.kind for c in yard.cargo.values()} == {"machine", "crate", "bulk"}
    assert {h.use for h in yard.hauls.values()} == {"private", "own-business", "for-hire", "farm"}
    assert any(h.weight_distribution for h in yard.hauls.values())
    assert any(sum(load.count for load in h.cargo) == 3 for h in yard.hauls.values())


def test_every_basis_is_met_with_and_some_values_are_not_known(yard):
    text = "\n".join(p.read_text(encoding="utf-8") for p in YARD.rglob("*.toml"))
    for basis in ("weighed", "measured", "maker", "estimated", "typical"):
        assert f'basis = "{basis}"' in text
    units = yard.trailers
    assert units["SH-163"].coupling.vertical_rating_lb is None
    assert units["SH-113"].weights.empty_coupler_lb is None
    assert units["SH-164"].deck.height_in is None
    assert all(a.wheel_rating_lb is None for a in units["SH-172"].axle)
    assert yard.trucks["one-ton-dual-rear-older"].ratings.rear_gawr_lb is None
    assert yard.hauls["15-tractor-tall-truck"].license_held is None


def test_makers_are_the_yards_own_invented_ones(yard):
    makers = {m["name"] for m in tomllib.loads(MAKERS.read_text(encoding="utf-8"))["maker"]}
    assert {t.maker for t in yard.trailers.values()} == makers
    assert {c.maker for c in yard.catalogs.values()} < makers
    assert all(t.model is None for t in yard.trailers.values())
    others = [*yard.trucks.values(), *yard.cargo.values()]
    assert [x.id for x in others if x.maker or x.model] == [], "trucks and cargo carry class names only"
