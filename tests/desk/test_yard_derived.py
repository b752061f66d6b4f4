"""What the engine works out of units: when they are saved, for many in one go, and anew when the engine changes."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from desk.conftest import TABLE
from desk.pages import page_form
from rubrail.answers.height import built_columns
from rubrail.desk import derived
from rubrail.desk.demo_yard import load_folder
from rubrail.desk.models import Change, Unit
from rubrail.desk.stock import add_units, trailer_of
from rubrail.things import pack
from rubrail.things.columns import Columns
from rubrail.things.door import read_thing
from rubrail.things.folder import load_yard
from rubrail.things.trailer import Trailer

AXLE = {
    "gawr_lb": 6_000,
    "brakes": "electric",
    "wheel_rating_lb": 4_000,
    "tires": {"count": 2, "family": "ST", "max_load_lb": 4_000, "max_pressure_psi": 80, "pressure_psi": 80},
}
WHOLE = {
    "coupling": {**TABLE["coupling"], "vertical_rating_lb": 1_400, "height_in": 20},
    "weights": {"empty_lb": 3_350, "empty_coupler_lb": 400},
    "suspension": {"kind": "equalized"},
    "axle": [AXLE | {"from_coupler_in": 190}, AXLE | {"from_coupler_in": 224}],
    "deck": {**TABLE["deck"], "front_from_coupler_in": 50, "between_fenders_in": 82},
    "chains": {"count": 2, "strength_lb": 15_000},
}
"""A unit of which all that its own limits need is known."""


def same(a: Columns, b: Columns) -> bool:
    for part, other in ((a.values, b.values), (a.plus_minus, b.plus_minus)):
        assert set(part) == set(other)
        for name in part:
            np.testing.assert_array_equal(np.broadcast_to(part[name], other[name].shape), other[name], err_msg=name)
    for name, words in b.basis.items():
        assert (np.broadcast_to(a.basis[name], words.shape) == words).all(), name
    return True


def test_payload_is_what_the_axles_and_the_coupler_leave(make_unit):
    # By hand: axles rated 2 x 6,000 and a coupler rated 1,400 carry 13,400 gross where both are full at once; less
    # 3,350 empty leaves 10,050. The label would allow 14,000 - 3,350 = 10,650.
    unit = make_unit("W-1", **WHOLE)
    assert unit.payload_lb == pytest.approx(10_050, abs=0.5)
    assert unit.complete


def test_payload_is_what_the_label_leaves_where_the_axles_carry_more(make_unit):
    # By hand: 2 x 7,000 on the axles and 1,400 on the coupler are 15,400, more than the label's 14,000.
    axles = [axle | {"gawr_lb": 7_000} for axle in WHOLE["axle"]]
    assert make_unit("W-2", **WHOLE | {"axle": axles}).payload_lb == pytest.approx(14_000 - 3_350, abs=0.5)


@pytest.mark.parametrize(
    "without",
    [
        {"coupling": {"kind": "ball", "gross_rating_lb": 15_000, "height_in": 20}},
        {"weights": {"empty_coupler_lb": 400}},
        {"ratings": {}},
    ],
    ids=["coupler rating", "empty weight", "label"],
)
def test_a_payload_that_a_missing_rating_may_cut_is_not_known(make_unit, without: dict):
    unit = make_unit("W-3", **WHOLE | without)
    assert unit.payload_lb is None
    assert not unit.complete


def test_a_known_payload_is_not_complete_while_the_deck_is_not_measured(make_unit):
    deck = {k: v for k, v in WHOLE["deck"].items() if k != "width_in"}
    unit = make_unit("W-4", **WHOLE | {"deck": deck})
    assert unit.payload_lb == pytest.approx(10_050, abs=0.5)
    assert not unit.complete


def test_saving_a_rating_works_the_payload_out_again(make_unit, as_role):
    unit = make_unit("W-5", **WHOLE)
    client, url = as_role("hand"), f"/unit/{unit}/edit/"
    client.post(url, page_form(client, url) | {"coupling.vertical_rating_lb": "1,000"})
    # By hand: 12,000 + 1,000 - 3,350
    assert Unit.objects.get().payload_lb == pytest.approx(9_650, abs=0.5)


@pytest.fixture
def yard(db) -> list[Trailer]:
    folder = files("rubrail.demo") / "yard"
    load_folder(folder, by=None)
    return list(load_yard(folder).trailers.values())


def test_packed_columns_of_the_invented_yard_are_those_of_its_files(yard):
    units = {u.stock_number: u for u in Unit.objects.all()}
    in_order = [units[t.id] for t in yard]
    assert all(u.packed and u.derived_by == derived.mark() for u in in_order)
    assert same(derived.columns_of(in_order), built_columns(yard))


def test_many_at_once_are_as_many_one_at_a_time(yard):
    for unit in Unit.objects.all()[:6]:
        [alone] = derived.derived([trailer_of(unit)])
        assert {n: getattr(unit, n) for n in derived.COLUMNS} == alone


def test_a_whole_yard_is_loaded_with_few_queries(db, django_assert_max_num_queries):
    trailers = [read_thing(Trailer, {**TABLE, "id": f"N-{n}"}) for n in range(200)]
    # SQLite takes some thirty units a statement.
    with django_assert_max_num_queries(20):
        units = add_units(trailers, by=None)
    assert Unit.objects.count() == 200
    assert {c.thing for c in Change.objects.filter(action="loaded")} == {u.pk for u in units}


def test_rows_of_another_engine_are_read_from_the_file_and_refilled(yard):
    units = list(Unit.objects.all())
    fresh = {u.pk: (u.payload_lb, u.complete, u.version, u.updated) for u in units}
    right = derived.columns_of(units)
    Unit.objects.filter(pk=units[0].pk).update(packed=b"not a row", derived_by="", payload_lb=1.0)
    Unit.objects.filter(pk=units[1].pk).update(packed=None, payload_lb=None, complete=False, derived_by="elsewhere")
    now = list(Unit.objects.all())
    assert same(derived.columns_of(now), right)
    said: list[str] = []
    assert derived.refill(say=said.append) == 2
    assert said == ["Working out the payload of 2 units."]
    assert {u.pk: (u.payload_lb, u.complete, u.version, u.updated) for u in Unit.objects.all()} == fresh
    assert same(derived.columns_of(Unit.objects.all()), right)
    assert derived.refill(say=said.append) == 0
    assert not Change.objects.filter(action="changed").exists()


def test_refilling_does_not_overwrite_what_somebody_saves_meanwhile(make_unit, monkeypatch):
    unit = make_unit("W-6", **WHOLE)
    Unit.objects.update(derived_by="")
    again = derived._again

    def slowly(units):
        rows = again(units)
        Unit.objects.filter(pk=unit.pk).update(version=9, payload_lb=123.0, derived_by="theirs")
        return rows

    monkeypatch.setattr(derived, "_again", slowly)
    derived.refill()
    assert Unit.objects.values_list("payload_lb", "derived_by").get() == (123.0, "theirs")


def test_a_unit_that_no_longer_reads_has_nothing_known(make_unit):
    good, bad = make_unit("G-1", **WHOLE), make_unit("B-1", **WHOLE)
    Unit.objects.filter(pk=bad.pk).update(spec={"coupling": {"kind": "no such kind"}}, derived_by="")
    columns = derived.columns_of([Unit.objects.get(pk=bad.pk), good])
    assert np.isnan(columns["trailer_gvwr_lb"][0]).all()
    assert columns["axle_present"][:, 0, 0, 0].tolist() == [1.0, 0.0]
    assert columns["trailer_gvwr_lb"][1, 0, 0] == 14_000
    derived.refill()
    bad.refresh_from_db()
    assert (bad.payload_lb, bad.complete, bad.packed) == (None, False, None)


def test_no_units_are_no_columns():
    with pytest.raises(ValueError, match="at least one unit"):
        derived.columns_of([])


def test_unchanged_form_of_a_unit_of_another_engine_is_no_change(make_unit, as_role):
    unit = make_unit("W-7", **WHOLE)
    Unit.objects.update(derived_by="", payload_lb=None)
    client, url = as_role("hand"), f"/unit/{unit}/edit/"
    client.post(url, page_form(client, url))
    assert Unit.objects.get().version == unit.version


def test_the_mark_is_of_everything_the_engine_is(tmp_path, monkeypatch):
    marks = set()
    for text in ("factor = 1\n", "factor = 2\n"):
        for part in derived.PARTS:
            (tmp_path / part).mkdir(parents=True, exist_ok=True)
        (tmp_path / "rules" / "tables").mkdir(exist_ok=True)
        (tmp_path / "rules" / "tables" / "one.toml").write_text(text, "utf-8")
        monkeypatch.setattr(derived, "files", lambda package: tmp_path)
        marks |= {derived.mark.__wrapped__(), derived.mark.__wrapped__()}
    assert len(marks) == 2


def test_a_row_of_nothing_is_all_unknown():
    columns = pack.unpack_rows([pack.unknown_row()])
    assert all(np.isnan(columns[name]).all() for name in pack.TRAILER)
    assert columns["axle_present"].ravel().tolist() == [1.0]
