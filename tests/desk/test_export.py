"""The yard as a file: what it holds, that none of it is taken for a formula, that importing it changes nothing."""

from __future__ import annotations

import csv
import io
import json

import openpyxl
import pytest
from django.urls import reverse
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

from desk.yards import LETTERS, trailers, unit_of
from rubrail.desk.lists.choices import Choices, allowed_for, faults_in
from rubrail.desk.lists.guess import guess
from rubrail.desk.lists.plan import plan_of
from rubrail.desk.lists.reading import read_sheet
from rubrail.desk.lists.row import Layout
from rubrail.desk.lists.writing import csv_of, list_of, workbook_of
from rubrail.desk.stock import take_apart
from rubrail.sheets.cells import BEGINS_A_FORMULA, guard, unguard

# A failing trailer is told as it is: making it smaller takes minutes, and it is written out in full anyway.
QUICKLY = settings(
    max_examples=15,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)
FILES = {
    "marked": lambda columns, rows: csv_of(columns, rows, marked=True),
    "plain": lambda columns, rows: csv_of(columns, rows, marked=False),
    "workbook": workbook_of,
}


def taken_back(data: bytes, units: dict):
    """What importing a file would do to these units, with nothing asked: the columns by their headings."""
    sheet = read_sheet(data, name="yard")
    allowed = allowed_for("owner")
    choices = Choices(tuple(guess(sheet.headings, allowed=allowed)))
    assert all(c.key for c in choices.columns), "every heading of ours is known"
    assert faults_in(choices, sheet.headings, allowed=allowed) == {}
    return plan_of(sheet.rows, layout=Layout(sheet.headings, choices), units=units)


@pytest.mark.parametrize("kind", sorted(FILES))
@given(first=trailers(), second=trailers())
@QUICKLY
def test_what_is_exported_and_imported_again_changes_nothing(kind: str, first, second):
    units = {"a-1": unit_of(first, "A-1"), "b-2": unit_of(second, "B-2")}
    plan = taken_back(FILES[kind](*list_of(units.values(), role="owner")), units)
    assert [o.sentences for o in plan.outcomes if o.faults] == []
    assert plan.counts["same"] == 2


@pytest.mark.parametrize("kind", ["plain", "workbook"])
@given(trailer=trailers())
@QUICKLY
def test_an_export_holds_everything(kind: str, trailer):
    unit = unit_of(trailer, "A-1")
    plan = taken_back(FILES[kind](*list_of([unit], role="owner")), {})
    assert [o.sentences for o in plan.outcomes if o.faults] == []
    again = take_apart(plan.outcomes[0].trailer)
    for name in ("status", "price_usd", "cost_usd", "arrived", "color", "location"):
        assert again[name] == getattr(unit, name), name
    assert near(json.loads(json.dumps(again["spec"]))) == near(unit.spec)


def near(value):
    """A spec with numbers to twelve digits: a spreadsheet keeps fifteen."""
    if isinstance(value, dict):
        return {name: near(part) for name, part in value.items()}
    if isinstance(value, list):
        return [near(part) for part in value]
    return float(f"{value:.12g}") if isinstance(value, float) else value


@given(st.text(LETTERS, max_size=20))
@example("'=1")
@example("''=1")
@example("=1")
@example("-")
@example("\t=1")
def test_a_guarded_text_is_no_formula_and_comes_back(text: str):
    guarded = guard(text)
    assert unguard(guarded) == text
    assert not guarded or guarded[0] not in "=+-@\t\r\n＝＋－＠"


def test_formulas_in_csv_are_text_and_numbers_stay_numbers(make_unit):
    unit = make_unit(title="=cmd|' /C calc'!A0", color="@blue", location="-5 row", notes="+1 555 0100")
    columns, rows = list_of([unit], role="owner")
    row = next(csv.DictReader(io.StringIO(csv_of(columns, rows, marked=False).decode())))
    assert row["What it is"] == "'=cmd|' /C calc'!A0"
    assert row["Color"] == "'@blue"
    assert row["Place on the lot"] == "'-5 row"
    assert row["Notes"] == "'+1 555 0100"
    assert row["Label GVWR [lb]"] == "14000"


def test_a_negative_number_is_no_formula(make_unit):
    unit = make_unit(size={"front_from_coupler_in": -12.5})
    columns, rows = list_of([unit], role="owner")
    row = next(csv.DictReader(io.StringIO(csv_of(columns, rows, marked=False).decode())))
    assert row["Coupler to front [in]"] == "-12.5"


def test_workbook_keeps_kinds(make_unit):
    unit = make_unit(title="=1+1")
    book = openpyxl.load_workbook(io.BytesIO(workbook_of(*list_of([unit], role="owner"))))
    sheet = book.active
    cells = {head.value: cell for head, cell in zip(sheet[1], sheet[2], strict=True)}
    title = cells["What it is"]
    assert (title.value, title.data_type, title.quotePrefix) == ("=1+1", "s", True)
    assert cells["Label GVWR [lb]"].value == 14_000
    assert cells["Arrived"].is_date
    assert sheet.freeze_panes == "B2"


def test_headings_carry_the_unit_and_the_basis_stands_beside(make_unit):
    columns, rows = list_of([make_unit()], role="owner")
    said = dict(zip([c.heading for c in columns], rows[0], strict=True))
    # the fixture's own numbers
    assert said["Deck height [in]"] == 24.25
    assert said["Deck height basis"] == "measured"
    assert said["Deck height ± [in]"] == 0.75
    assert said["Empty weight [lb]"] == 3350
    assert said["Empty weight basis"] == "weighed"
    assert "Empty weight ± [lb]" not in said, "40 lb is what a scale ticket carries anyway"
    assert said["Number of axles"] == 2
    assert said["Axle 2 GAWR [lb]"] == 7000


@pytest.mark.parametrize("role", ["owner", "sales", "hand", "viewer"])
@pytest.mark.parametrize("file", ["workbook", "csv", "plain"])
def test_cost_only_for_those_who_may_see_it(unit, as_role, role: str, file: str):
    answer = as_role(role).get(reverse("yard-export"), {"file": file, "columns": "every"})
    assert answer.status_code == 200
    sheet = read_sheet(answer.content, name="x")
    assert ("Cost [USD]" in sheet.headings) == (role in ("owner", "sales"))
    assert any(c.startswith("7800") for c in sheet.rows[0][1]) == (role in ("owner", "sales"))


def test_file_as_the_address_finds(make_unit, as_role):
    make_unit("A-1", color="red")
    make_unit("A-2", color="blue")
    make_unit("A-3", color="red", status="sold")
    ask = as_role("viewer").get

    def numbers(**asked):
        data = ask(reverse("yard-export"), {"file": "plain", **asked}).content
        return [cells[0] for _, cells in read_sheet(data, name="x").rows]

    assert numbers() == ["A-1", "A-2"]
    assert numbers(words="red") == ["A-1"]
    assert numbers(words="red", status="all") == ["A-1", "A-3"]
    assert numbers(sort="-unit") == ["A-2", "A-1"]
    make_unit("A-4", ratings=None)
    assert numbers(gvwr="15000") == ["A-1", "A-2"], "what is not known is left out of the list, and so of the file"
    assert numbers(gvwr="15000", unknown="on") == ["A-1", "A-2", "A-4"]
    page = ask(reverse("yard-export"), {"words": "red"}).content.decode()
    assert "1 unit, one row each" in page
    assert 'name="words" value="red"' in page, "the file asked for on the page is of the same units"


def test_file_is_named_and_typed(unit, as_role):
    answer = as_role("viewer").get(reverse("yard-export"), {"file": "csv"})
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"].startswith('attachment; filename="yard-2')
    assert answer.content.startswith(b"\xef\xbb\xbf")
    assert not as_role("viewer").get(reverse("yard-export"), {"file": "plain"}).content.startswith(b"\xef")


def test_as_many_queries_for_one_as_for_many(make_unit, as_role, django_assert_num_queries):
    client = as_role("viewer")
    make_unit("A-0")
    with django_assert_num_queries(4):
        client.get(reverse("yard-export"), {"file": "plain"})
    for n in range(1, 30):
        make_unit(f"A-{n}")
    with django_assert_num_queries(4):
        client.get(reverse("yard-export"), {"file": "plain"})


def test_an_empty_yard_has_headings_and_no_rows(as_role):
    data = as_role("viewer").get(reverse("yard-export"), {"file": "plain"}).content.decode()
    assert data.startswith("Stock number,Status,")
    assert len(data.splitlines()) == 1


def test_every_dangerous_beginning_is_known():
    for sign in "=+-@\t\r\n":
        assert BEGINS_A_FORMULA.match(f"{sign}1")
