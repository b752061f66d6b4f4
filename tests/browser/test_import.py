"""A list through all its steps in a real browser, by keyboard, at desk width and on a phone; the yard as a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running

HEAD = "Stock #,Description,GVWR (lbs),Hitch,Axles,Axle rating,Deck length (ft),Salesperson,Price,Received\n"


def list_for(mark: str, unit: str) -> bytes:
    """A list that changes one unit of the yard, adds two, and has two faults."""
    rows = (
        f'{unit},,,,,,,Sal,"$4,321",\n',
        f'{mark}-1,"Tandem equipment, 20 ft",14000,bumper pull,2,7000,20,Sal,9450,3/14/2026\n',
        f"{mark}-2,Gooseneck,23900,gooseneck,2,12000,25 ft 6 in,Sal,,\n",
        f"{mark}-3,Too light,90,ball,1,,12,Sal,,\n",
        f"{mark}-4,No coupling,7000,,2,3500,16,Sal,,\n",
    )
    return (HEAD + "".join(rows)).encode()


def check(page: Page) -> None:
    check_fits(page)
    check_axe(page)
    check_targets(page)
    assert page.locator("h1").count() == 1


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_every_step_by_keyboard(desk: Running, as_role: Callable[..., Page], size: str, scheme: str):
    mark = f"{size[0]}{scheme[0]}".upper()
    unit = {"DL": "SH-131", "PD": "SH-134"}[mark]
    page = as_role("owner", size=size, scheme=scheme)
    page.goto(desk.url + "yard/")
    page.get_by_role("link", name="Import a list").press("Enter")
    expect(page.get_by_role("heading", name="Import a list")).to_be_visible()
    check(page)
    page.get_by_role("button", name="Read it").press("Enter")
    expect(page.get_by_text("No file was chosen.")).to_be_visible()
    page.get_by_label("The file").set_input_files(
        {"name": f"{mark}.csv", "mimeType": "text/csv", "buffer": list_for(mark, unit)}
    )
    page.get_by_role("button", name="Read it").press("Enter")

    expect(page.get_by_role("heading", name="What the columns mean")).to_be_visible()
    check(page)
    expect(page.get_by_label("GVWR (lbs)", exact=True)).to_have_value("Label GVWR")
    expect(page.get_by_label("Unit of Deck length (ft)")).to_have_value("ft")
    expect(page.get_by_label("Salesperson", exact=True)).to_have_value("")
    expect(page.get_by_label("Unit of Salesperson")).to_be_hidden()
    expect(page.get_by_label("Unit of Received")).to_have_value("month/day/year")
    # A unit of another kind is not offered, and the units follow what is written.
    offered = "e => [...e.options].filter(o => !o.hidden).map(o => o.textContent)"
    assert page.get_by_label("Unit of GVWR (lbs)").evaluate(offered) == ["lb", "ton", "kg", "t"]
    received = page.get_by_label("Salesperson", exact=True)
    received.fill("Deck width")
    assert page.get_by_label("Unit of Salesperson").evaluate(offered) == ["in", "ft", "mm", "cm", "m"]
    received.fill("Sales person")
    page.get_by_role("button", name="See what would change").press("Enter")
    expect(received).to_be_focused()
    expect(page.get_by_text('"Sales person" is no column of ours')).to_be_visible()
    check(page)
    received.fill("")
    received.press("Enter")

    expect(page.get_by_role("heading", name="What would change")).to_be_visible()
    expect(page.get_by_text("2 units are new, 1 unit changes, 2 rows have faults.")).to_be_visible()
    expect(
        page.get_by_text('Row 5, column "GVWR (lbs)": label GVWR must be 500 to 200,000 lb, got "90".')
    ).to_be_visible()
    expect(page.get_by_text(f"Row 6 ({mark}-4): coupling must be given")).to_be_visible()
    changed = page.get_by_role("table", name="1 unit changes").get_by_role("row", name=unit)
    expect(changed).to_contain_text("$4,321")
    check(page)
    page.get_by_role("button", name="Write the list").press("Enter")
    expect(page.get_by_role("alert").filter(has_text="Nothing is written")).to_be_visible()
    page.get_by_label(f"Leave out row 5, {mark}-3").press("Space")
    page.get_by_label(f"Leave out row 6, {mark}-4").press("Space")
    page.get_by_role("button", name="Write the list").press("Enter")

    expect(page.get_by_text(f"{mark}.csv is imported: 2 units are new, 1 unit is changed.")).to_be_visible()
    page.goto(f"{desk.url}unit/{mark}-2/edit/")
    expect(page.get_by_role("textbox", name="Level deck")).to_have_value("306")
    page.goto(desk.url + "changes/")
    expect(page.get_by_text(f"Ruth Calder loaded unit {mark}-2 from a file.")).to_be_visible()
    page.goto(f"{desk.url}yard/?words={mark}-")
    expect(page.locator(".yard__number")).to_have_text([f"{mark}-1", f"{mark}-2"])


def test_without_script(desk: Running, as_role: Callable[..., Page]):
    page = as_role("sales", java_script_enabled=False)
    page.goto(desk.url + "yard/import/")
    page.get_by_label("The file").set_input_files(
        {"name": "x.csv", "mimeType": "text/csv", "buffer": b"Stock number;Deck height;Color\nSH-135;61;green\n"}
    )
    page.get_by_role("button", name="Read it").click()
    page.get_by_label("Unit of Deck height").select_option("cm")
    page.get_by_label("Measures and weights").select_option("measured")
    page.get_by_role("button", name="See what would change").click()
    # 61 cm / 2.54 = 24.02 in
    expect(page.get_by_role("row", name="deck height")).to_contain_text("24.02 in (measured")
    page.get_by_role("button", name="Write 1 unit").click()
    expect(page.get_by_text("x.csv is imported: 1 unit is changed.")).to_be_visible()


def test_somebody_saves_meanwhile(desk: Running, as_role: Callable[..., Page], faults: list[str]):
    page, other = as_role("owner"), as_role("sales")
    page.goto(desk.url + "yard/import/")
    page.get_by_label("The file").set_input_files(
        {"name": "y.csv", "mimeType": "text/csv", "buffer": b"Stock number,Color\nSH-141,green\n"}
    )
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="See what would change").click()
    other.goto(desk.url + "unit/SH-141/edit/")
    other.get_by_label("Place on the lot").fill("row Z, 1")
    other.get_by_role("button", name="Save").last.click()
    expect(other.get_by_text("Unit SH-141 is saved.")).to_be_visible()
    page.get_by_role("button", name="Write 1 unit").click()
    expect(page.get_by_text("Changed since you looked: sh-141.")).to_be_visible()
    check(page)
    page.get_by_role("button", name="Write 1 unit").click()
    expect(page.get_by_text("y.csv is imported: 1 unit is changed.")).to_be_visible()
    page.goto(desk.url + "unit/SH-141/")
    expect(page.get_by_text("row Z, 1").first).to_be_visible()
    assert faults == ["Failed to load resource: the server responded with a status of 409 (Conflict)"]
    faults.clear()


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_yard_as_a_file(desk: Running, as_role: Callable[..., Page], size: str, scheme: str, tmp_path: Path):
    page = as_role("viewer", size=size, scheme=scheme)
    page.goto(desk.url + "yard/?words=tilt&status=all")
    page.get_by_role("link", name="as a file").press("Enter")
    expect(page.get_by_role("heading", name="Export the yard")).to_be_visible()
    expect(page.get_by_text("“tilt”")).to_be_visible()
    check(page)
    page.get_by_label("CSV for a program").check()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Take the file").press("Enter")
    file = tmp_path / "yard.csv"
    waiting.value.save_as(file)
    lines = file.read_text("utf-8").splitlines()
    assert waiting.value.suggested_filename.startswith("yard-2")
    assert lines[0].startswith("Stock number,Status,Asking price [USD],Arrived"), "a viewer's file has no cost"
    assert len(lines) == 4, "the heading and the three tilting ones"
