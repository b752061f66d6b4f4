"""The invented trucks and machines are consistent in themselves. Ranges: common practice, no source."""

import pytest

from rubrail.demo import YARD
from rubrail.things.folder import load_yard

FOUND = load_yard(YARD)
TRUCKS = list(FOUND.trucks.values())
CARGO = list(FOUND.cargo.values())
MACHINES = [c for c in CARGO if c.kind == "machine"]


def n(value):
    return None if value is None else value.number


truck_each = pytest.mark.parametrize("t", TRUCKS, ids=lambda t: t.id)
machine_each = pytest.mark.parametrize("m", MACHINES, ids=lambda m: m.id)


def ready(t):
    """Front and rear axle with people and gear, by moments about the front axle."""
    base = n(t.size.wheelbase_in)
    to_rear = sum(n(g.weight_lb) * n(g.behind_front_axle_in) / base for g in t.gear)
    everything = sum(n(g.weight_lb) for g in t.gear)
    return n(t.weights.front_axle_lb) + everything - to_rear, n(t.weights.rear_axle_lb) + to_rear


@truck_each
def test_a_truck_ready_to_tow_has_something_left_to_tow_with(t):
    front, rear = ready(t)
    assert front < n(t.ratings.front_gawr_lb)
    assert t.ratings.rear_gawr_lb is None or rear < n(t.ratings.rear_gawr_lb)
    assert front + rear < n(t.ratings.gvwr_lb)
    assert 0.45 <= n(t.weights.front_axle_lb) / (n(t.weights.front_axle_lb) + n(t.weights.rear_axle_lb)) <= 0.65


@truck_each
def test_axle_ratings_and_tires_carry_the_label(t):
    ratings = t.ratings
    assert 2 * n(t.tires.front_each_lb) >= n(ratings.front_gawr_lb)
    if ratings.rear_gawr_lb:
        assert t.tires.rear_count * n(t.tires.rear_each_lb) >= n(ratings.rear_gawr_lb)
        assert n(ratings.front_gawr_lb) + n(ratings.rear_gawr_lb) >= n(ratings.gvwr_lb)


@truck_each
def test_hitches_stand_where_such_hitches_stand(t):
    assert t.hitch
    for hitch in t.hitch:
        ahead = n(hitch.ahead_of_rear_axle_in)
        assert -80 <= ahead <= -48 if hitch.kind in ("ball", "pintle") else 0 <= ahead <= 10
        share = n(hitch.vertical_rating_lb) / n(hitch.gross_rating_lb)
        assert 0.1 <= share <= (0.2 if hitch.kind in ("ball", "pintle") else 0.3)
        assert n(getattr(t.tow_ratings, f"{hitch.kind}_lb")) <= n(t.ratings.gcwr_lb)


@truck_each
def test_combination_rating_leaves_room_for_the_tow_rating(t):
    front, rear = ready(t)
    best = max(n(v) for _, v in t.tow_ratings if hasattr(v, "number"))
    assert best <= n(t.ratings.gcwr_lb) - n(t.weights.front_axle_lb) - n(t.weights.rear_axle_lb)
    assert n(t.registered_lb) >= front + rear


@machine_each
def test_center_of_gravity_lies_over_the_contact(m):
    contact = m.contact
    if contact.axles_from_front_in:
        start, end = (n(x) for x in contact.axles_from_front_in)
    else:
        start, end = n(contact.start_from_front_in), n(contact.start_from_front_in) + n(contact.length_in)
    forward = (end - n(m.cg_from_front_in)) / (end - start)
    assert 0.33 <= forward <= 0.55, "share of the contact the center lies ahead of its rear end"
    assert 0.22 <= n(m.cg_height_in) / n(m.height_in) <= 0.5


@machine_each
def test_outside_encloses_contact_and_tie_points(m):
    assert n(m.contact.outer_width_in) <= n(m.width_in)
    assert 2 * n(m.contact.each_width_in) <= n(m.contact.outer_width_in) or m.contact.kind == "drums"
    of_machine = [tie for tie in m.tie if tie.holds == "piece"]
    assert len(of_machine) == 2, "two pairs"
    assert all(tie.both_sides and n(tie.y_in) > 0 for tie in of_machine)
    assert len(m.tie) - 2 == (m.accessory_count or 0), "one more for each accessory"
    for tie in m.tie:
        assert 0 <= n(tie.from_front_in) <= n(m.length_in)
        assert 0 <= n(tie.y_in) <= n(m.width_in) / 2
        assert 0 < n(tie.height_in) < n(m.height_in)


@machine_each
def test_a_machine_weighs_what_such_a_size_weighs(m):
    """Pounds a square foot of its plan: light frames and long booms low, telehandlers high."""
    plan = n(m.length_in) * n(m.width_in) / 144
    assert 30 <= n(m.weight_lb) / plan <= 220
    assert m.climbs_deg or m.climbs_percent


@pytest.mark.parametrize("c", [c for c in CARGO if c.pieces], ids=lambda c: c.id)
def test_blocks_state_their_pieces(c):
    assert c.weight_lb is None
    p = c.pieces
    assert all(v is not None for v in (p.weight_lb, p.length_in, p.width_in, p.height_in))
