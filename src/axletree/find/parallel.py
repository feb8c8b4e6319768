"""Which star stands on the object's own parallel, so that one knob or patience alone leads there?

The oldest way of finding: centre a star of the same declination, leave the declination alone, and
turn the hour knob, or, undriven, wait until the sky has brought the object. Stars of the naked eye
with a letter or a number serve, and are taken for others the sooner the fainter they are.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.find.person import NAMED_MARGIN_MAG, wrong_named_star
from axletree.find.start_star import StartStar, WaysFrom
from axletree.find.turning.arrival import (
    Arrival,
    arrival,
    on_sky_deg2,
    shaft_covariance_deg2,
    wrong_turns,
)
from axletree.find.turning.knobs import knob_figures
from axletree.find.turning.seeking import Seeking, naked_eye_mag, named_stars
from axletree.find.turning.shafts import turns_within, waiting_s
from axletree.kit.frozen import dataclass
from axletree.sky.directions import wrap_180
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# How far off the parallel, and along it, such a star may stand (our figures).
OFF_DEG, ALONG_DEG = 0.4, 30.0
# What fails as often as this isn't offered (our figure).
LEAST_CHANCE = 0.5
_MORE_DEG = 0.3  # what air and axis change between two places of one declination


@dataclass(frozen=True)
class Parallel:
    """A star on the object's parallel, and both ways from there.

    `off_deg`: by how much the object stands north of where the star's parallel leads, as the
    declination shaft counts. `hour_degrees`, west positive, and `hour_turns`, clockwise positive
    (None without a knob), with `turns_sigma`; `by_turns` the chances then. `wait_minutes` until the
    sky brings the object to the middle, with its error, and `by_waiting` (0-1) the chance that it
    comes through the weakest eyepiece's field: None where it would not come, or the mount is
    driven. `seconds` from the star centred to the object in view, by turns.
    """

    star: StartStar
    off_deg: float
    hour_degrees: float
    hour_turns: float | None
    turns_sigma: float | None
    seconds: float
    by_turns: Arrival
    wait_minutes: float | None
    wait_sigma_minutes: float | None
    by_waiting: float | None

    @property
    def best(self) -> float:
        """The better way's chance."""
        turned = 0.0 if self.hour_turns is None else self.by_turns.eyepiece
        return max(turned, self.by_waiting or 0.0)


def parallels(seeking: Seeking, count: int = 1) -> tuple[Parallel, ...]:
    """The best stars on the object's parallel, best first; () where there is none."""
    listed = named_stars(seeking, proper=False)
    thing = seeking.thing
    off = listed.places.declination_deg[:, 0] - thing.declination_deg[0]
    along = wrap_180(15.0 * (listed.places.hour_angle_h[:, 0] - thing.hour_angle_h[0]))
    near = np.flatnonzero(
        (np.abs(off) <= OFF_DEG + _MORE_DEG)
        & (np.abs(along) <= ALONG_DEG)
        & (listed.dimmed_mag <= naked_eye_mag(seeking) - NAMED_MARGIN_MAG)
    )
    if not len(near):
        return ()
    hour, declination = knob_figures(seeking.mounted)
    ways = WaysFrom.of(seeking, listed, near, (hour, declination.left_alone()))
    order = [k for k in ways.order() if abs(ways.turns.declination_deg[k]) <= OFF_DEG]
    refused = ways.refusals(order)
    found = [_parallel(ways, k) for k, no in zip(order, refused, strict=True) if no is None]
    worth = [one for one in found if one.best >= LEAST_CHANCE]
    return tuple(sorted(worth, key=lambda one: -one.best)[:count])


def _parallel(ways: WaysFrom, k: int) -> Parallel:
    seeking, star = ways.seeking, ways.star(k)
    mounted, hour = seeking.mounted, ways.knobs[0]
    one = turns_within(mounted, star.place, seeking.thing, ways.turns.seconds[k : k + 1])
    shafts = shaft_covariance_deg2(mounted, one, ways.knobs)
    off = one.to_object[0, :, 1] * one.declination_deg[0]
    right = 1.0 - float(wrong_named_star(star.magnitude_v or 0.0, mounted.skill))
    size = hour.degrees_per_turn
    by_knob = bool(hour.by_knob(one.hour_deg)[0]) and size is not None
    wait_s, wait_sigma_s, passes = _waiting(ways, star, right)
    sigma = math.sqrt(float(hour.turn_variance_deg2(one.hour_deg, mounted.skill)[0]))
    return Parallel(
        star=star,
        off_deg=float(one.declination_deg[0]),
        hour_degrees=float(one.hour_deg[0]),
        hour_turns=hour.clockwise * float(one.hour_deg[0]) / size if by_knob and size else None,
        turns_sigma=sigma / size if by_knob and size else None,
        seconds=float(one.seconds[0]),
        by_turns=arrival(
            mounted, on_sky_deg2(one, shafts)[0], wrong_turns(mounted, one, ways.knobs), right,
            (float(off[0]), float(off[1])),
        ),
        wait_minutes=None if passes is None else wait_s / 60.0,
        wait_sigma_minutes=None if passes is None else wait_sigma_s / 60.0,
        by_waiting=passes,
    )  # fmt: skip


def _waiting(ways: WaysFrom, star: StartStar, right: float) -> tuple[float, float, float | None]:
    """Seconds until the object comes, with error, and the chance that it comes through the field.

    None where it has gone by, or a motor carries the tube along.
    """
    seeking = ways.seeking
    mounted = seeking.mounted
    wait = waiting_s(mounted, star.place, seeking.thing)
    if mounted.driven or wait[0] <= 0.0:
        return 0.0, 0.0, None
    alone = (ways.knobs[0].left_alone(), ways.knobs[1])
    one = turns_within(mounted, star.place, seeking.thing, wait)
    if not bool(one.told[0]):
        return 0.0, 0.0, None
    # Whoever waits looks on: when it comes is no matter, only how far north it passes.
    still = shaft_covariance_deg2(mounted, one, alone, timed=False)
    spread = on_sky_deg2(one, still)[0]
    off = float(one.to_object[0, 1, 1] * one.declination_deg[0])
    passes = _between(-mounted.eyepiece_field_deg / 2.0, mounted.eyepiece_field_deg / 2.0, off,
                      math.sqrt(spread[1, 1]))  # fmt: skip
    hour_sigma_s = math.sqrt(float(still[0, 0, 0])) / (SIDEREAL_RATE_ARCSEC_PER_S / 3600.0)
    return float(wait[0]), hour_sigma_s, right * passes


def _between(low: float, high: float, mean: float, sigma: float) -> float:
    """Share of a normal between two values."""

    def below(x: float) -> float:
        return 0.5 * (1.0 + math.erf((x - mean) / (sigma * math.sqrt(2.0))))

    return below(high) - below(low)
