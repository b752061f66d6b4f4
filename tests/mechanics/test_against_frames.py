"""Truck and trailer against a general frame solver: the same rig as beams, springs and couples."""

from __future__ import annotations

import itertools
import warnings

import numpy as np
import pytest

from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.things.columns import Columns

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    Pynite = pytest.importorskip("Pynite")

STIFF = 1e9


def frame():
    model = Pynite.FEModel3D()
    model.add_material("stiff", 29e6, 11e6, 0.3, 0.0)
    model.add_section("stiff", 1e5, STIFF, STIFF, STIFF)
    return model


def beam(model, name, places):
    """A stiff beam along x through named places, in the plane."""
    for node, x in places.items():
        model.add_node(node, x, 0, 0)
        model.def_support(node, support_DZ=True, support_RX=True, support_RY=True)
    names = sorted(places, key=places.get)
    for a, b in itertools.pairwise(names):
        model.add_member(f"{name}-{a}-{b}", a, b, "stiff", "stiff")
    model.def_support(names[0], support_DX=True, support_DZ=True, support_RX=True, support_RY=True)


def down(model, node):
    return model.nodes[node].RxnFY["Combo 1"]


def solve(model):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model.analyze(check_stability=False)


def rig(**changes) -> Evaluation:
    values = {
        "coupling_kind": 0, "trailer_empty_weight_lb": 4_000, "trailer_empty_coupler_lb": 500,
        "axle_present": [1], "axle_x_in": [200], "suspension_kind": 0, "hitch_height_in": 20,
        "coupler_height_min_in": 20, "coupler_height_max_in": 20, "item_present": [1, 1],
        "item_weight_lb": [5_000, 3_000], "item_front_x_in": [90, 190], "item_cg_in": [50, 30],
        "weight_distribution": 1, "front_restoration": 0.6, "hitch_ahead_in": -60, "truck_wheelbase_in": 150,
        "truck_front_axle_lb": 3_500, "truck_rear_axle_lb": 2_500, "gear_weight_lb": [0], "gear_x_in": [0],
        **changes,
    }  # fmt: skip
    return Evaluation(
        Columns(
            {
                n: np.array(v, float).reshape((-1, 1, 1, 1) if isinstance(v, list) else (1, 1, 1))
                for n, v in values.items()
            }
        )
    )


@pytest.mark.parametrize("restoration", [0.0, 0.6, 1.0])
def test_spring_bars_as_a_couple_between_two_beams(restoration):
    """Truck and trailer are two beams pinned at the ball, and the spring bars a couple there, one way on each."""
    ours = rig(front_restoration=restoration)
    back = ours.value("distribution_return_lb").item()
    couple = back * 200

    trailer = frame()
    beam(trailer, "trailer", {"ball": 0, "first": 140, "empty": 175, "axle": 200, "second": 220})
    trailer.def_support("ball", support_DX=True, support_DY=True, support_DZ=True, support_RX=True, support_RY=True)
    trailer.def_support("axle", support_DY=True, support_DZ=True, support_RX=True, support_RY=True)
    for node, weight in (("first", 5_000), ("empty", 4_000), ("second", 3_000)):
        trailer.add_node_load(node, "FY", -weight)
    trailer.add_node_load("ball", "MZ", -couple)
    solve(trailer)

    truck = frame()
    beam(truck, "truck", {"front": 0, "middle": 62.5, "rear": 150, "hitch": 210})
    truck.def_support("front", support_DX=True, support_DY=True, support_DZ=True, support_RX=True, support_RY=True)
    truck.def_support("rear", support_DY=True, support_DZ=True, support_RX=True, support_RY=True)
    truck.add_node_load("middle", "FY", -6_000)
    truck.add_node_load("hitch", "FY", -down(trailer, "ball"))
    truck.add_node_load("hitch", "MZ", couple)
    solve(truck)

    assert down(trailer, "axle") == pytest.approx(ours.value("axle_group_load_lb").item(), rel=1e-6)
    assert down(truck, "front") == pytest.approx(ours.value("truck_front_load_lb").item(), rel=1e-6)
    assert down(truck, "rear") == pytest.approx(ours.value("truck_rear_load_lb").item(), rel=1e-6)


@pytest.mark.parametrize("places", [[307.25, 340.75], [250.0, 284.0, 318.0]])
@pytest.mark.parametrize("raised", [3.0, -2.0])
def test_torsion_axles_as_springs_under_a_stiff_beam(places, raised):
    """The coupling moved up or down by as much as the hitch is off level; springs answer as the axles do."""
    ours = rig(
        axle_present=[1] * len(places), axle_x_in=places, suspension_kind=1, suspension_rate_lb_per_in=2_000,
        hitch_height_in=20 + raised,
    )  # fmt: skip
    model = frame()
    beam(model, "trailer", {"coupling": 0.0, **{f"axle{i}": x for i, x in enumerate(places)}})
    model.def_support("coupling", support_DX=True, support_DY=True, support_DZ=True, support_RX=True, support_RY=True)
    model.def_node_disp("coupling", "DY", raised)
    for i in range(len(places)):
        model.def_support_spring(f"axle{i}", "DY", 2_000)
    solve(model)
    springs = [-2_000 * model.nodes[f"axle{i}"].DY["Combo 1"] for i in range(len(places))]
    np.testing.assert_allclose(springs, ours.value("off_level_lb").ravel(), rtol=1e-4, atol=0.5)
    assert model.nodes["coupling"].RZ["Combo 1"] == pytest.approx(-ours.value("trim_rad").item(), rel=1e-4)
