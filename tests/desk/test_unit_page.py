"""A unit's page: what it says is what the engine says, beside whom it is set, and what it costs to open."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cached_property
from html.parser import HTMLParser

import numpy as np
import pytest
from django.test import Client

from desk.invented import stand
from rubrail.answers.decode import decode
from rubrail.answers.envelope import envelope, fan_of, greatest_at
from rubrail.answers.height import built_columns
from rubrail.answers.reading import read_unit
from rubrail.answers.traits import traits_of
from rubrail.desk import lot
from rubrail.desk.models import Unit
from rubrail.desk.stock import change_unit, trailer_of
from rubrail.desk.unit_envelope import data_of, reading_at
from rubrail.desk.unit_facts import unit_facts, wanted_paths
from rubrail.desk.unit_sums import sums_of
from rubrail.desk.yardmates import company_of
from rubrail.sheets.sentences_yard import decoding_sentence, envelope_sentence


class Words(HTMLParser):
    """The text of a page's main part as a person reads it, and the envelope it carries."""

    def __init__(self) -> None:
        super().__init__()
        self._heard: list[str] = []
        self.envelope: dict = {}
        self._inside = False

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        has = dict(attributes)
        self._inside = self._inside or tag == "main"
        if "data-envelope" in has:
            self.envelope = json.loads(has["data-envelope"])

    def handle_endtag(self, tag: str) -> None:
        self._inside = self._inside and tag != "main"

    def handle_data(self, data: str) -> None:
        if self._inside:
            self._heard.append(data)

    @cached_property
    def text(self) -> str:
        """All of it, read once the page was fed."""
        return re.sub(r"\s+", " ", "".join(self._heard))


def page(client: Client, unit: Unit) -> Words:
    answer = client.get(unit.get_absolute_url())
    assert answer.status_code == 200
    words = Words()
    words.feed(answer.content.decode())
    return words


@pytest.fixture
def yard(db) -> dict[str, Unit]:
    """The invented yard, stored."""
    return {unit.stock_number: unit for unit in stand()}


def test_units_of_the_invented_yard_open_with_their_sentences(yard, as_role):
    client = as_role("viewer")
    for unit in list(yard.values())[::2]:
        words = page(client, unit)
        trailer = trailer_of(unit)
        told = envelope(trailer=trailer)
        assert envelope_sentence(told, title=trailer.title) in words.text
        assert decoding_sentence(decode(trailer=trailer)) in words.text
        for stretch in told.alone:
            assert stretch.title[1:] in words.text
        assert "nan" not in words.text.split()


def test_the_page_carries_the_engines_own_envelope(yard, as_role):
    """1 / (h + k x) of the page's data is what the engine says at any place, to the last digit but a few."""
    rng = np.random.default_rng(7)
    for unit in list(yard.values())[::3]:
        data = page(as_role("viewer"), unit).envelope
        fan = fan_of(built_columns([trailer_of(unit)]), trailer_only=True)
        assert (data["stretches"][0]["from"], data["stretches"][-1]["to"]) == (data["front"], data["rear"])
        for x in rng.uniform(data["front"], data["rear"], 25):
            s = next(s for s in data["stretches"] if s["from"] <= x <= s["to"])
            weight, _ = greatest_at(fan, np.array([[x]]))
            assert 1 / (s["h"] + s["k"] * x) == pytest.approx(weight[0, 0], rel=1e-9)


def test_the_reading_says_places_from_the_deck_and_from_the_coupling(yard):
    # SH-191 by hand: deck front 92 in behind the coupling; label 22,500 less 7,120 empty leaves 15,380.
    told = envelope(trailer=trailer_of(yard["SH-191"]))
    read = reading_at(told, 92 + 109, metric=False)
    assert read.most == "15,380 lb at most"
    assert read.place == "balanced 9 ft 1 in behind the front of the deck, 16 ft 9 in behind the coupling"
    assert read.governs == "trailer gross weight against its label"
    # 15,380 lb x 0.45359237 = 6,976.25 kg; 109 in = 2.7686 m, 201 in = 5.1054 m
    metric = reading_at(told, 92 + 109, metric=True)
    assert metric.most == "6,976 kg at most"
    assert metric.place == "balanced 2.769 m behind the front of the deck, 5.105 m behind the coupling"


def test_a_limit_that_is_spent_before_any_cargo_reads_as_nothing():
    from rubrail.things.door import read_thing
    from rubrail.things.trailer import Trailer

    from .conftest import TABLE

    deck = {**TABLE["deck"], "front_from_coupler_in": 60}
    coupling = {**TABLE["coupling"], "vertical_rating_lb": 300}
    weights = {"empty_lb": 3_350, "empty_coupler_lb": 400}
    told = envelope(
        trailer=read_thing(Trailer, {**TABLE, "id": "S-1", "deck": deck, "coupling": coupling, "weights": weights})
    )
    data = json.loads(data_of(told, metric=False))
    assert data["stretches"][0]["h"] is None
    assert reading_at(told, 100.0, metric=False).most == "0 lb at most"


def test_the_sums_on_the_page_add_up_and_say_their_parts(yard, as_role):
    words = page(as_role("viewer"), yard["SH-191"]).text
    # By hand: 2 x 10,000 and 4,000 are 24,000; 22,500 - 7,120; 20,000 - (7,120 - 1,240) + 5,195 = 19,315.
    for line in (
        "Counted for the coupler's share 4,000 lb",
        "Advertised 24,000 lb",
        "Empty weight − 7,120 lb",
        "Payload by label governs 15,380 lb",
        "The empty trailer's weight on its axles − 5,880 lb",
        "The coupler's share of a load at mid-deck 5,195 lb",
        "Payload by axles 19,315 lb",
    ):
        assert line in words, line
    for unit in yard.values():
        for sum_ in (s for part in sums_of(decode(trailer=trailer_of(unit)), metric=False).values()
                     for s in (part if isinstance(part, list) else [part])):  # fmt: skip
            total = next((line for line in sum_.lines if line.total), None)
            if total:
                above = sum_.lines[: sum_.lines.index(total)]
                assert sum(-p.value_lb if p.taken else p.value_lb for p in above) == pytest.approx(total.value_lb)


# ---- what is missing


def test_what_is_missing_is_asked_for_with_its_reason_and_marked_at_its_field(yard, as_role):
    words = page(as_role("hand"), yard["SH-113"]).text
    assert "Weigh by scale ticket: coupler load of the empty trailer" in words
    assert "Without it nobody can say what the trailer carries" in words
    assert words.index("coupler load of the empty trailer") < words.index("every lamp and marking")
    assert "Write it down" in words
    assert "Write it down" not in page(as_role("viewer"), yard["SH-113"]).text
    facts = {
        f.label: f for g in unit_facts(yard["SH-113"].spec, read_unit(trailer_of(yard["SH-113"]))) for f in g.facts
    }
    assert facts["Empty coupler load"].wanted
    assert not facts["Empty coupler load"].known


def test_a_unit_that_is_known_through_asks_for_nothing(yard, as_role):
    assert "Still to find out" not in page(as_role("owner"), yard["SH-191"]).text


def test_a_dual_tire_is_asked_for_its_dual_load(make_unit):
    tires = {"count": 4, "max_load_lb": 3_520, "max_pressure_psi": 80, "pressure_psi": 80, "family": "ST"}
    axle = [{"gawr_lb": 10_000, "from_coupler_in": 190, "brakes": "electric", "tires": tires}]
    unit = make_unit(axle=axle)
    assert "axle.0.tires.max_load_dual_lb" in set(wanted_paths(unit.spec, read_unit(trailer_of(unit))))


def test_a_deck_height_from_the_build_says_so(make_unit):
    tires = {"count": 2, "loaded_radius_in": 14.2}
    frame = {
        "build": "stacked", "deck_material": "oak", "deck_thickness_in": 1.5,
        "main_beam": {"depth_in": 6}, "crossmember": {"depth_in": 3},
    }  # fmt: skip
    unit = make_unit(
        axle=[{"gawr_lb": 7_000, "from_coupler_in": 190, "tires": tires}],
        suspension={"axle_to_frame_in": 4},
        frame=frame,
        deck={"kind": "deck-over", "flat_length_in": 240, "tail_kind": "none"},
    )
    (deck,) = (g for g in unit_facts(unit.spec, read_unit(trailer_of(unit))) if g.title == "Deck")
    (height,) = (f for f in deck.facts if f.label == "Deck height")
    # By hand: 14.2 to the axle, 4 to the beam, 6 of beam, 3 of crossmember, 1.5 of plank.
    assert (height.number, height.basis, height.remark) == (28.7, "estimated", "added up from the build")


def test_a_bare_unit_has_a_page_all_the_same(make_unit, as_role):
    unit = make_unit(
        axle=[{}, {}], deck=None, ratings=None, weights=None, coupling={"kind": "ball"}, price_usd=None, cost_usd=None
    )
    words = page(as_role("owner"), unit)
    assert "What it carries is not known yet. First:" in words.text
    assert words.envelope == {}
    assert "What axles, tires and wheels carry is not known." in words.text


def test_what_no_longer_reads_is_said_and_the_rest_is_shown(unit, as_role):
    Unit.objects.filter(pk=unit.pk).update(spec={**unit.spec, "axle": [{"gawr_lb": {"value": -4, "basis": "label"}}]})
    words = page(as_role("hand"), unit).text
    assert "no longer reads" in words
    assert "Level deck 240 in" in words


# ---- beside the others


def test_whom_it_is_compared_with(make_unit):
    mine = make_unit("M-1")
    for n in range(4):
        make_unit(f"A-{n}")
    assert (company_of(mine).circle, company_of(mine).count) == ("", 4), "too few of its kind: all there are"
    for n in range(6):
        make_unit(f"G-{n}", coupling={"kind": "gooseneck"})
    assert (company_of(mine).circle, company_of(mine).count) == ("between-fenders", 10), "a deck like its own"
    make_unit("A-4", deck={"kind": "deck-over", "tail_kind": "none"})
    assert (company_of(mine).circle, company_of(mine).count) == ("ball-coupler", 5)
    make_unit("A-5")
    assert (company_of(mine).circle, company_of(mine).count) == ("ball-coupler between-fenders", 5)
    make_unit("A-6", status="sold")
    assert company_of(mine).count == 5, "what is sold stands no longer beside it"


def test_what_differs_is_worked_out_from_the_yard_as_it_is(make_unit, as_role):
    deck = {"kind": "between-fenders", "flat_length_in": 240, "tail_kind": "none", "width_in": 82}
    low = make_unit("L-1", deck={**deck, "height_in": 19})
    others = [make_unit(f"H-{n}", deck={**deck, "height_in": h}) for n, h in enumerate((24, 25, 26, 24, 22, 25))]
    words = page(as_role("viewer"), low).text
    # By hand: 22 24 24 25 25 26, the middle two 24 and 25; none is at 19.
    assert "Beside the 6 other ball-coupler between-fenders units on the lot." in words
    assert "Deck height 19 in 24.5 in is usual, the middle of 6 others; none is as low." in words
    for unit in others[:3]:
        spec = {**unit.spec, "deck": {**unit.spec["deck"], "height_in": {"value": 18, "basis": "measured"}}}
        changed = Unit.objects.get(pk=unit.pk)
        changed.spec = spec
        changed.save()
    assert "Deck height" not in [d.trait.title.capitalize() for d in company_of(low).told]


def test_traits_of_a_unit_worked_by_hand(yard):
    # SH-191: anchors 12 on each side; tires 4 x 3,080 = 12,320 on 10,000: 23.2 %; deck 240 and a tail of 60.
    (traits,) = traits_of([yard["SH-191"].spec])
    assert traits["anchors"] == 24
    assert traits["tires"] == pytest.approx(23.2)
    assert (traits["deck_length"], traits["spacing"], traits["axles"]) == (300, 16, 20_000)
    assert (traits["wheels"], traits["ramps"], traits["brakes"]) == ("dual wheels", "full-width", "electric")
    # SH-113: brakes on one axle of two; tire pressure not known.
    (used,) = traits_of([yard["SH-113"].spec])
    assert (used["brakes"], used["tires"]) == ("electric on 1 of 2 axles", None)


def test_too_few_others_are_no_company(unit, make_unit, as_role):
    make_unit("A-1")
    assert "too few others on the lot" in page(as_role("viewer"), unit).text


@pytest.mark.parametrize("role", ["owner", "viewer"])
def test_as_many_queries_beside_a_hundred_as_beside_six(
    make_unit: Callable[..., Unit], as_role, role: str, django_assert_num_queries
):
    client, unit = as_role(role), make_unit("Q-0")
    for number in (6, 100):
        for extra in range(Unit.objects.count(), number):
            make_unit(f"Q-{extra}")
        # Session, person, unit; the lot's stamp, its rows, what was not read of them; photos, changes, their count;
        # its latest receipt; the makers on the lot, for what a title may not claim. Whoever may see money also asks
        # for the yard's rates.
        rates = int(role == "owner")
        with django_assert_num_queries(12 + rates):
            client.get(unit.get_absolute_url())
        with django_assert_num_queries(10 + rates):
            client.get(unit.get_absolute_url())


def test_a_lot_that_changed_a_lot_is_read_whole(make_unit, monkeypatch, django_assert_num_queries):
    unit = make_unit("Q-0")
    for n in range(1, 9):
        make_unit(f"Q-{n}")
    few = company_of(unit)
    monkeypatch.setattr(lot, "FEW", 3)
    monkeypatch.setattr(lot, "_kept", lot._Kept())
    with django_assert_num_queries(3):
        assert company_of(unit) == few
    assert few.count == 8


def test_what_leaves_the_lot_is_forgotten(make_unit):
    unit = make_unit("Q-0")
    gone = [make_unit(f"Q-{n}") for n in range(1, 7)]
    assert company_of(unit).count == 6
    gone[0].delete()
    change_unit(gone[1], trailer_of(gone[1]).model_copy(update={"status": "sold"}), by=None, seen_version=1)
    assert company_of(unit).count == 4
    assert {gone[0].pk, gone[1].pk}.isdisjoint(lot._kept.read)


def test_an_empty_lot(make_unit):
    assert company_of(make_unit("Q-0", status="sold")).told == ()


# ---- measures, roles


def test_metric_for_those_who_read_it(yard, as_role, people):
    people["viewer"].measures = "metric"
    people["viewer"].save()
    words = page(as_role("viewer"), yard["SH-191"])
    assert words.envelope["metric"] is True
    assert "6,976 kg at most" in words.text
    assert not re.search(r"\d lb\b", words.text.split("Every value")[0]), "no pounds are left"


def test_cost_is_not_on_the_page_of_those_who_may_not_see_it(yard, as_role):
    assert "$17,660" in page(as_role("sales"), yard["SH-191"]).text
    for role in ("hand", "viewer"):
        assert "17,660" not in as_role(role).get(yard["SH-191"].get_absolute_url()).content.decode()
