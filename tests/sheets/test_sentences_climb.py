"""The sentences of a climb, verdict by verdict, an unknown never worded as a pass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rubrail.answers.climb import climb_on
from rubrail.answers.climb_setup import Day
from rubrail.demo import YARD
from rubrail.sheets.sentences_climb import (
    CAUTIONS,
    climb_sentence,
    day_said,
    machine_sentence,
    moment_figure,
    what_to_do,
)
from rubrail.things.folder import load_yard, resolve

FOUND = load_yard(YARD)


def climb_of(haul: str, unit: str, **day):
    return climb_on(haul=resolve(FOUND.hauls[haul], FOUND), trailer=FOUND.trailers[unit], day=Day(**day))


@pytest.mark.parametrize(
    ("haul", "unit", "begins", "has"),
    [
        ("03-landscaper-track-loader", "SH-121", "Over: the compact track loader, driven forward over the ramps",
         ("SH-121", "and 2 more", "lb the pair")),
        ("03-landscaper-track-loader", "SH-133", "Depends: the compact track loader", ("against guidance", "clear")),
        ("03-landscaper-track-loader", "SH-211", "Over: no ramps lead the compact track loader", ("a dock",)),
        ("02-midi-excavator-for-hire", "SH-201", "Depends: the midi excavator", ("over the lowered tail of",)),
        ("14-paving-crew", "SH-184", "Not known: whether", ("ask for",)),
        ("13-scissor-lifts", "SH-152", "Depends: the slab scissor lift", ("up the tilting deck of", "likewise")),
    ],
)  # fmt: skip
def test_the_first_sentence(haul, unit, begins, has):
    a = climb_of(haul, unit)
    said = climb_sentence(a)
    assert said.startswith(begins), said
    assert all(part in said for part in has), said
    assert said.endswith(".")
    assert a.verdict.split()[0].capitalize() in said.split(":")[0]


def test_nothing_that_drives():
    assert climb_sentence(climb_of("05-hay-round-bales", "SH-212")).startswith("Nothing of this haul drives up")


def test_metric_has_no_pounds():
    said = climb_sentence(climb_of("03-landscaper-track-loader", "SH-121"), metric=True)
    assert " lb" not in said
    assert " kg" in said


def test_the_day_in_words():
    a = climb_of("03-landscaper-track-loader", "SH-133", ground_deg=-2.0, surface="wet", hitched=False, stands=False,
                 chocked=False)  # fmt: skip
    assert day_said(a) == (
        "On ground that falls 2° toward the truck, wet, standing on its jack, stands up, wheels not chocked."
    )
    assert day_said(climb_of("03-landscaper-track-loader", "SH-133")).startswith("On level ground, dry, hitched")


def test_no_change_found_says_so():
    assert what_to_do(()).startswith("No single change")


def test_moments_have_figures():
    m = climb_of("03-landscaper-track-loader", "SH-121").machines[0]
    figures = [moment_figure(m, x) for x in m.moments]
    assert figures[0] == ("nose 16.3° of 30°", "clear")
    assert ("truck lifted", "over") in figures
    assert figures[-1][0].startswith("coupler ")


def test_a_backed_machine_is_said_to_be_backed():
    a = climb_of("03-landscaper-track-loader", "SH-133")
    m = replace(a.machines[0], facing="rear-first")
    assert "backed over the ramps of" in machine_sentence(a, m)


def test_cautions_are_brief():
    assert len(CAUTIONS) == 2
    for word in ("Level ground", "chock", "stands down"):
        assert word in CAUTIONS[0]
    for word in ("Belt on", "nobody behind", "manual"):
        assert word in CAUTIONS[1]
