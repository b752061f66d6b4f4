"""The press: every kind of block is set on both papers, in our type alone, and says what it was given."""

import io
import re
import shutil
import subprocess

import pytest

from rubrail.sheets.paper.blocks import Big, Break, Drawing, Facts, Paper, Signatures, Steps, Table, Words
from rubrail.sheets.paper.press import FORMATS, PressError, fonts, press, qr

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="20">'
    '<text x="5" y="15" font-family="Source Sans Pro">drawn</text></svg>'
)
EVERY = Paper(
    sort="Window sheet",
    title="Gooseneck #25 *ft* $wide$ <a> \\ _x_",
    blocks=(
        Drawing(SVG, "a word", caption="captioned"),
        Big((("Label GVWR", "22,500 lb"),)),
        Facts((("Stock number", "SH-191"), ("VIN", "")), heading="What it is"),
        Table(("Limit", "Is"), (("Truck", "1 lb"), ("Coupler", "2 lb")), marks=("clear", "over"), strong=(0,)),
        Table(("Limit",), (("Rear axle",), ("Tires",)), marks=("depends", "not known")),
        Steps(("Chock the wheels",), heading="Loading"),
        Steps(("Latched",), ticks=True, columns=2),
        Signatures(("Buyer, date",)),
        Break(),
        Words(("On the next page.",), quiet=True),
    ),
    lead="Clear: it carries them.",
    verdict="clear",
    yard="Sedge Hollow",
    date="Nov 25, 2026",
    link="https://yard.example/unit/SH-191/",
    link_says="this unit",
    foot="Ratings govern.",
)
needs_text = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")


def text_of(pdf: bytes) -> str:
    return subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout.decode()


@needs_text
@pytest.mark.parametrize("on", FORMATS)
def test_every_block_says_what_it_was_given(on):
    said = text_of(press(EVERY, on=on))
    for word in ("Window sheet", "Gooseneck #25 *ft* $wide$ <a> \\ _x_", "drawn", "captioned", "22,500 lb", "SH-191"):
        assert word in said
    for word in (
        "What it is",
        "Coupler",
        "Rear axle",
        "Chock the wheels",
        "Latched",
        "Buyer, date",
        "1 of 2",
        "2 of 2",
    ):
        assert word in said
    assert said.index("On the next page.") > said.index("1 of 2")


@needs_text
def test_only_our_type_is_in_it():
    fontless = shutil.which("pdffonts")
    if fontless is None:
        pytest.skip("pdffonts is not installed")
    told = subprocess.run(["pdffonts", "-"], input=press(EVERY), capture_output=True, check=True).stdout.decode()
    names = {line.split()[0].partition("+")[2] for line in told.splitlines()[2:]}
    assert names
    assert all(name.startswith("SourceSansPro") for name in names)


def test_the_same_sheet_is_the_same_pdf():
    assert press(EVERY) == press(EVERY)


def test_a_long_word_and_a_long_table_stay_on_the_page():
    rows = tuple((f"row {n} " + "x" * 40, "y" * 12) for n in range(120))
    pdf = press(Paper("Spec sheet", "t" * 90, (Table(("a", "b"), rows),)))
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) > 1


def test_an_unknown_format_is_refused():
    with pytest.raises(PressError, match="letter, a4"):
        press(EVERY, on="a5")


def test_the_type_is_there_in_static_cuts():
    names = {p.name for p in fonts().iterdir()}
    assert {"SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf", "SourceSansPro-Bold.ttf"} <= names


def test_a_code_is_drawn_for_every_link():
    assert qr("https://yard.example/q/" + "a" * 43).startswith("<svg")
    assert io.StringIO(qr("x")).read().count("<path") == 1
