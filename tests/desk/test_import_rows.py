"""Rows against the yard: what a cell stands for, what stays, what changes, and each fault in one sentence."""

from __future__ import annotations

import gc
from datetime import date
from decimal import Decimal

import pytest

from desk.conftest import TABLE
from desk.yards import unit_of
from rubrail.desk.collector import at_rest
from rubrail.desk.lists.cells import How, read_day, read_number, read_plain, units_for
from rubrail.desk.lists.choices import Choices, allowed_for, faults_in
from rubrail.desk.lists.columns import by_key, named
from rubrail.desk.lists.guess import Guess, guess
from rubrail.desk.lists.plan import plan_of
from rubrail.desk.lists.row import Layout
from rubrail.desk.models import Unit
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer


def stored(stock_number: str = "T-1", **changes) -> Unit:
    table = {k: v for k, v in {**TABLE, "id": stock_number, **changes}.items() if v is not None}
    return unit_of(read_thing(Trailer, table), stock_number)


def plan(headings: str, *rows: str, units: tuple[Unit, ...] = (), columns=None, **choices):
    """A plan of rows written with bars between; columns by their headings unless given."""
    names = [h.strip() for h in headings.split("|")]
    found = tuple(guess(names, allowed=allowed_for("owner"))) if columns is None else columns
    layout = Layout(names, Choices(found, **choices))
    cells = [(n, [c.strip() for c in row.split("|")]) for n, row in enumerate(rows, 2)]
    return plan_of(cells, layout=layout, units={u.stock_number.lower(): u for u in units})


def only(headings: str, row: str, **more):
    (outcome,) = plan(headings, row, **more).outcomes
    return outcome


def becomes(headings: str, row: str, **more) -> Trailer:
    outcome = only(headings, row, **more)
    assert outcome.sentences == []
    return outcome.trailer


def faults(headings: str, row: str, **more) -> list[str]:
    outcome = only(headings, row, **more)
    assert outcome.kind == "faulty"
    assert outcome.trailer is None
    return outcome.sentences


NEW = "Stock number | Coupling | Number of axles | "


# what a cell stands for


@pytest.mark.parametrize(
    ("text", "unit", "how", "number"),
    [
        ("102", "in", How(), 102.0),
        ("8 ft 6 in", "in", How(), 102.0),
        ("8.5", "in", How("ft"), 102.0),
        ("2591", "in", How("mm"), 2591 / 25.4),
        ("8 ft 6 in", "in", How("mm"), 102.0),
        ("14,000", "lb", How(), 14_000.0),
        ("7", "lb", How("ton"), 14_000.0),
        ("6350", "lb", How("kg"), 6350 / 0.45359237),
        ("6.350,5", "lb", How("kg", comma=True), 6350.5 / 0.45359237),
        ("24,25", "in", How(comma=True), 24.25),
        ("not known", "in", How(), None),
        ("about knee high", "in", How(), "about knee high"),
    ],
)
def test_numbers(text: str, unit: str, how: How, number):
    # 1 ft = 12 in, 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 ton = 2,000 lb: exact by definition
    read = read_number(text, unit, how)
    assert read == (pytest.approx(number) if isinstance(number, float) else number)


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("2026-03-02", "", date(2026, 3, 2)),
        ("2026-03-02", "day/month/year", date(2026, 3, 2)),
        ("2026-03-02 00:00:00", "", date(2026, 3, 2)),
        ("3/2/2026", "month/day/year", date(2026, 3, 2)),
        ("3/2/2026", "day/month/year", date(2026, 2, 3)),
        ("02.03.26", "day/month/year", date(2026, 3, 2)),
        ("3/2/2026", "", "3/2/2026"),
        ("31/31/2026", "day/month/year", "31/31/2026"),
        ("spring", "", "spring"),
    ],
)
def test_days(text: str, order: str, day):
    assert read_day(text, order) == day


@pytest.mark.parametrize(
    ("key", "text", "value"),
    [
        ("deck.kind", "Deck over", "deck-over"),
        ("deck.kind", "DECK-OVER", "deck-over"),
        ("coupling.kind", "Bumper pull", "ball"),
        ("coupling.kind", "5th wheel", "kingpin"),
        ("coupling.kind", "sideways", "sideways"),
        ("suspension.kind", "torsion", "independent"),
        ("status", "in the yard", "in-stock"),
        ("status", "held for a buyer", "held"),
        ("axle.0.tires.count", "4", 4),
        ("breakaway", "Y", True),
        ("breakaway", "no", False),
        ("breakaway", "perhaps", "perhaps"),
        ("year", "2026", 2026),
        ("year", "2026.0", 2026),
        ("price_usd", "$9,450.50", Decimal("9450.50")),
        ("price_usd", "call us", "call us"),
    ],
)
def test_words(key: str, text: str, value):
    assert read_plain(by_key()[key], text, How()) == value


# which heading means what


@pytest.mark.parametrize(
    ("heading", "key", "unit"),
    [
        ("Stock #", "stock_number", ""),
        ("GVWR (lbs)", "ratings.gvwr_lb", ""),
        ("Gross Vehicle Weight Rating", "ratings.gvwr_lb", ""),
        ("Empty Wt. (kg)", "weights.empty_lb", "kg"),
        ("Deck length ft", "deck.flat_length_in", "ft"),
        ("bed width", "deck.width_in", ""),
        ("Deck height [in]", "deck.height_in", ""),
        ("Axle rating", "axle.*.gawr_lb", ""),
        ("Axle 2 GAWR [lb]", "axle.1.gawr_lb", ""),
        ("Anchor 14 WLL [lb]", "anchor.13.wll_lb", ""),
        ("Empty weight basis", "weights.empty_lb:basis", ""),
        ("Empty weight ± [lb]", "weights.empty_lb:spread", ""),
        ("Crossmember spacing", "frame.crossmember_spacing_in", ""),
        ("Salesperson", "", ""),
        ("Photo 1", "", ""),
    ],
)
def test_headings(heading: str, key: str, unit: str):
    assert guess([heading], allowed=allowed_for("owner")) == [Guess(key, unit)]


def test_no_column_is_guessed_twice_and_the_surest_heading_has_it():
    found = guess(["GVW", "Label GVWR [lb]", "gvwr"], allowed=allowed_for("owner"))
    assert [g.key for g in found] == ["", "ratings.gvwr_lb", ""]


def test_every_guessed_word_names_a_column():
    from rubrail.desk.lists.guess import ALSO

    assert set(ALSO.values()) <= set(by_key())


def test_every_heading_names_its_own_column():
    for column in by_key().values():
        assert named(column.heading) == column
        assert named(column.words.upper()) == column


def test_money_is_not_for_every_role():
    for role, may in (("owner", True), ("sales", True), ("hand", False)):
        allowed = allowed_for(role)
        assert {"price_usd", "cost_usd", "status"}.isdisjoint(allowed) != may
        assert "ratings.gvwr_lb" in allowed


def test_units_are_of_the_columns_own_kind():
    assert units_for(by_key()["ratings.gvwr_lb"]) == ("lb", "ton", "kg", "t")
    assert units_for(by_key()["deck.width_in"]) == ("in", "ft", "mm", "cm", "m")
    assert units_for(by_key()["arrived"])[0] == "year-month-day"
    assert units_for(by_key()["color"]) == ()


# what cannot be chosen


def test_faults_of_the_choices():
    headings, allowed = ["A", "B", ""], allowed_for("hand")
    both = Choices((Guess("color"), Guess("color"), Guess("price_usd")))
    assert faults_in(both, headings, allowed=allowed) == {
        -1: "One column must be the stock number: it tells which unit a row is.",
        1: 'Color is taken from "A" already; leave one of the two out.',
        2: "Your role does not write this column; leave it out.",
    }
    wrong = Choices((Guess("stock_number"), Guess("deck.width_in", "kg")), ratings="hearsay")
    assert faults_in(wrong, headings, allowed=allowed) == {
        1: "The unit of deck width must be one of in, ft, mm, cm, m, not kg.",
        -1: "What the numbers rest on must be one of label, weighed, measured, maker, estimated, typical.",
    }


# what stays and what changes


def test_an_empty_cell_leaves_and_the_words_take_away():
    headings = "Stock number | Label GVWR | Color | Deck height"
    assert only(headings, "T-1 | | | ", units=(stored(),)).kind == "same"
    it = becomes(headings, "T-1 | not known | unknown | not known", units=(stored(),))
    assert (it.ratings.gvwr_lb, it.color, it.deck.height_in) == (None, None, None)
    assert it.weights.empty_lb.number == 3350


def test_taking_away_what_is_not_there_is_no_change():
    assert only("Stock number | VIN", "T-1 | not known", units=(stored(),)).kind == "same"


def test_a_word_that_is_stored_stays_though_it_would_take_away():
    assert only("Stock number | Color", "T-1 | unknown", units=(stored(color="unknown"),)).kind == "same"


def test_stock_numbers_are_one_units_however_they_are_capitalized():
    it = becomes("Stock number | Color", "t-1 | red", units=(stored(),))
    assert (it.id, it.color) == ("T-1", "red")


def test_a_like_number_keeps_its_basis_and_tolerance_and_another_takes_the_files():
    headings = "Stock number | Deck height"
    assert only(headings, "T-1 | 24.25", units=(stored(),), measured="estimated").kind == "same"
    assert only(headings, "T-1 | 2 ft 0.25 in", units=(stored(),), measured="estimated").kind == "same"
    height = becomes(headings, "T-1 | 25", units=(stored(),), measured="maker").deck.height_in
    # a maker's height is off by up to 1 in: quantity.basis.TOLERANCES
    assert (height.number, height.basis, height.plus_minus) == (25, "maker", 1)


def test_ratings_and_measures_have_a_basis_each():
    it = becomes(
        NEW + "Label GVWR | Deck width | Coupling ball size",
        "N-1 | ball | 2 | 14000 | 82 | 2",
        measured="weighed",
        ratings="maker",
    )
    assert (it.ratings.gvwr_lb.basis, it.deck.width_in.basis, it.coupling.ball_size_in.basis) == (
        "maker",
        "weighed",
        "weighed",
    )


def test_a_basis_of_its_own_and_a_tolerance_of_its_own():
    headings = "Stock number | Deck height basis | Deck height ±"
    height = becomes(headings, "T-1 | estimated | 2", units=(stored(),)).deck.height_in
    assert (height.number, height.basis, height.plus_minus) == (24.25, "estimated", 2)
    assert only(headings, "T-1 | measured | 0.75", units=(stored(),)).kind == "same"
    # measured, and nothing said of the tolerance: the stored one is kept
    assert only("Stock number | Deck height basis", "T-1 | measured", units=(stored(),)).kind == "same"
    # another basis carries its own: estimated heights 1 in
    height = becomes("Stock number | Deck height basis", "T-1 | estimated", units=(stored(),)).deck.height_in
    assert height.plus_minus == 1


def test_a_basis_without_a_number_says_nothing():
    assert only("Stock number | Neck swing basis", "T-1 | measured", units=(stored(),)).kind == "same"


def test_every_axle_and_one_that_is_another():
    it = becomes(NEW + "Every axle GAWR | Axle 2 GAWR", "N-1 | gooseneck | 3 | 7000 | 8000")
    assert [a.gawr_lb.number for a in it.axle] == [7000, 8000, 7000]


def test_fewer_axles_and_more_ramps():
    it = becomes("Stock number | Number of axles | Ramp 1 kind", "T-1 | 1 | flip-over", units=(stored(),))
    assert (len(it.axle), it.ramp[0].kind, it.ramp[0].count) == (1, "flip-over", 2)


def test_ramps_are_taken_away_by_their_number():
    unit = stored(ramp=[{"kind": "gate"}, {"kind": "slide-in"}])
    assert [r.kind for r in becomes("Stock number | Number of ramps", "T-1 | 1", units=(unit,)).ramp] == ["gate"]
    assert becomes("Stock number | Number of ramps", "T-1 | 0", units=(unit,)).ramp == ()


def test_units_of_the_file():
    columns = (Guess("stock_number"), Guess("coupling.kind"), Guess("axle:count"), Guess("weights.empty_lb", "kg"))
    it = becomes("a | b | c | d", "N-1 | ball | 1 | 1.500,5", columns=columns, comma=True)
    assert it.weights.empty_lb.number == pytest.approx(1500.5 / 0.45359237)


def test_units_that_are_not_in_the_list_are_counted_and_nothing_more():
    p = plan("Stock number | Color", "T-1 | red", units=(stored(), stored("T-2"), stored("T-3")))
    assert (p.absent, p.counts["changed"], len(p.outcomes)) == (2, 1, 1)


# faults, word by word


@pytest.mark.parametrize(
    ("headings", "row", "said"),
    [
        (
            "Stock number | Label GVWR",
            "T-1 | 90",
            'Row 2, column "Label GVWR": label GVWR must be 500 to 200,000 lb, got "90".',
        ),
        (
            "Stock number | GVW",
            "T-1 | heavy",
            'Row 2, column "GVW": label GVWR must be a weight such as 14000, "14,000 lb", "7 tons" or "6,350 kg", '
            'got "heavy" (it is not a number with a unit).',
        ),
        (
            "Stock number | Deck width",
            "T-1 | 82 kg",
            'Row 2, column "Deck width": deck width must be a length such as 102, "102 in", "8 ft 6 in" or "2.6 m", '
            'got "82 kg" (it is a weight, and a length is wanted).',
        ),
        (
            "Stock number | Deck length (ft)",
            "T-1 | 240",
            'Row 2, column "Deck length (ft)": level deck length must be 24 to 720 in, got "240 ft".',
        ),
        (
            "Stock number | Coupling",
            "T-1 | sideways",
            'Row 2, column "Coupling": coupling must be one of ball, gooseneck, kingpin, pintle, got "sideways".',
        ),
        (
            "Stock number | Coupling",
            "T-1 | not known",
            'Row 2, column "Coupling": coupling must be given: one of ball, gooseneck, kingpin, pintle, '
            'got "not known".',
        ),
        (
            "Stock number | Axle 2 brakes",
            "T-1 | drum",
            'Row 2, column "Axle 2 brakes": axle 2 brakes must be one of none, electric, electric-over-hydraulic, '
            'surge, air, got "drum".',
        ),
        (
            "Stock number | Breakaway brake",
            "T-1 | perhaps",
            'Row 2, column "Breakaway brake": breakaway brake must be yes or no, got "perhaps".',
        ),
        (
            "Stock number | Price",
            "T-1 | call us",
            'Row 2, column "Price": asking price must be dollars such as 21450 or "$21,450.50", got "call us" '
            "(it is not an amount).",
        ),
        (
            "Stock number | Arrived",
            "T-1 | 3/14/2026",
            'Row 2, column "Arrived": arrived must be a day written year-month-day, such as 2026-03-14, '
            'got "3/14/2026".',
        ),
        (
            "Stock number | Model year",
            "T-1 | 1066",
            'Row 2, column "Model year": model year must be at least 1950, got "1066".',
        ),
        (
            "Stock number | Status",
            "T-1 | not known",
            'Row 2, column "Status": status must be one of in-stock, on-order, held, sold, retired, got "not known".',
        ),
        (
            "Stock number | Empty weight",
            "T-1 | 15000",
            'Row 2, column "Empty weight": empty weight must be at most label GVWR (14,000 lb), got "15000".',
        ),
        (
            "Stock number | Label GVWR",
            "T-1 | 3000",
            "Row 2 (T-1): empty weight must be at most label GVWR (3,000 lb), got 3,350.",
        ),
        (
            "Stock number | Deck height basis",
            "T-1 | hearsay",
            'Row 2, column "Deck height basis": deck height basis must be one of label, weighed, measured, maker, '
            'estimated, typical, got "hearsay".',
        ),
        (
            "Stock number | Deck height ±",
            "T-1 | -1",
            'Row 2, column "Deck height ±": deck height ± must be 0 in or more, got "-1".',
        ),
        (
            "Stock number | Number of axles",
            "T-1 | 7",
            'Row 2, column "Number of axles": number of axles must be a whole number, 1 to 6, got "7".',
        ),
        (
            "Stock number | Number of axles | Axle 2 brakes",
            "T-1 | 1 | none",
            'Row 2, column "Axle 2 brakes": axle 2 brakes must be left out, because number of axles is 1, got "none".',
        ),
        (
            "Stock number | Ramp 2 length",
            "T-1 | 60",
            "Row 2 (T-1): ramp 1 kind must be given: one of stand-up, flip-over, slide-in, full-width, gate, bi-fold.",
        ),
        (
            "Stock number | Label GVWR",
            "T-1 | #REF!",
            'Row 2, column "Label GVWR": label GVWR must be a value, got "#REF!" '
            "(the spreadsheet found no result there).",
        ),
        (
            "Stock number | Color",
            " | red",
            'Row 2, column "Stock number": stock number must be given: it tells which unit the row is of.',
        ),
        (
            "Stock number | Color",
            "T 1 | red",
            'Row 2, column "Stock number": stock number must be up to 64 letters, digits, dots, hyphens and '
            'underscores, got "T 1".',
        ),
    ],
)
def test_fault_sentences(headings: str, row: str, said: str):
    assert said in faults(headings, row, units=(stored(),))


def test_a_new_unit_needs_its_coupling_and_its_axles():
    assert faults("Stock number | Label GVWR", "N-1 | 14000") == [
        "Row 2 (N-1): number of axles must be given: a whole number, 1 to 6.",
        "Row 2 (N-1): coupling must be given: one of ball, gooseneck, kingpin, pintle.",
    ]


def test_all_faults_of_a_row_at_once():
    said = faults(NEW + "Label GVWR | Deck width | Arrived", "N-1 | x | many | 1 | 1 | never")
    assert len(said) == 5, said


def test_a_stock_number_in_two_rows_is_a_fault_of_both_until_one_is_left_out():
    headings, rows = "Stock number | Color", ("T-1 | red", "t-1 | blue", "T-2 | green")
    p = plan(headings, *rows, units=(stored(), stored("T-2")))
    assert [o.kind for o in p.outcomes] == ["faulty", "faulty", "changed"]
    assert p.outcomes[0].sentences == [
        'Row 2, column "Stock number": stock number must be in one row only, and row 3 has it too, got "T-1".'
    ]
    layout = Layout(["Stock number", "Color"], Choices((Guess("stock_number"), Guess("color"))))
    cells = [(n, [c.strip() for c in row.split("|")]) for n, row in enumerate(rows, 2)]
    again = plan_of(cells, layout=layout, units={"t-1": stored(), "t-2": stored("T-2")}, left={3})
    assert [o.kind for o in again.outcomes] == ["changed", "left", "changed"]


def test_what_is_stored_and_does_not_read_any_more_is_told_by_row():
    unit = stored()
    unit.spec["deck"]["width_in"]["value"] = 1.0
    assert only("Stock number | Color", "T-1 | black", units=(unit,)).kind == "same", (
        "nothing is written, so nothing is said"
    )
    assert faults("Stock number | Color", "T-1 | red", units=(unit,)) == [
        "Row 2 (T-1): deck width must be 30 to 144 in, got 1."
    ]


def test_the_mark_moves_with_the_units_and_the_choices():
    one, other = stored(), stored()
    other.version = 2
    marks = {
        plan("Stock number | Color", "T-1 | red", units=units, **more).mark
        for units, more in [((), {}), ((one,), {}), ((other,), {}), ((one,), {"measured": "typical"})]
    }
    assert len(marks) == 4


def test_the_collector_goes_on_when_the_last_who_let_it_rest_is_done_whatever_happened():
    with at_rest():
        with pytest.raises(ZeroDivisionError), at_rest():
            1 / 0  # noqa: B018
        assert not gc.isenabled(), "another import is still at work"
    assert gc.isenabled()


def test_alike_cells_against_unlike_units_are_each_worked_out():
    one, other = stored("T-1"), stored("T-2", weights={"empty_lb": {"value": 3_100, "basis": "maker"}})
    found = plan("Stock | Empty weight", "T-1 | 3350", "T-2 | 3350", "T-3 | 3350", units=(one, other)).outcomes
    assert [o.kind for o in found] == ["same", "changed", "faulty"]
    weight = found[1].trailer.weights.empty_lb
    assert (weight.number, weight.basis) == (3_350, "estimated")
