"""What is not known never passes: each input of a climb taken away, everything it could change goes dark."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rubrail.answers.climb_judge import INPUTS
from rubrail.answers.climb_run import outcomes, run
from rubrail.answers.climb_setup import Day, climb_columns, climbers
from rubrail.answers.place import best_place
from rubrail.answers.rig import rigs
from rubrail.demo import YARD
from rubrail.things.folder import load_yard, resolve
from rubrail.things.rig_loading import way_kind

FOUND = load_yard(YARD)
RIGS = {
    "wheels over ramps, stands": ("07-tractor-on-duals", "SH-203"),
    "tracks over ramps": ("03-landscaper-track-loader", "SH-133"),
    "wheels up a tilt": ("13-scissor-lifts", "SH-152"),
    "tracks down a tail": ("02-midi-excavator-for-hire", "SH-201"),
}
USUAL_INSTEAD = {"suspension_rate_lb_per_in", "contact_driven", "machine_tracked"}
"""A usual figure stands in for these, or, of which axles drive, the answer blanks the grip itself."""


@pytest.mark.parametrize("name", RIGS)
def test_an_input_that_matters_makes_the_outcome_unknown(name):
    haul, unit = RIGS[name]
    haul, trailer = resolve(FOUND.hauls[haul], FOUND), FOUND.trailers[unit]
    one = rigs(haul=haul, trailers=(trailer,))
    placement = best_place(one)[0].placement
    columns = replace(climb_columns(one, placement, climbers(one, placement)[0], Day()), plus_minus={})
    way = {"kind": way_kind(trailer), "ground_rad": 0.01, "stands": True, "blocks": False, "steps": 40}
    gap = np.where(np.isnan(columns["stand_gap_in"]), 2.0, columns["stand_gap_in"])
    columns = columns.with_values({"stand_gap_in": gap})
    stated = outcomes(run(columns, **way))
    assert not any(np.isnan(v).any() for v in stated.values())
    for column in (n for n in INPUTS if n in columns and n not in USUAL_INSTEAD):
        dark = outcomes(run(columns.with_values({column: columns[column] * np.nan}), **way))
        for factor in (0.9, 1.1):
            moved = columns.with_values({column: columns[column] * factor})
            for outcome, value in outcomes(run(moved, **way)).items():
                known = ~np.isnan(dark[outcome])
                np.testing.assert_allclose(
                    value[known], dark[outcome][known], rtol=1e-6, atol=1e-6, err_msg=f"{column} {outcome}"
                )
