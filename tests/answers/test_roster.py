"""The short rows of a match say what the match says, one unit or many, whole yard or part of it."""

import numpy as np
import pytest

from rubrail.answers.board import candidates, match
from rubrail.answers.height import built_columns
from rubrail.answers.match import unbeaten
from rubrail.answers.rig import rigs
from rubrail.answers.roster import check_ids, roster
from rubrail.checks.verdict import WORDS
from rubrail.things.pack import pack_rows, unknown_row, unpack_rows
from rubrail.things.rigs import arrangements, haul_before, rig_columns

from .yard import HAULS, haul, yard

TRAILERS = tuple(yard().trailers.values())


def packed():
    return unpack_rows(pack_rows(built_columns(TRAILERS)))


@pytest.mark.parametrize("name", HAULS)
def test_rows_say_what_the_match_says(name):
    said = {c.trailer: c for c in match(haul=haul(name), trailers=TRAILERS).candidates}
    rows = roster(haul=haul(name), of_trailers=packed())
    for trailer, row in zip(TRAILERS, rows, strict=True):
        c = said[trailer.id]
        assert WORDS[row["verdict"]] == c.verdict
        assert (check_ids()[row["check"]] if row["check"] >= 0 else None) == (c.governing and c.governing.check)
        assert row["margin"] == pytest.approx(c.governing.margin if c.governing else np.inf, nan_ok=True)
        assert row["share"] == pytest.approx(c.share, nan_ok=True)
        assert row["coupler_load_lb"] == pytest.approx(c.coupler_load_lb, nan_ok=True)
        assert row["deck_height_in"] == pytest.approx(c.deck_height_in, nan_ok=True)


@pytest.mark.parametrize("name", HAULS)
def test_candidates_at_the_rows_places_are_those_of_the_match(name):
    from dataclasses import replace

    said = {c.trailer: replace(c, unbeaten=False) for c in match(haul=haul(name), trailers=TRAILERS).candidates}
    rows = roster(haul=haul(name), of_trailers=packed())
    some = slice(5, 25)
    laid = rigs(haul=haul(name), trailers=TRAILERS[some])
    found = candidates(
        laid, arrangement=rows["arrangement"][some].astype(int), shift_in=rows["shift_in"][some].astype(float)
    )
    # repr compares nan with nan
    assert [repr(c) for c in found] == [repr(said[t.id]) for t in TRAILERS[some]]


def test_a_part_of_a_yard_is_judged_as_in_the_whole():
    rows = roster(haul=haul(HAULS[3]), of_trailers=packed())
    index = np.array([7, 3, 40])
    part = roster(haul=haul(HAULS[3]), of_trailers=packed().take(index))
    for name in rows.dtype.names:
        np.testing.assert_allclose(part[name].astype(float), rows[index][name].astype(float), rtol=1e-12)
    one = roster(haul=haul(HAULS[3]), of_trailers=packed().take(slice(7, 8)))
    assert one["verdict"][0] == rows["verdict"][7]


@pytest.mark.parametrize("name", HAULS)
def test_columns_before_trailers_known_by_columns_alone(name):
    arranged = arrangements(haul(name))
    want = rig_columns(haul=haul(name), trailers=TRAILERS, arranged=arranged, of_trailers=built_columns(TRAILERS))
    got = haul_before(haul=haul(name), of_trailers=packed(), arranged=arranged)
    assert set(got.values) == set(want.values)
    for part in ("values", "plus_minus"):
        for column, array in getattr(want, part).items():
            if column.startswith("axle_") or array.dtype == object:
                continue
            a, b = np.broadcast_arrays(getattr(got, part)[column], array)
            np.testing.assert_array_equal(a, b, err_msg=column)


def test_a_trailer_of_which_nothing_is_known_is_not_known():
    known = pack_rows(built_columns(TRAILERS[:2]))
    rows = roster(haul=haul(HAULS[2]), of_trailers=unpack_rows([known[0], unknown_row(), known[1]]))
    assert WORDS[rows["verdict"][1]] == "not known"
    pair = roster(haul=haul(HAULS[2]), of_trailers=unpack_rows(known))
    assert list(rows["verdict"][[0, 2]]) == list(pair["verdict"])
    alone = roster(haul=haul(HAULS[2]), of_trailers=unpack_rows([unknown_row()]))
    assert WORDS[alone["verdict"][0]] == "not known"


@pytest.mark.parametrize("seed", range(6))
def test_what_nothing_beats_is_what_comparing_each_with_each_leaves(seed):
    rng = np.random.default_rng(seed)
    costs = np.round(rng.uniform(size=(300, 3)), 1 + seed % 2)
    costs[rng.uniform(size=costs.shape) < 0.05] = np.nan
    eligible = rng.uniform(size=300) < 0.8
    filled = np.where(np.isnan(costs), np.inf, costs)
    want = [
        bool(
            eligible[i]
            and not any(
                eligible[j] and (filled[j] <= filled[i]).all() and (filled[j] < filled[i]).any() for j in range(300)
            )
        )
        for i in range(300)
    ]
    assert unbeaten(costs, eligible).tolist() == want
