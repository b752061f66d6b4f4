"""Code numbers in rules and checks are those of the column list; the limits shipped are the table's figures."""

from __future__ import annotations

from rubrail.checks import braking, duties, labels, papers
from rubrail.rules import license
from rubrail.rules.tables import table
from rubrail.things.folder import federal_limits
from rubrail.things.names import CODES, COLUMNS


def test_license_groups():
    assert CODES["license_held"] == license.GROUPS
    assert (license.GROUPS[license.B], license.GROUPS[license.A]) == ("B", "A")


def test_uses():
    for module in (papers, duties):
        assert CODES["use"].index("private") == module.PRIVATE
        assert CODES["use"].index("farm") == module.FARM
    assert CODES["use"].index("private") == braking.PRIVATE


def test_brakes_and_tires():
    assert CODES["brake_kind"].index("surge") == braking.SURGE
    assert CODES["tire_family"].index("P") == labels.PASSENGER


def test_the_limits_file_shipped_is_the_table():
    data, file = table("limits_federal"), federal_limits()
    for name, value in data["figures"].items():
        if name == "bridge_ties_up":
            assert file.bridge_ties_up == bool(value)
            continue
        assert getattr(file, name).number == value, name
        assert file.source[name] == data["figure_sources"][name]


def test_every_limit_column_has_a_figure():
    wanted = {c.path.removeprefix("limits.") for n, c in COLUMNS.items() if n.startswith("limit_")}
    assert wanted == table("limits_federal")["figures"].keys()
