"""Every command on the invented yard: what it prints, how wide, in which letters, and how it ends."""

from __future__ import annotations

import re

import pytest

from cli.terminal import HAUL, WORDS, by_verdict, carriers, run, spawn
from rubrail.cli.ends import OF_VERDICT
from rubrail.cli.screen import MARKS, PLAIN_MARKS
from rubrail.sheets.sentences_words import SAFETY

DEMO = ("--yard", "demo")


def commands() -> dict[str, tuple[str, ...]]:
    """Every answering command, on demo data."""
    best, second, third = carriers()[:3]
    return {
        "match": ("match", HAUL, *DEMO),
        "match some": ("match", HAUL, best, second, *DEMO),
        "match road": ("match", HAUL, "--road", *DEMO),
        "match all": ("match", HAUL, "--all", *DEMO),
        "match kit": ("match", HAUL, "--kit", "yard-gear", *DEMO),
        "weigh": ("weigh", HAUL, best, *DEMO),
        "weigh all": ("weigh", HAUL, third, "--all", *DEMO),
        "weigh at": ("weigh", HAUL, best, "--at", "2 ft", *DEMO),
        "weigh at turned": ("weigh", HAUL, best, "--at", "2 ft rear-first", *DEMO),
        "weigh over": ("weigh", *by_verdict()["over"], *DEMO),
        "weigh depends": ("weigh", *by_verdict()["depends"], *DEMO),
        "weigh not known": ("weigh", *by_verdict()["not known"], *DEMO),
        "place": ("place", HAUL, best, *DEMO),
        "place three": ("place", "04-three-machines", "SH-212", *DEMO),
        "compare": ("compare", HAUL, best, second, third, *DEMO),
        "compare six": ("compare", HAUL, *carriers()[:6], *DEMO),
        "envelope": ("envelope", best, *DEMO),
        "envelope haul": ("envelope", best, "--haul", HAUL, *DEMO),
        "tie-down": ("tie-down", HAUL, best, *DEMO),
        "tie-down en": ("tie-down", HAUL, best, "--en", *DEMO),
        "tie-down three": ("tie-down", "04-three-machines", "SH-212", *DEMO),
        "tie-down moved": ("tie-down", HAUL, best, "--move", "1=3L", *DEMO),
        "climb": ("climb", HAUL, best, *DEMO),
        "climb wet": ("climb", HAUL, second, "--surface", "wet", "--slope", "3 deg", "--stands-up", *DEMO),
        "climb backing": ("climb", HAUL, best, "--drive", "backing", "--unhitched", "--blocks", "--all", *DEMO),
        "climb three": ("climb", "04-three-machines", "SH-212", "--no-chocks", *DEMO),
        "climb no ramps": ("climb", HAUL, "SH-211", *DEMO),
        "climb not known": ("climb", "14-paving-crew", "SH-184", *DEMO),
        "listing": ("listing", "SH-132", *DEMO),
        "listing refused": ("listing", "SH-132", "--words", "14K payload, no CDL needed", *DEMO),
        "decode": ("decode", best, *DEMO),
        "decode haul": ("decode", best, "--haul", HAUL, *DEMO),
        "receive": ("receive", "SH-191", "SH-191", "--papers", "SH-191", "--maker", "1Z9Z47", *DEMO),
        "receive other": ("receive", "SH-203", "SH-191", "--need", "16,950 lb", "--buyer-waits", "--all", *DEMO),
        "receive no order": ("receive", "-", "SH-113", "--cargo", "5,000 lb", *DEMO),
        "vin": ("vin", "1Z9MG2S22TAZ47022", "papers=1Z9MG2522TAZ47022", "--year", "2026"),
        "vin good": ("vin", "1Z9MG2522TAZ47022"),
        "why": ("why", "hitch-vertical", HAUL, best, *DEMO),
        "why each": ("why", "axle", HAUL, best, *DEMO),
        "why tied": ("why", "tiedown-aggregate", HAUL, best, *DEMO),
        "why tied each": ("why", "tiedown-each", HAUL, best, "--member", "2", *DEMO),
        "why held": ("why", "hold-working", HAUL, best, *DEMO),
        "why european": ("why", "en-sliding", HAUL, best, *DEMO),
        "why duty": ("why", "lamps", HAUL, best, *DEMO),
        "turn": ("turn", HAUL, best, "--in", "14 ft", "--out", "30 ft", "--curb", "15 ft", *DEMO),
        "turn tight": ("turn", "04-three-machines", "SH-213", "--in", "12 ft", "--out", "12 ft", *DEMO),
        "turn not known": ("turn", "01-mowing-round", "SH-191", "--in", "12 ft", "--out", "12 ft", *DEMO),
        "ticket": ("ticket", "car-hauler-empty", *DEMO),
        "ticket off": ("ticket", "gooseneck-loaded", *DEMO),
        "walk": ("walk", best, "--haul", HAUL, *DEMO),
        "checklist": ("checklist", "SH-132", *DEMO),
        "checklist round": ("checklist", "SH-201", "--sort", "round", "--sources", *DEMO),
        "hand-over": ("hand-over", HAUL, best, *DEMO),
        "hand-over wrong ball": ("hand-over", HAUL, best, "--set", "hitch_ball_size_in=2 in", *DEMO),
        "walk alone": ("walk", "SH-201", "--all", *DEMO),
        "build": ("build", "LE-20", "03-landscaper-track-loader", *DEMO),
        "build none": ("build", "TP-22", "02-midi-excavator-for-hire", *DEMO),
        "build as stated": ("build", "DO-22", "09-loaded-service-truck", "--depends", *DEMO),
        "price": ("price", best, "--line", "dealer-fitted: winch: 1,680", "--trade-in", "$4,000", *DEMO),
        "price tax in": ("price", "SH-203", "--tax-in", "50,000", *DEMO),
        "price free": ("price", best, "--free-as", "export", "--discount", "250", *DEMO),
        "rules": ("rules",),
        "rules one": ("rules", "axle"),
        "rules kind": ("rules", "--kind", "guidance"),
        "check": ("check", "demo"),
        "schema": ("schema",),
        "demo": ("demo", "--no-desk"),
    }


NAMES = tuple(commands())
DECISIONS = ("match", "weigh", "place", "tie-down", "compare", "envelope", "decode", "receive", "why", "demo")


@pytest.mark.parametrize("name", NAMES)
def test_every_command_answers_within_80_columns(name):
    ended = run(*commands()[name])
    assert ended.code in OF_VERDICT.values(), ended.err
    assert ended.err == ""
    assert ended.out.strip()
    assert [line for line in ended.out.splitlines() if len(line) > 80] == []
    assert not re.search(r"\b(nan|inf|None|True|False)\b", re.sub(r"where\([^\n]*|, inf", "", ended.out))
    assert "!" not in ended.out


@pytest.mark.parametrize("name", [n for n in NAMES if n.split()[0] in DECISIONS])
def test_the_caution_stands_where_a_decision_is_made(name):
    assert SAFETY in " ".join(run(*commands()[name]).out.split())


@pytest.mark.parametrize("columns", [60, 80, 110, 200])
@pytest.mark.parametrize("name", ["match", "weigh over", "compare six", "why", "rules"])
def test_output_fits_the_width_there_is(name, columns):
    out = run(*commands()[name], env={"COLUMNS": str(columns)}).out
    assert max(len(line) for line in out.splitlines()) <= columns


@pytest.mark.parametrize("word", WORDS)
def test_weigh_ends_with_the_code_of_its_verdict(word):
    ended = run("weigh", *by_verdict()[word], *DEMO)
    assert ended.code == OF_VERDICT[word] == {"clear": 0, "over": 1, "depends": 3, "not known": 4}[word]
    assert ended.out.startswith(f"{MARKS[word]} {word.capitalize()}")


def test_match_ends_with_the_code_of_its_best_unit():
    assert run("match", HAUL, carriers()[0], carriers()[-1], "--road", *DEMO).code == OF_VERDICT["clear"]
    assert run("match", HAUL, carriers()[-1], *DEMO).code == OF_VERDICT["over"]
    # The loader pulls this unit's hitch up on its way: it carries it, and is not clear.
    assert run("match", HAUL, carriers()[0], *DEMO).code == OF_VERDICT["depends"]


@pytest.mark.parametrize(
    "name", ["match", "weigh over", "place", "compare", "envelope haul", "decode haul", "receive other", "why"]
)
def test_metric_shows_no_pounds(name):
    out = run(*commands()[name], "--metric").out
    told = re.sub(r"\d[\d,]* lb( \S+)*?\s+(axles|label|lift)", "", " ".join(out.split()))  # as the yard calls units
    assert re.search(r"\d kg", told)
    assert not re.search(r"\d (lb|psi)\b", told)


def test_verdicts_are_told_without_color():
    out = run(*commands()["match"]).out
    assert "\x1b[" not in out
    for word in ("clear", "depends", "over"):
        assert f"{MARKS[word]} {word}" in out


def test_color_comes_only_where_a_terminal_takes_it():
    colored = {"FORCE_COLOR": "1", "TERM": "xterm-256color", "NO_COLOR": ""}
    out = run(*commands()["match"], env=colored).out
    assert "\x1b[32m" in out
    never = run(*commands()["match"], env={**colored, "NO_COLOR": "1"}).out
    assert not re.search(r"\x1b\[3\d", never)


def test_plain_letters_where_there_are_no_others():
    ended = spawn(*commands()["compare"], env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    out = ended.stdout.decode("ascii")
    assert ended.stderr == b""
    assert f"{PLAIN_MARKS['clear']} clear" in out
    assert "?" not in out.replace(f"{PLAIN_MARKS['not known']} not known", "")


def test_the_governing_limit_comes_first_and_is_marked():
    out = run(*commands()["weigh over"]).out
    table = out[out.index("\nRatings") :]
    first = next(line for line in table.splitlines() if line.startswith(MARKS["over"]))
    assert "over" in first
    assert "governs" in table


@pytest.mark.parametrize(
    "kind", ["Ratings", "Law", "Fit", "Guidance, not law", "Duties, told beside", "Tax, told beside"]
)
def test_kinds_are_told_apart(kind):
    assert f"\n{kind}" in run(*commands()["weigh"]).out


def test_all_shows_every_limit():
    some, every = run(*commands()["weigh"]).out, run(*commands()["weigh"], "--all").out
    assert "--all shows them" in some
    assert "--all shows them" not in every
    assert len(every.splitlines()) > len(some.splitlines())


def test_why_takes_a_member():
    first, second = (run("why", "axle", HAUL, carriers()[0], "--member", str(n), *DEMO).out for n in (1, 2))
    assert "axle 1" in first
    assert "axle 2" in second


def test_a_placement_by_hand_is_weighed_as_given():
    out = run("weigh", HAUL, carriers()[0], "--at", "31 in", *DEMO).out
    assert re.search(r"starts at.*\n.*\n.* 2 ft 7 in", out)


def test_files_and_folders_serve_as_well_as_ids(tmp_path):
    from cli.terminal import YARD, yard

    haul = next(p for p in (YARD / "hauls").iterdir() if p.name.startswith(HAUL))
    trailer = next(
        p for p in sorted((YARD / "trailers").iterdir()) if f'id = "{carriers()[0]}"' in p.read_text("utf-8")
    )
    by_id = run("weigh", HAUL, carriers()[0], *DEMO)
    assert run("weigh", str(haul), str(trailer)) == by_id
    assert run("weigh", str(haul), carriers()[0]) == by_id
    copy = tmp_path / "units"
    copy.mkdir()
    (copy / "one.toml").write_bytes(trailer.read_bytes())
    assert "1 of 1 unit carries" in " ".join(run("match", str(haul), str(copy), "--road").out.split())
    assert f"of {len(yard().trailers)} units" in " ".join(run("match", str(haul), str(YARD), "--all").out.split())


def test_sold_units_are_left_out_and_counted(tmp_path):
    import shutil

    from cli.terminal import YARD

    there = shutil.copytree(YARD, tmp_path / "yard")
    unit = next(p for p in (there / "trailers").iterdir() if f'id = "{carriers()[0]}"' in p.read_text("utf-8"))
    text = unit.read_text("utf-8")
    text = re.sub(r"^status = .*$\n", "", text, flags=re.M)
    unit.write_text(text.replace("\ntitle =", '\nstatus = "sold"\ntitle =', 1), "utf-8")
    out = run("match", HAUL, "--all", "--yard", str(there)).out
    assert "1 sold or retired unit is left out" in " ".join(out.split())
    assert carriers()[0] not in out


def test_version():
    from rubrail import __version__

    assert run("--version").out == f"rubrail {__version__}\n"
