"""Where may the tube point after the turns, how far off the object?

Everything that goes wrong by chance becomes an error of the two shafts' turns, and those one of
the place on the sky. First order: C. F. Gauss 1823, Theoria combinationis.
"""

from __future__ import annotations

import numpy as np

from axletree.find.chance import in_field
from axletree.find.turning.knobs import KnobFigures, Mounted
from axletree.find.turning.shafts import ShaftTurns
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

SKY_DEG_PER_S = SIDEREAL_RATE_ARCSEC_PER_S / 3600.0


@dataclass(frozen=True)
class Arrival:
    """How surely the object is there: `covariance_deg2` (2, 2) of where the tube points, degrees
    squared east and north on the sky, everything counted right; chances 0-1 that the object lies in
    the weakest eyepiece's field and in the finder's (None without one), miscounted turns and the
    wrong star included."""

    covariance_deg2: tuple[tuple[float, float], tuple[float, float]]
    eyepiece: float
    finder: float | None


def shaft_covariance_deg2(
    mounted: Mounted, turns: ShaftTurns, knobs: tuple[KnobFigures, KnobFigures],
    by_circles: bool = False, timed: bool = True,
) -> Floats:  # fmt: skip
    """Covariance (n, 2, 2) of the turns of both shafts, degrees squared.

    Counting or reading, gears, backlash, centring the star, the mount's own errors (of which the
    index errors cancel) and, undriven, the time of arrival. `by_circles`: both locks open; not
    `timed`: the time doesn't matter.
    """
    skill = mounted.skill
    out = turns.model_covariance_deg2.copy()
    for k, (knob, turn) in enumerate(
        zip(knobs, (turns.hour_deg, turns.declination_deg), strict=True)
    ):
        circle = knob.circle_variance_deg2()
        out[..., k, k] += circle if by_circles else knob.turn_variance_deg2(turn, skill)
    centred = skill.centre_field * mounted.eyepiece_field_deg / 2.0
    back = np.linalg.inv(turns.from_star)
    out = out + centred**2 * back @ np.swapaxes(back, -1, -2)
    if timed and not mounted.driven:
        out[..., 0, 0] += (SKY_DEG_PER_S * seconds_sigma(mounted, turns.seconds)) ** 2
    return out


def seconds_sigma(mounted: Mounted, seconds: Floats) -> Floats:
    """How well a person keeps the time that a way was reckoned with."""
    skill = mounted.skill
    return np.maximum(skill.least_time_s, skill.time_part * np.asarray(seconds))


def on_sky_deg2(turns: ShaftTurns, shafts_deg2: Floats) -> Floats:
    """Covariance (n, 2, 2) of where the tube points, degrees squared east and north on the sky."""
    return np.asarray(turns.to_object @ shafts_deg2 @ np.swapaxes(turns.to_object, -1, -2))


def miscounts(
    mounted: Mounted, turns: ShaftTurns, knobs: tuple[KnobFigures, KnobFigures]
) -> Floats:
    """Chance (n, 2) that the run of turns of either knob is one turn wrong."""
    found = []
    for knob, turn in zip(knobs, (turns.hour_deg, turns.declination_deg), strict=True):
        counted = np.abs(turn) / (knob.degrees_per_turn or np.inf)
        wrong = 1.0 - (1.0 - mounted.skill.miscount) ** counted
        found.append(np.where(knob.by_knob(turn), wrong, 0.0))
    return np.stack(found, axis=-1)


def chance_within(
    covariance_deg2: Floats, radius_deg: float, wrong_turns: tuple[tuple[float, Floats], ...],
    right_star: float, offset_deg: tuple[float, float] = (0.0, 0.0),
) -> float:  # fmt: skip
    """Chance 0-1 that the object lies within a field, miscounts and the wrong star included.

    `wrong_turns`: of each knob the chance to be one turn out, to either side alike, and where one
    turn leads (2,) on the sky; `offset_deg` where the object stands with everything right.
    """
    total = 0.0
    cases: list[tuple[float, Floats]] = [(1.0, np.asarray(offset_deg, dtype=np.float64))]
    for wrong, step in wrong_turns:
        if wrong > 0.0:
            cases = [
                part
                for share, at in cases
                for part in (
                    (share * (1.0 - wrong), at),
                    (share * wrong / 2.0, at + step),
                    (share * wrong / 2.0, at - step),
                )
            ]
    # As far to the other side the field is missed as often: one turn too many, one too few.
    chances: dict[tuple[float, float], float] = {}
    for share, at in cases:
        if share <= 1e-5:
            continue
        place = float(at[0]), float(at[1])
        place = max(place, (-place[0], -place[1]))
        if place not in chances:
            chances[place] = in_field(place, covariance_deg2, radius_deg)
        total += share * chances[place]
    return float(right_star * total)


def arrival(
    mounted: Mounted, covariance_deg2: Floats, wrong: tuple[tuple[float, Floats], ...],
    right_star: float, offset_deg: tuple[float, float] = (0.0, 0.0),
) -> Arrival:  # fmt: skip
    """The chances that belong to a covariance (2, 2); see `chance_within`."""

    def within(field_deg: float) -> float:
        return chance_within(covariance_deg2, field_deg / 2.0, wrong, right_star, offset_deg)

    (a, b), (c, d) = ((float(x) for x in row) for row in covariance_deg2)
    finder = mounted.finder_field_deg
    return Arrival(
        covariance_deg2=((a, b), (c, d)),
        eyepiece=within(mounted.eyepiece_field_deg),
        finder=None if finder is None else within(finder),
    )


def wrong_turns(
    mounted: Mounted, turned: ShaftTurns, knobs: tuple[KnobFigures, KnobFigures]
) -> tuple[tuple[float, Floats], ...]:
    """Of both knobs the chance of a miscounted turn, and where such a turn leads on the sky."""
    chances = miscounts(mounted, turned, knobs)[0]
    return tuple(
        (float(chance), turned.to_object[0, :, k] * knob.degrees_per_turn)
        for k, (chance, knob) in enumerate(zip(chances, knobs, strict=True))
        if knob.degrees_per_turn is not None
    )
