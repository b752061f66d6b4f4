"""Limits files: the federal one that ships, and what a state may leave out."""

import math

import pytest

from rubrail.rules.sources import source
from rubrail.rules.tables import table as rules_table
from rubrail.things.folder import federal_limits
from rubrail.things.limits import LIMIT_FIELDS
from rubrail.things.names import HAUL
from rubrail.things.rig_haul import haul_columns, limit_name
from things.samples import haul, table


def test_every_federal_figure_names_a_source_on_record():
    limits = federal_limits()
    assert set(limits.source) == set(LIMIT_FIELDS)
    for key in limits.source.values():
        assert source(key).says


@pytest.mark.parametrize(
    ("name", "figure"),
    # 23 CFR 658.15 and 23 U.S.C. 127 as read; heights and lengths are typical figures.
    [("width_in", 102), ("single_axle_lb", 20_000), ("tandem_lb", 34_000), ("gross_lb", 80_000), ("height_in", 162)],
)
def test_federal_figures(name, figure):
    assert getattr(federal_limits(), name).number == figure


def test_the_file_agrees_with_the_rules_own_table():
    figures = rules_table("limits_federal")["figures"]
    assert {n: getattr(federal_limits(), n).number for n in LIMIT_FIELDS} == {n: figures[n] for n in LIMIT_FIELDS}


def test_limits_become_columns_by_name():
    columns = haul_columns(haul())
    names = {n for n in HAUL if n.startswith("limit_")}
    assert {limit_name(n) for n in names} == {*LIMIT_FIELDS, "bridge_ties_up"}
    for name in names:
        stated = getattr(federal_limits(), limit_name(name))
        assert columns[name].shape == (1, 1, 1)
        assert columns[name].item() == float(stated)


def test_no_limit_is_infinite_and_left_out_is_not_known():
    limits = table("limits", tandem_lb=None)
    columns = haul_columns(haul(limits=limits))
    assert columns["limit_breakaway_exempt_lb"].item() == math.inf
    assert math.isnan(columns["limit_tandem_lb"].item())
    assert columns["limit_height_in"].item() == 162
