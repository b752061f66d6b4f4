"""``rubrail paper`` from a terminal: every sort, both papers, and one sentence for each wrong word."""

import re

import pytest

from cli.terminal import run
from rubrail.cli.given import demo_folder
from sheets.papers import needs_poppler, told, words

NAMES = {
    "window": ["SH-191"],
    "spec": ["SH-191"],
    "tax": ["SH-212"],
    "plan": ["04-three-machines", "SH-194"],
    "card": ["04-three-machines", "SH-194"],
    "thresholds": ["04-three-machines", "SH-194"],
    "compare": ["04-three-machines", "SH-194", "SH-212"],
    "order": ["GN-2505"],
    "labels": ["SH-191", "SH-212"],
    "weather": ["SH-191", "SH-212"],
    "checklist": ["SH-191"],
    "hand-over": ["03-landscaper-track-loader", "SH-133"],
    "walk": ["SH-133", "03-landscaper-track-loader"],
    "receiving": ["SH-203", "SH-191", "SH-191"],
}


@needs_poppler
@pytest.mark.parametrize("sort", NAMES)
def test_every_sort_is_written(sort, tmp_path):
    out = tmp_path / "sheet.pdf"
    ended = run("paper", sort, *NAMES[sort], "--yard", "demo", "--a4", "--metric", "--out", str(out))
    assert ended.code == 0
    assert "is written" in ended.out
    pdf = out.read_bytes()
    assert sorted(words(pdf)[0][0]) == pytest.approx([595.28, 841.89], abs=1)
    assert all(n in told(pdf) for n in NAMES[sort] if n.startswith(("SH-", "GN-")))


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["poster", "SH-191"], "SORT must be one of window, spec, tax, plan"),
        (["plan", "04-three-machines"], "NAME for plan must be HAUL, TRAILER, got 1"),
        (["window", "SH-999"], "TRAILER must be a trailer file or the id of a unit"),
        (["spec", "SH-191", "--at", "60"], "--at says where cargo stands, and spec has none"),
        (["order", "GN-2505", "no-such-option"], "no-such-option"),
        (["window", "SH-191", "--out", "nowhere/at/all/x.pdf"], "cannot be written"),
        (["spec", "SH-191", "--link", "javascript:alert(1)"], "--link must be an address such as https://"),
    ],
)
def test_a_wrong_word_is_told(words, says):
    ended = run("paper", *words, "--yard", "demo")
    assert ended.code == 2
    assert says in " ".join(ended.err.split())


@needs_poppler
def test_a_title_that_claims_too_much_is_not_printed_and_the_terminal_says_why(tmp_path):
    file, out = tmp_path / "boast.toml", tmp_path / "sheet.pdf"
    unit = demo_folder() / "trailers" / "deck-over-20ft.toml"
    text = unit.read_text("utf-8")
    file.write_text(re.sub(r"(?m)^title = .*$", 'title = "Tows anything, no CDL needed"', text), "utf-8")
    ended = run("paper", "window", str(file), "--out", str(out))
    assert ended.code == 0
    assert "leave out the unit's title" in ended.err
    assert "“Tows anything” is refused" in ended.err
    sheet = told(out.read_bytes())
    assert "anything" not in sheet
    assert "deck-over trailer, 20 ft" in sheet
