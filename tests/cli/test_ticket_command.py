"""``rubrail ticket``: the invented yard's two tickets, whose readings were planted, and what it refuses."""

from __future__ import annotations

import pytest

from cli.terminal import YARD, answer, run

DEMO = ("--yard", "demo")
PLANTED = {
    ("truck", "front axle", ""): 4090, ("truck", "rear axle", ""): 2850,
    ("trailer", "whole", ""): 2790, ("trailer", "coupler", ""): 415,
}  # fmt: skip
"""What the readings of car-hauler-empty were made from, each then off by some pounds and rounded to 20."""


def test_the_planted_weights_come_out():
    told = answer(run("ticket", "car-hauler-empty", *DEMO, "--json").out)["answer"]
    found = {(v["of"], v["name"], v["load"]): v for v in told["values"]}
    for key, planted in PLANTED.items():
        assert abs(found[key]["number"] - planted) <= found[key]["plus_minus"], key
    assert {p["field"] for p in told["proposals"]} == {
        "weights.front_axle_lb", "weights.rear_axle_lb", "weights.empty_lb", "weights.empty_coupler_lb",
    }  # fmt: skip


def test_shown_values_and_who_was_aboard_add_up_by_hand():
    told = answer(run("ticket", "car-hauler-empty", *DEMO, "--json").out)["answer"]
    alone = told["stood"][0]
    assert (alone["state"], [(a["says"], a["weight_lb"], a["seat_known"]) for a in alone["aboard"]]) == (
        "truck", [("driver", 200.0, True)],
    )  # fmt: skip
    found = {v["name"]: v["number"] for v in told["values"] if v["of"] == "truck"}
    front = alone["aboard"][0]["front_lb"]
    fits = [r["fitted_lb"] for r in told["readings"] if r["weighing"] == 1]
    # Steer, drive, whole truck: the truck's own axle and what the driver puts there. 64 in of a wheelbase of 160 in is
    # 0.4, so 0.6 of 200 lb is on the front axle, by hand.
    assert front == pytest.approx(120)
    own = [found["front axle"] + front, found["rear axle"] + 200 - front]
    assert fits == pytest.approx([*own, sum(own)], abs=1)
    text = " ".join(run("ticket", "car-hauler-empty", *DEMO).out.split())
    assert f"Truck alone, with driver (200 lb, {front:.0f} lb of it on the front axle) aboard." in text
    assert "and not in the truck's own weights" in text


def test_the_planted_slip_is_named():
    ended = run("ticket", "gooseneck-loaded", *DEMO, "--json")
    assert ended.code == 3
    told = answer(ended.out)
    off = [r for r in told["answer"]["readings"] if r["word"] == "off"]
    assert [(r["weighing"], r["on"], r["shown_lb"]) for r in off] == [(3, ["axles"], 9780)]
    assert off[0]["would_be_lb"] == pytest.approx(10_158, abs=60)  # planted
    assert told["answer"]["proposals"] == []
    assert "until then nothing is taken over" in told["sentence"]


def test_without_the_truck_the_gain_of_its_front_axle_is_unknown():
    path = str(YARD / "tickets" / "car-hauler-empty.toml")
    with_truck, bare = (answer(run("ticket", path, *more, "--json").out)["answer"] for more in (DEMO, ()))
    assert with_truck["hitch_by_geometry"]
    # a file that lies in a yard names that yard; the truck of another file has no hitch
    assert bare["hitch_by_geometry"]
    other = answer(run("ticket", path, "--truck", "heavy-pickup-tall", *DEMO, "--json").out)["answer"]
    assert other["freedom"] <= with_truck["freedom"]


def test_metric():
    us, metric = (run("ticket", "car-hauler-empty", *DEMO, *more).out for more in ((), ("--metric",)))
    assert "2,792 ± 23 lb" in us
    assert "1,267 ± 10 kg" in metric


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("nope", *DEMO), "TICKET must be a ticket file or the id of a ticket in the yard, got 'nope'"),
        (("nope",), "and no yard is named"),
        (("car-hauler-empty", *DEMO, "--trailer", "SH-999"), "--trailer must be a trailer file or the id"),
        (("car-hauler-empty", *DEMO, "--truck", "nope"), "--truck must be a truck file or the id"),
        ((str(YARD / "trailers" / "car-hauler-20ft.toml"),), "schema must be rubrail/ticket/1"),
    ],
)
def test_what_it_refuses(args, says):
    ended = run("ticket", *args)
    assert ended.code == 2
    assert says in ended.err
    assert ended.err.count("\n") == 1


def test_an_axle_the_trailer_has_not_is_refused(tmp_path):
    file = tmp_path / "slip.toml"
    file.write_text(
        'schema = "rubrail/ticket/1"\nid = "slip"\ntrailer = "SH-122"\n'
        '[[scale]]\nid = "s"\nkind = "pads"\n[[weighing]]\nstate = "trailer"\n'
        'reading = [{ on = ["axle 5"], shown_lb = 900 }]\n'
    )
    ended = run("ticket", str(file), *DEMO)
    assert ended.code == 2
    assert "weighing[1].reading[1].on must be one of the 2 axles of SH-122, got 'axle 5'" in ended.err
