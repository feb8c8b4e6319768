"""A person who follows a hop, drawn at random: code of its own, plain spherical trigonometry.

What they do: name a star and aim along the tube; then, step by step, judge a place and a
brightness with errors, look at the stars about each star that might be meant, take the one that
fits best by the sum of squares, and go on from it, right or wrong. Stars near the limit are seen
or not, once for the whole hop.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from axletree.find.hopping.way import HopSight, StarsAbout
from axletree.find.person import NOTICE_MAG, Skill, wrong_named_star

MISSING = 25.0  # as for the person who is told: nothing there is as bad as five errors


@dataclass(frozen=True)
class Told:
    """One star to take: its row and its partners' rows."""

    star: int
    partners: tuple[int, ...]


def offsets(
    hour_deg: np.ndarray, dec_deg: np.ndarray, hour0_deg: float, dec0_deg: float
) -> tuple[np.ndarray, np.ndarray]:
    """East and north of a middle, degrees along great circles (haversines and a bearing)."""
    lam, phi = np.radians(-hour_deg), np.radians(dec_deg)
    lam0, phi0 = np.radians(-hour0_deg), np.radians(dec0_deg)
    hav = np.sin((phi - phi0) / 2) ** 2 + np.cos(phi) * np.cos(phi0) * np.sin((lam - lam0) / 2) ** 2
    far = np.degrees(2 * np.arcsin(np.sqrt(np.clip(hav, 0, 1))))
    bearing = np.arctan2(
        np.sin(lam - lam0) * np.cos(phi),
        np.cos(phi0) * np.sin(phi) - np.sin(phi0) * np.cos(phi) * np.cos(lam - lam0),
    )
    return far * np.sin(bearing), far * np.cos(bearing)


class Person:
    """One draw: what they notice, and where they get to."""

    def __init__(
        self, about: StarsAbout, sight: HopSight, skill: Skill, random: np.random.Generator
    ) -> None:
        self.about, self.sight, self.skill, self.random = about, sight, skill, random
        blur = NOTICE_MAG * random.standard_normal(len(about.magnitude_v))
        self.seen = about.magnitude_v + blur < sight.finder_limit_mag
        self.R = sight.finder_field_deg / 2

    def around(self, star: int) -> tuple[np.ndarray, np.ndarray]:
        a = self.about
        return offsets(a.hour_deg, a.declination_deg, a.hour_deg[star], a.declination_deg[star])

    def place_error(self, far_deg: float) -> float:
        part, floor = self.skill.distance_part * far_deg, self.skill.distance_field * self.R
        return float(np.sqrt(part**2 + floor**2))

    def take(
        self, x: np.ndarray, y: np.ndarray, place: tuple[float, float], sigma: float, told: Told
    ) -> int | None:
        """The star that fits best; x, y: all stars from the middle of the finder."""
        m, s = self.about.magnitude_v, self.skill
        bright = m[told.star] + s.brightness_mag * self.random.standard_normal()
        before = np.flatnonzero(self.seen & (x**2 + y**2 <= self.R**2))
        if not len(before):
            return None
        score = ((x[before] - place[0]) ** 2 + (y[before] - place[1]) ** 2) / sigma**2
        score += ((m[before] - bright) / s.brightness_mag) ** 2
        order = before[np.argsort(score)]
        fit = np.sort(score)
        px, py = self.around(told.star)
        looks = []
        for p in told.partners:
            wrong = self.place_error(float(np.hypot(px[p], py[p])))
            dx, dy = self.random.standard_normal(2) * wrong
            b = m[p] + s.brightness_mag * self.random.standard_normal()
            looks.append((px[p] + dx, py[p] + dy, b, wrong))
        best, least = None, np.inf
        for k, total in zip(order, fit, strict=True):
            if total >= least:
                break  # partners only add
            kx, ky = self.around(int(k))
            for lx, ly, b, wrong in looks:
                d = ((kx - lx) ** 2 + (ky - ly) ** 2) / wrong**2
                d = d + ((m - b) / s.brightness_mag) ** 2
                d[~self.seen] = MISSING
                d[k] = MISSING
                total += min(MISSING, float(d.min()))
            if total < least:
                best, least = int(k), total
        return best

    def arrives(self, hop: tuple[Told, ...]) -> bool:
        s, a = self.skill, self.about
        if self.random.random() < float(wrong_named_star(a.magnitude_v[hop[0].star], s)):
            return False
        ex, ey = self.random.standard_normal(2) * s.sight_deg
        while np.hypot(ex, ey) > self.R:  # no star so bright in the field: they aim once more
            ex, ey = self.random.standard_normal(2) * s.sight_deg
        x, y = self.around(hop[0].star)
        at = self.take(x - ex, y - ey, (0.0, 0.0), s.sight_deg, hop[0])
        for before, told in pairwise(hop):
            if at is None:
                return False
            tx, ty = self.around(before.star)
            tx, ty = float(tx[told.star]), float(ty[told.star])
            wrong = self.place_error(float(np.hypot(tx, ty)))
            dx, dy = self.random.standard_normal(2) * wrong
            x, y = self.around(at)
            at = self.take(x, y, (tx + dx, ty + dy), wrong, told)
        if at is None:
            return False
        last = hop[-1].star
        goal = (np.array([a.object_hour_deg]), np.array([a.object_declination_deg]))
        gx, gy = offsets(*goal, a.hour_deg[last], a.declination_deg[last])
        wrong = float(np.hypot(self.place_error(float(np.hypot(gx[0], gy[0]))), 0.0))
        dx, dy = self.random.standard_normal(2) * np.hypot(wrong, self.sight.finder_off_deg)
        hx, hy = offsets(*goal, a.hour_deg[at], a.declination_deg[at])
        miss = np.hypot(hx[0] - gx[0] - dx, hy[0] - gy[0] - dy)
        return bool(miss <= self.sight.eyepiece_field_deg / 2)
