"""How do the hands turn from a bright star to an object, and does it stand in the field then?

Signs: a turn of a shaft is positive to the west and to the north, one of a knob clockwise, as the
person sees it who looks at the knob. The turns hold for the time that the way takes: undriven, the
sky's turn since the star was centred is in them. What is reckoned with is that the star was brought
to the middle by a last turn of each knob to the side that `last_move` names; the object is come to
from the same side, so that the backlash cancels.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from axletree.find.person import wrong_named_star
from axletree.find.turning.arrival import (
    SKY_DEG_PER_S,
    Arrival,
    arrival,
    on_sky_deg2,
    seconds_sigma,
    shaft_covariance_deg2,
    wrong_turns,
)
from axletree.find.turning.knobs import (
    KnobFigures,
    LockReason,
    Mounted,
    knob_figures,
    sky_turns_per_minute,
)
from axletree.find.turning.shafts import ShaftTurns, SkyPlace, shaft_turns
from axletree.kit.frozen import dataclass

# Past the place and back, over the backlash, where the way leads to the other side (our figure).
OVERSHOOT_TURNS = 0.25


class Way(StrEnum):
    """A way on the sky that an axis takes the tube."""

    WEST = "west"
    EAST = "east"
    NORTH = "north"
    SOUTH = "south"


class StepsRefusal(StrEnum):
    """Why there are no steps: this tube, leaning as it does, never gets so near to the pole; or the
    star stands so near to it that an axis which is a little off makes its hour angle a guess."""

    OUT_OF_REACH = "out_of_reach"
    STAR_AT_THE_POLE = "star_at_the_pole"


class ChanceFrom(StrEnum):
    """What a chance comes from: assumed errors of a person, or those that a log has learned."""

    ASSUMED = "assumed"
    LEARNED = "learned"


@dataclass(frozen=True)
class AxisTurn:
    """What one axis does, with its error; degrees of the shaft, west and north positive.

    `turns` of the knob, clockwise positive, None where the lock is opened for `lock`.
    `circle_deg`: by how much the circle's figures rise, as the kit says that it is marked and sits;
    degrees of the circle, 15 to an hour.
    `last_move`: the way of the last move, at the star and at the object. `overshoot_turns` is how
    far to turn past the place and back for it, 0 where the way leads there anyhow.
    """

    degrees: float
    sigma_deg: float
    turns: float | None
    sigma_turns: float | None
    circle_deg: float
    circle_sigma_deg: float
    last_move: Way
    last_move_clockwise: bool
    overshoot_turns: float
    lock: LockReason | None

    @property
    def left_alone(self) -> bool:
        """Whether the turn is less than its own error: a hand does no better by making it."""
        return (
            self.turns is not None and self.sigma_turns is not None
            and abs(self.turns) < self.sigma_turns
        )  # fmt: skip


@dataclass(frozen=True)
class Steps:
    """The way from a star to an object.

    `seconds` from the star centred to the object in view, with error; for each minute that it takes
    longer, `later_turns_per_minute` more of the hour knob (clockwise positive; 0 where driven, None
    without a knob). `by_turns` with knobs as far as they go, `by_circles` with both locks open.
    """

    hour: AxisTurn
    declination: AxisTurn
    seconds: float
    seconds_sigma: float
    later_turns_per_minute: float | None
    by_turns: Arrival
    by_circles: Arrival
    chance_from: ChanceFrom

    @property
    def best(self) -> Arrival:
        """The surer way: by knobs as far as they go, or by the circles alone."""
        surer = self.by_circles.eyepiece > self.by_turns.eyepiece
        return self.by_circles if surer else self.by_turns


def steps(
    mounted: Mounted, star: SkyPlace, star_magnitude_v: float | None, thing: SkyPlace,
    chance_from: ChanceFrom = ChanceFrom.ASSUMED, found_star: float = 1.0,
) -> Steps | StepsRefusal:  # fmt: skip
    """The turns from a star to an object.

    `star` and `thing` (1,) are the places of both at the time of arrival, apparent of date without
    air. `star_magnitude_v` decides how easily the star is taken for another; None: it never is.
    `found_star`: chance that the star itself is found.
    """
    knobs = knob_figures(mounted)
    turned = shaft_turns(mounted, star, thing, knobs)
    if not turned.reached[0]:
        return StepsRefusal.OUT_OF_REACH
    if not turned.told[0]:
        return StepsRefusal.STAR_AT_THE_POLE
    right = found_star
    if star_magnitude_v is not None:
        right *= 1.0 - float(wrong_named_star(star_magnitude_v, mounted.skill))
    by_turns, by_circles = (
        shaft_covariance_deg2(mounted, turned, knobs, by_circles=circles)
        for circles in (False, True)
    )
    seconds = float(turned.seconds[0])
    return Steps(
        hour=_axis(knobs[0], turned, mounted, 0),
        declination=_axis(knobs[1], turned, mounted, 1),
        seconds=seconds,
        seconds_sigma=float(seconds_sigma(mounted, turned.seconds)[0]),
        later_turns_per_minute=sky_turns_per_minute(mounted, knobs[0]),
        by_turns=arrival(
            mounted, on_sky_deg2(turned, by_turns)[0],
            wrong_turns(mounted, turned, knobs), right,
        ),
        by_circles=arrival(mounted, on_sky_deg2(turned, by_circles)[0], (), right),
        chance_from=chance_from,
    )  # fmt: skip


def _circle_deg(mounted: Mounted, turned: ShaftTurns) -> float:
    """By how much the hour circle's figures rise; a driven one goes on with the sky meanwhile."""
    circles = mounted.kit.mount.circles
    change = float(turned.hour_circle_deg[0])
    if circles.hour_circle == "driven" and mounted.driven:
        change -= float(turned.seconds[0]) * SKY_DEG_PER_S
    return -change if circles.hour_marks == "right ascension" else change


def _axis(knob: KnobFigures, turned: ShaftTurns, mounted: Mounted, k: int) -> AxisTurn:
    """One axis of the first star's turns."""
    turn = (turned.hour_deg, turned.declination_deg)[k]
    degrees = float(turn[0])
    by_knob = bool(knob.by_knob(turn)[0])
    positive = (Way.WEST, Way.NORTH)[k]
    # The hour knob ends going west, as it then goes on to follow the sky; the other one as it goes.
    last = positive if k == 0 or degrees >= 0.0 else Way.SOUTH
    back = by_knob and k == 0 and degrees < 0.0
    size = knob.degrees_per_turn
    sigma = float(np.sqrt(knob.turn_variance_deg2(turn, mounted.skill)[0]))
    return AxisTurn(
        degrees=degrees,
        sigma_deg=sigma,
        turns=knob.clockwise * degrees / size if by_knob and size is not None else None,
        sigma_turns=sigma / size if by_knob and size is not None else None,
        circle_deg=_circle_deg(mounted, turned) if k == 0 else degrees,
        circle_sigma_deg=float(np.sqrt(knob.circle_variance_deg2())),
        last_move=last,
        last_move_clockwise=(knob.clockwise > 0) == (last is positive),
        overshoot_turns=knob.backlash_turns + OVERSHOOT_TURNS if back else 0.0,
        lock=None if by_knob else knob.beyond,
    )
