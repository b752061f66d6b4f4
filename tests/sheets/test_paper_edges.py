"""The longest and the shortest contents, what is drawn on a sheet read back from its picture, and what is left out."""

import io
import shutil
import subprocess
from dataclasses import replace

import pytest
import segno
from PIL import Image

from answers.yard import haul, yard
from rubrail.sheets.paper import made
from rubrail.sheets.paper.press import press
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer
from sheets.papers import RATES, STAMP, needs_poppler, outside, told, words

pytestmark = needs_poppler
DPI = 300
SHORTEST = {"schema": "rubrail/trailer/1", "id": "X", "coupling": {"kind": "ball"}, "axle": [{}]}
WORDS = "extra heavy deck-over gooseneck with hydraulic dovetail, winch plate and two toolboxes between the uprights"


def longest() -> Trailer:
    """The longest unit of the yard with the longest names a file may hold."""
    it = yard().trailers["SH-194"]
    return it.model_copy(
        update={
            "title": WORDS,
            "maker": "Quarrant-Tarnbeck and Pellamy together",
            "model": "M" * 40,
            "color": WORDS[:60],
        }
    )


def long_haul() -> Haul:
    """Three machines under the longest names."""
    it = haul("04-three-machines")
    return it.model_copy(update={"title": f"{WORDS}; {WORDS}"[:160]})


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("on", ["letter", "a4"])
def test_the_longest_contents_stay_on_their_pages(on, metric):
    it, load, stamp = longest(), long_haul(), replace(STAMP, link=STAMP.link + "?x=" + "9" * 200)
    sheets = {
        "window": (1, made.window(it, stamp=stamp, rates=RATES, metric=metric)),
        "spec": (3, made.spec(it, stamp=stamp, metric=metric)),
        "plan": (7, made.plan(load, it, kit=yard().kit, stamp=stamp, metric=metric)),
        "card": (1, made.card(load, it, stamp=stamp, metric=metric)),
        "thresholds": (1, made.thresholds(load, it, stamp=stamp, metric=metric)),
        "tax": (2, made.tax(it, rates=RATES, stamp=stamp, metric=metric)),
        "compare": (1, made.comparison(load, [it, *(yard().trailers[s] for s in ("SH-191", "SH-212", "SH-103"))],
                                       stamp=stamp, metric=metric)),
    }  # fmt: skip
    for name, (most, paper) in sheets.items():
        pdf = press(paper, on=on)
        pages, found = words(pdf)
        assert len(pages) <= most, name
        assert outside(pdf) == [], name
        least = min(w.y2 - w.y1 for w in found)
        assert least > 3.5, f"{name} is set too small to be read: {least:.1f} pt"


@pytest.mark.parametrize("on", ["letter", "a4"])
def test_the_shortest_contents_say_not_known_and_never_a_number(on):
    it = read_thing(Trailer, SHORTEST)
    load, stamp = haul("01-mowing-round"), made.Stamp()
    for maker in (made.window, made.spec):
        pdf = press(maker(it, stamp=stamp), on=on)
        assert outside(pdf) == []
        assert "not known" in told(pdf)
    for maker in (made.plan, made.card, made.thresholds):
        pdf = press(maker(load, it, stamp=stamp), on=on)
        assert outside(pdf) == []
        assert "not known" in told(pdf).lower()
    assert "not known" in told(press(made.tax(it, rates=RATES, stamp=stamp), on=on))


def test_a_window_sheet_of_an_unknown_unit_vouches_for_nothing():
    it = read_thing(Trailer, SHORTEST)
    big = dict(next(b for b in made.window(it, stamp=STAMP).blocks if b.kind == "big").rows)
    assert set(big.values()) == {"not known"}


@pytest.mark.parametrize("on", ["letter", "a4"])
@pytest.mark.parametrize("link", [STAMP.link, "https://yard.example/haul/3/on/SH-194/?p=0-0&x=30.125&w=front-first"])
def test_the_code_on_the_page_has_every_module_of_its_address(on, link):
    """Sampled from the page's picture against the standard encoder's matrix; no second decoder is at hand."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    pdf = press(made.card(haul("01-mowing-round"), yard().trailers["SH-103"], stamp=replace(STAMP, link=link)), on=on)
    png = subprocess.run(["pdftoppm", "-r", str(DPI), "-png", "-gray", "-singlefile", "-"], input=pdf,
                         capture_output=True, check=True).stdout  # fmt: skip
    page = Image.open(io.BytesIO(png)).convert("L")
    mm = DPI / 25.4
    corner = (int(page.width - 38 * mm), int(10 * mm), int(page.width - 13 * mm), int(33.4 * mm))
    code = page.crop(corner).point(lambda v: 255 if v < 128 else 0)
    code = code.crop(code.getbbox())
    matrix = [list(row) for row in segno.make(link, error="m", micro=False).matrix]
    n = len(matrix)
    assert abs(code.width - code.height) <= 2
    assert code.width / mm == pytest.approx(19, abs=0.5)
    for y, row in enumerate(matrix):
        for x, dark in enumerate(row):
            at = (int((x + 0.5) * code.width / n), int((y + 0.5) * code.height / n))
            assert bool(code.getpixel(at)) == bool(dark), (x, y)
