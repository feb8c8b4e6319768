"""A person who centres a star and turns two knobs on a mount that is not what it should be.

None of the product's code: the mounts are turned by scipy's `Rotation` (`tests/axis/turned_rigs`),
the star is brought to the middle by Newton's steps, every error is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from turned_rigs import Rigs, shafts

SKY_DEG_PER_S = 360.0 / 86164.0905


@dataclass
class Told:
    """What the person was told: knob turns clockwise, seconds from the star to the object."""

    hour_turns: float
    declination_turns: float
    seconds: float
    seconds_sigma: float


@dataclass
class Hands:
    """One standard deviation each: turns, turns, degrees on the sky; a miscount for each turn."""

    count: float
    miscount: float
    centre_deg: float
    wrong_star: float
    periodic_deg: float


def rigs(rng, count, latitude_deg, axis_arcmin, air):
    """Mounts whose axis is off by so much, and whose cone and lean are those of ordinary ones."""

    def draw(sigma):
        return rng.normal(0.0, sigma, count)

    still = np.zeros(count)
    return Rigs(
        np.full(count, latitude_deg), draw(axis_arcmin), draw(axis_arcmin), still, still,
        draw(20.0), draw(10.0), air,
    )  # fmt: skip


def pointed_on(mounts, side, hour_h, declination_deg):
    """Shaft angles (degrees) that bring places (n,) to the middle, by Newton's steps."""
    at = np.stack(shafts(side, hour_h, declination_deg))
    step = 1e-3
    for _ in range(5):
        h, d, _ = mounts.stars_at(*at)
        h1, d1, _ = mounts.stars_at(at[0] + step, at[1])
        h2, d2, _ = mounts.stars_at(at[0], at[1] + step)
        off = np.stack([_wrap(15.0 * (hour_h - h)), declination_deg - d])
        slope = (
            np.array([[_wrap(15.0 * (h1 - h)), _wrap(15.0 * (h2 - h))], [d1 - d, d2 - d]]) / step
        )
        at = at + np.linalg.solve(np.moveaxis(slope, -1, 0), off.T[..., None])[..., 0].T
    return at


def share_within(rng, mounts, side, star, thing, told, hands, radius_deg, driven=False):
    """How often (0-1) the object stands within the field. `star`, `thing`: places on arrival."""
    n = len(mounts.high)
    spread = hands.centre_deg * rng.normal(size=(2, n))
    star_h = star[0] - (told.seconds * SKY_DEG_PER_S) / 15.0
    star_d = np.full(n, star[1]) + spread[1]
    star_h = star_h + spread[0] / np.cos(np.radians(star_d)) / 15.0
    at = pointed_on(mounts, side, star_h, star_d)
    # Looking along the axis' upper end a clockwise turn goes west in the north, east in the south,
    # and turns the declination shaft alike on both tube sides.
    west = mounts.lead
    turned = []
    for turns in (told.hour_turns, told.declination_turns):
        wrong = rng.random(n) < 1.0 - (1.0 - hands.miscount) ** abs(turns)
        one = np.where(rng.random(n) < 0.5, 1.0, -1.0) * wrong
        made = 2.5 * (turns + one + rng.normal(0.0, hands.count, n))
        touched = 1.0 if turns else 0.0
        turned.append(touched * (made + rng.normal(0.0, hands.periodic_deg, n)))
    late = rng.normal(0.0, told.seconds_sigma, n)
    motor = (told.seconds + late) * SKY_DEG_PER_S if driven else 0.0
    h, d, _ = mounts.stars_at(at[0] + west * turned[0] + motor, at[1] + turned[1])
    there = thing[0] + late * SKY_DEG_PER_S / 15.0
    off = apart_deg(h, d, there, thing[1])
    return float(np.mean((off <= radius_deg) & (rng.random(n) >= hands.wrong_star)))


def share_passing(rng, mounts, side, star, thing, hands, radius_deg):
    """How often (0-1) an object comes through the field of a tube left alone on a star."""
    n = len(mounts.high)
    spread = hands.centre_deg * rng.normal(size=(2, n))
    star_d = np.full(n, star[1]) + spread[1]
    star_h = star[0] + spread[0] / np.cos(np.radians(star_d)) / 15.0
    # The sky turns about the true pole, and the air lifts what it brings: by altitude only.
    off = tube_off_path(mounts, pointed_on(mounts, side, star_h, star_d), thing[1])
    return float(np.mean((np.abs(off) <= radius_deg) & (rng.random(n) >= hands.wrong_star)))


def tube_off_path(mounts, at, declination_deg):
    """How far north of a star's daily path the tubes point, degrees."""
    return mounts.stars_at(*at)[1] - declination_deg


def apart_deg(h1, d1, h2, d2):
    a, b, gap = np.radians(d1), np.radians(d2), np.radians(15.0 * (h1 - h2))
    chord = np.sin((a - b) / 2) ** 2 + np.cos(a) * np.cos(b) * np.sin(gap / 2) ** 2
    return np.degrees(2.0 * np.arcsin(np.sqrt(chord)))


def _wrap(angle_deg):
    return (angle_deg + 180.0) % 360.0 - 180.0
