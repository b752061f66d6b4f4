"""What the coupling allows: coupler, hitch, ball, and the load that rests between trailer and truck."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.rules.tables import by_code, column, figure

BALL, GOOSENECK, KINGPIN, PINTLE = range(4)


@check(
    id="coupler-gross",
    title="coupler against the loaded trailer",
    kind="rating",
    group="coupling",
    demand="trailer_gross_lb",
    limit="coupler_gross_rating_lb",
    sources=("COUPLING-RATINGS",),
    says="The coupler is stamped with the heaviest trailer it may join; the loaded trailer may not weigh more.",
    settle="read the rating stamped on the coupler",
)
def coupler_gross(*, trailer_gross_lb, coupler_gross_rating_lb):
    """Loaded trailer against the gross rating of its coupler.

    References
    ----------
    COUPLING-RATINGS
    """
    return trailer_gross_lb, coupler_gross_rating_lb


@check(
    id="coupler-vertical",
    title="coupler against the load on it",
    kind="rating",
    group="coupling",
    demand="coupler_load_lb",
    limit="coupler_vertical_rating_lb",
    sources=("COUPLING-RATINGS",),
    says="What rests on the coupler may not be more than it is rated to carry.",
    settle="weigh the coupler load, and read the rating on the coupler",
)
def coupler_vertical(*, coupler_load_lb, coupler_vertical_rating_lb):
    """Coupler load against the vertical rating of the coupler.

    References
    ----------
    COUPLING-RATINGS
    """
    return coupler_load_lb, coupler_vertical_rating_lb


def _as_used(weight_distribution, carrying, distributing):
    """The weight-carrying rating, or the distributing one where weight distribution is used."""
    used = np.asarray(weight_distribution, float)
    return np.where(used == 0, carrying, np.asarray(distributing, float) + 0.0 * used)


@check(
    id="hitch-gross",
    title="hitch on the truck against the loaded trailer",
    kind="rating",
    group="coupling",
    demand="trailer_gross_lb",
    limit="where(weight_distribution == 0, hitch_gross_rating_lb, hitch_wd_gross_rating_lb)",
    sources=("COUPLING-RATINGS",),
    says="The hitch has two ratings, plain and weight-distributing; the loaded trailer must be within the one in use.",
    settle="read the ratings on the hitch's label",
)
def hitch_gross(*, trailer_gross_lb, weight_distribution, hitch_gross_rating_lb, hitch_wd_gross_rating_lb):
    """Loaded trailer against the hitch's gross rating as used: weight-carrying or distributing.

    References
    ----------
    COUPLING-RATINGS
    """
    return trailer_gross_lb, _as_used(weight_distribution, hitch_gross_rating_lb, hitch_wd_gross_rating_lb)


@check(
    id="hitch-vertical",
    title="hitch on the truck against the load on it",
    kind="rating",
    group="coupling",
    demand="coupler_load_lb",
    limit="where(weight_distribution == 0, hitch_vertical_rating_lb, hitch_wd_vertical_rating_lb)",
    sources=("COUPLING-RATINGS",),
    says="What rests on the hitch may not be more than its rating, plain or weight-distributing as used.",
    settle="weigh the coupler load, and read the ratings on the hitch's label",
)
def hitch_vertical(*, coupler_load_lb, weight_distribution, hitch_vertical_rating_lb, hitch_wd_vertical_rating_lb):
    """Coupler load, before the spring bars are drawn up, against the hitch's vertical rating as used.

    References
    ----------
    COUPLING-RATINGS
    """
    return coupler_load_lb, _as_used(weight_distribution, hitch_vertical_rating_lb, hitch_wd_vertical_rating_lb)


@check(
    id="hitch-kind",
    title="a hitch of the trailer's kind on the truck",
    kind="fit",
    group="coupling",
    demand="1",
    limit="hitch_present",
    unit="",
    sources=("COUPLING-MATCH",),
    says="The truck needs a hitch of the kind the trailer couples to.",
    settle="look at what is on the truck",
)
def hitch_kind(*, hitch_present):
    """Whether the truck has a hitch of the trailer's kind.

    References
    ----------
    COUPLING-MATCH
    """
    return 1.0, hitch_present


@check(
    id="ball-size",
    title="ball size against the coupler",
    kind="fit",
    group="coupling",
    demand="where(coupling_kind > 1, 0, 1)",
    limit="where(coupling_kind > 1, inf, abs(coupler_ball_size_in - hitch_ball_size_in) < 0.01)",
    unit="",
    sources=("BALL-MATCH",),
    says="The ball must be the size the coupler is made for; a smaller ball does not hold, whatever the distance.",
    settle="read the size stamped on ball and coupler",
)
def ball_size(*, coupling_kind, coupler_ball_size_in, hitch_ball_size_in):
    """Ball on the truck against the ball the coupler is made for; ball couplers and goosenecks only.

    References
    ----------
    BALL-MATCH
    """
    kind = np.asarray(coupling_kind, float)
    apart = np.abs(np.asarray(coupler_ball_size_in, float) - hitch_ball_size_in)
    same = np.where(np.isnan(apart + kind), np.nan, apart < 0.01)
    return np.where(kind > GOOSENECK, 0.0, 1.0), np.where(kind > GOOSENECK, np.inf, same)


@check(
    id="gooseneck-ball",
    title="2-5/16 in gooseneck ball against the loaded trailer",
    kind="guidance",
    group="coupling",
    demand="where((coupling_kind == 1) * (coupler_ball_size_in < 2.99), trailer_gross_lb, 0)",
    limit="where((coupling_kind == 1) * (coupler_ball_size_in < 2.99), 30000, inf)",
    sources=("COMMON-PRACTICE",),
    says="A 2-5/16 in gooseneck ball is the choice up to 30,000 lb gross; above that the trade uses a 3 in ball.",
    settle="read the size stamped on ball and coupler",
)
def gooseneck_ball(*, coupling_kind, coupler_ball_size_in, trailer_gross_lb):
    """Loaded gooseneck on a ball smaller than 3 in against the weight up to which the trade uses one.

    References
    ----------
    COMMON-PRACTICE
    """
    most = figure("towing-guidance", "gooseneck_small_ball_gross_lb")
    kind, size = np.asarray(coupling_kind, float), np.asarray(coupler_ball_size_in, float)
    small = np.where(np.isnan(size + kind), np.nan, size < 2.99)
    other = (kind == BALL) | (kind == KINGPIN) | (kind == PINTLE) | (small == 0)
    return np.where(other, 0.0, trailer_gross_lb + 0.0 * small), np.where(other, np.inf, most)


@check(
    id="distribution-kind",
    title="weight distribution only on a ball hitch",
    kind="fit",
    group="coupling",
    demand="weight_distribution",
    limit="coupling_kind == 0",
    unit="",
    sources=("DISTRIBUTION-KIND",),
    says="A weight-distributing hitch works on a ball coupler only, never on a gooseneck, kingpin or pintle.",
    settle="say whether weight distribution is used",
)
def distribution_kind(*, weight_distribution, coupling_kind):
    """Weight distribution in use against whether the coupling takes it.

    References
    ----------
    DISTRIBUTION-KIND
    """
    kind = np.asarray(coupling_kind, float)
    return weight_distribution, np.where(np.isnan(kind), np.nan, kind == BALL)


@check(
    id="coupler-lift",
    title="load on the coupler, not lift",
    kind="fit",
    group="coupling",
    demand="trailer_gross_lb - coupler_load_lb",
    limit="trailer_gross_lb",
    sources=("STATICS-BALANCE",),
    says="The trailer must press on the hitch, never lift it; where it lifts, the load sits too far back.",
    settle="weigh the coupler load",
)
def coupler_lift(*, trailer_gross_lb, coupler_load_lb):
    """What the axles carry against the whole weight: were it more, the coupler would be lifting.

    References
    ----------
    STATICS-BALANCE
    """
    return trailer_gross_lb - coupler_load_lb, trailer_gross_lb


@check(
    id="coupler-share-low",
    title="coupler load at least the share advised",
    kind="guidance",
    group="coupling",
    demand="where((coupling_kind == 1) + (coupling_kind == 2), 0.15, 0.10) * trailer_gross_lb",
    limit="coupler_load_lb",
    scale="demand",
    sources=("SHARE-GUIDANCE", "SHARE-PINTLE"),
    says="Too little of the weight on the coupler and the trailer sways; move the load forward.",
    settle="weigh the coupler load",
)
def coupler_share_low(*, coupling_kind, trailer_gross_lb, coupler_load_lb):
    """Coupler load against the low end of the share advised for the kind of coupling.

    References
    ----------
    SHARE-GUIDANCE, SHARE-PINTLE
    """
    return by_code(coupling_kind, column("coupler-shares", "low")) * trailer_gross_lb, coupler_load_lb


@check(
    id="coupler-share-high",
    title="coupler load at most the share advised",
    kind="guidance",
    group="coupling",
    demand="coupler_load_lb",
    limit="where((coupling_kind == 1) + (coupling_kind == 2), 0.25, 0.15) * trailer_gross_lb",
    sources=("SHARE-GUIDANCE", "SHARE-PINTLE"),
    says="More of the weight on the coupler than advised burdens the truck; move the load back.",
    settle="weigh the coupler load",
)
def coupler_share_high(*, coupling_kind, trailer_gross_lb, coupler_load_lb):
    """Coupler load against the high end of the share advised for the kind of coupling.

    References
    ----------
    SHARE-GUIDANCE, SHARE-PINTLE
    """
    return coupler_load_lb, by_code(coupling_kind, column("coupler-shares", "high")) * trailer_gross_lb
