"""``rubrail receive`` and ``rubrail vin`` from a terminal: how they end, and one sentence for each wrong word."""

from __future__ import annotations

import pytest

from cli.terminal import YARD, answer, run

GOOD = "1Z9MG2522TAZ47022"
SOURCE = (YARD / "trailers" / "gooseneck-25ft-dual.toml").read_text("utf-8")


@pytest.fixture
def files(tmp_path):
    """A delivery that is not what was ordered: label 25,000 ordered and 22,500 received, 7,950 empty, no spare."""
    came = SOURCE.replace("empty_lb = 7120", "empty_lb = 7950")
    assert came != SOURCE
    spare = '[[equipment]]\ntag = "spare-tire"\nsays = "spare tire"\n'
    ordered = came.replace("gvwr_lb = 22500", "gvwr_lb = 25000").replace(f'vin = "{GOOD}"\n', "") + f"\n{spare}"
    paths = tmp_path / "ordered.toml", tmp_path / "received.toml"
    for path, text in zip(paths, (ordered, came), strict=True):
        path.write_text(text, "utf-8")
    return [str(p) for p in paths]


def test_a_delivery_that_is_short_is_refused(files):
    ended = run("receive", *files, "--papers", files[1], "--need", "16,950 lb")
    said = " ".join(ended.out.split())
    assert ended.code == 1
    assert (
        "Refuse as it stands: a buyer waits to put 16,950 lb on it, and it carries 14,550 lb: 2,400 lb short." in said
    )
    assert "Spare tire: ordered spare tire, received not there." in said
    assert (
        "What costs most by itself: label GVWR, 25,000 lb ordered and 22,500 lb received, −2,500 lb by label." in said
    )
    assert "The person who signs decides" in said


def test_the_same_with_nobody_waiting_is_accepted_with_exceptions(files):
    ended = run("receive", *files, "--papers", files[1])
    assert ended.code == 3
    assert ended.out.startswith("◐ Accept with exceptions: label GVWR: ordered 25,000 lb, received 22,500 lb.")


def test_a_unit_as_ordered_is_accepted_with_what_is_open_beside_it(files):
    ended = run("receive", files[1], files[1], "--papers", files[1], "--cargo", "14,000 lb")
    assert ended.code == 0
    assert "Not known yet: rear impact guard or an exclusion." in " ".join(ended.out.split())


def test_json_says_the_same(files):
    told = answer(run("receive", *files, "--papers", files[1], "--need", "16950", "--json").out)
    assert told["answer"]["proposed"] == "refuse"
    assert told["answer"]["short_lb"] == pytest.approx(2_400)
    assert [p["received_lb"] for p in told["answer"]["payload"] if p["key"] == "label"] == [14_550]


def test_a_frame_that_reads_otherwise_is_named_by_place(files):
    ended = run("receive", *files, "--papers", files[1], "--vin", f"frame={GOOD[:16]}5")
    said = " ".join(ended.out.split())
    assert ended.code == 1
    assert "Place 17: 2 on the label, 5 on the frame. The check digit supports the label" in said


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ([GOOD], 0, "The VIN is valid."),
        ([GOOD, GOOD], 0, "The VIN is valid, and both readings agree."),
        ([GOOD[:6] + "S" + GOOD[7:]], 1, "Place 7: S may be 5; the two are often taken for each other."),
        (["label=J" + GOOD[1:], "papers=" + GOOD], 1, "The check digit does not tell these two apart"),
        ([GOOD[:-1]], 1, "A VIN must have 17 characters, got 16."),
        ([GOOD[:-1], GOOD], 1, "Place 16: 2 seems to be left out; another reading says so."),
        ([GOOD, "--maker", "1Z9Z21"], 3, "its maker code, 1Z9...Z47, is not one known for this maker"),
        ([GOOD, "--year", "2025"], 1, "its year code does not stand for the unit's model year"),
        (["1Z9MGI5Q2TAZ47022"], 1, "No single character explains it"),
    ],
)
def test_vin(words, code, says):
    ended = run("vin", *words)
    assert says in " ".join(ended.out.split())
    assert ended.code == code
    assert "A valid VIN is no proof" in " ".join(ended.out.split())


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["vin", ""], "VIN must be a VIN or PLACE=VIN"),
        (["vin", "label="], "VIN must be a VIN or PLACE=VIN"),
        (["vin", f"label={GOOD}", f"label={GOOD}"], "label is given twice"),
        (["vin", GOOD, "--maker", "1Z"], "--maker must be three characters, or six"),
        (["vin", GOOD, "--year", "26"], "--year must be 1950 to 2100, got 26."),
        (["receive", "SH-191", "SH-191", "--vin", GOOD], "--vin must be PLACE=VIN"),
        (
            ["receive", "SH-191", "SH-191", "--need", "heavy"],
            "--need must be a weight such as '16,950 lb', got 'heavy'",
        ),
        (["receive", "SH-191", "SH-191", "--need", "300,000 lb"], "--need must be 0 to 200,000 lb"),
        (["receive", "SH-191", "SH-191", "--cargo", "-1"], "--cargo must be 0 to 200,000 lb"),
    ],
)
def test_a_wrong_word_is_told(words, says):
    ended = run(*words, *(["--yard", "demo"] if words[0] == "receive" else []))
    assert ended.code == 2
    assert ended.out == ""
    assert says in " ".join(ended.err.split())


def test_every_wrong_word_is_told_at_once():
    ended = run(
        "receive", "SH-191", "SH-999", "--vin", GOOD, "--maker", "1Z", "--need", "heavy", "--cargo", "-1",
        "--yard", "demo",
    )  # fmt: skip
    assert ended.code == 2
    assert all(name in ended.err for name in ("SH-999", "--vin", "--maker", "--need", "--cargo"))
    ended = run("vin", "label=", "--maker", "1Z", "--year", "26")
    assert all(name in ended.err for name in ("PLACE=VIN", "--maker", "--year"))


def test_every_file_that_is_missing_is_told_at_once():
    ended = run("receive", "SH-998", "SH-999", "--papers", "nowhere.toml", "--yard", "demo")
    assert ended.code == 2
    assert all(name in ended.err for name in ("SH-998", "SH-999", "nowhere.toml"))
