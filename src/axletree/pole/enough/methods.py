"""Which way of aligning is good enough, so that nobody aligns longer than needed?

Every figure here is an estimate of an ordinary careful person with an ordinary mount (common
practice, no source) unless it follows from the kit; each method says how its figure is made up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from axletree.kit.kit import Kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.bore import bore_of
from axletree.pole.aim.scale import scale_setting
from axletree.pole.aim.sight import SCOPE_FIELD_DEG
from axletree.pole.aim.target import PoleTarget
from axletree.pole.enough.blind import blind_path, drift_sigma_arcmin
from axletree.sky.optics import pixel_scale_arcsec, true_field_deg

# Chance that makes a method "good enough".
ENOUGH = 0.9
# How far the axis moves when the bolts are locked, each way.
LOCKING_SIGMA_ARCMIN = 1.0
# A star is placed to this part of a polar scope's field; on an engraved ring, of its radius.
PLACING_PART_OF_FIELD = 0.01
PLACING_PART_OF_RING = 0.05
# A polar scope that nobody has squared to its own axis.
SCOPE_SQUARE_SIGMA_ARCMIN = 3.0
# A star's place in an eyepiece without a cross-hair, as a part of its true field.
READING_PART_OF_FIELD = 0.01
DRIFT_MINUTES = 10.0
# Centre of a turn from three frames over a quarter turn: place of stars in pixels, enlarged.
FRAME_SIGMA_PX, FRAME_ENLARGED = 0.3, 3.0
# A bolt is stopped somewhere within this angle of where it should be.
BOLT_STOP_DEG = 10.0


@dataclass(frozen=True)
class Method:
    """One way of aligning: its error each way (one standard deviation), how long it takes.

    `minutes` from a tripod that stands, the rough setting by compass and scale included.
    `chance` is the probability that the axis ends within the tolerance; `enough` if that is at
    least 90 %. `possible` is false where the kit or the spot lacks something; `why` says what.
    """

    name: str
    minutes: float
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    chance: float
    enough: bool
    possible: bool
    why: str

    @property
    def within_90_arcmin(self) -> float:
        """The radius that the axis stays within nine times out of ten."""
        return radius_of_chance(0.9, self.high_sigma_arcmin, self.east_sigma_arcmin)


def chance_within(radius: float, sigma_high: float, sigma_east: float) -> float:
    """Probability that two independent normal errors together stay within this radius.

    The two-dimensional normal law, integrated outwards in closed form and around by the
    trapezoid rule (exact to rounding for a periodic function).
    """
    s1, s2 = max(sigma_high, 1e-9), max(sigma_east, 1e-9)
    if max(s1, s2) / min(s1, s2) > 1e3:
        return math.erf(radius / max(s1, s2) / math.sqrt(2.0))
    count = 256 + 16 * int(max(s1, s2) / min(s1, s2))
    angle = np.arange(count) * 2.0 * np.pi / count
    A = (np.cos(angle) / s1) ** 2 + (np.sin(angle) / s2) ** 2
    return float(np.mean(-np.expm1(-0.5 * radius * radius * A) / A) / (s1 * s2))


def radius_of_chance(chance: float, sigma_high: float, sigma_east: float) -> float:
    """The radius within which the axis lies with this chance; inverse of `chance_within`."""
    low, high = 0.0, 8.0 * math.hypot(sigma_high, sigma_east)
    for _ in range(60):
        middle = (low + high) / 2.0
        if chance_within(middle, sigma_high, sigma_east) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def bolt_stop_sigma_arcmin(turns_per_degree: float) -> float:
    """Standard deviation of the head after a counted turn: rectangular law over the stop angle."""
    return 60.0 * BOLT_STOP_DEG / 360.0 / turns_per_degree / math.sqrt(12.0)


def scope_sigma_arcmin(scope: PolarScope) -> float:
    """Error each way of setting the pole star in a polar scope: placing and squareness."""
    if scope.ring_radius_arcmin is not None:
        placing = PLACING_PART_OF_RING * scope.ring_radius_arcmin
    else:
        placing = PLACING_PART_OF_FIELD * (scope.field_deg or SCOPE_FIELD_DEG) * 60.0
    return math.hypot(placing, SCOPE_SQUARE_SIGMA_ARCMIN)


def methods(
    kit: Kit,
    target: PoleTarget,
    pole_distance_arcmin: float,
    magnetic_sigma_deg: float,
    limit_arcmin: float,
    *,
    pole_in_view: bool | None = None,
) -> tuple[Method, ...]:
    """Every method with its error for this kit and its chance to stay within `limit_arcmin`.

    In the order of the time they take. `pole_in_view`: None where no skyline is known.
    """
    bolts, scope = kit.mount.bolts, kit.mount.polar_scope
    known = "latitude_scale_offset_deg" in bolts.model_fields_set
    setting = scale_setting(bolts, target, offset_known=known)
    blind = blind_path(target.altitude_deg, setting.sigma_deg, magnetic_sigma_deg)
    hidden = pole_in_view is False
    no_view = "the pole is hidden here"
    flat = max(math.cos(math.radians(target.altitude_deg)), 0.0)
    stop_high = bolt_stop_sigma_arcmin(bolts.altitude_turns_per_degree)
    stop_east = bolt_stop_sigma_arcmin(bolts.azimuth_turns_per_degree) * flat

    found = [
        (
            "compass, level and scale", 5.0, blind.high_sigma_arcmin, blind.east_sigma_arcmin,
            setting.within_scale, "; ".join(s.source for s in blind.steps)
            if setting.within_scale else "the altitude scale ends before this latitude",
        ),
    ]  # fmt: skip
    if scope.kind == "hollow" and scope.bore_diameter_mm and scope.bore_length_mm:
        bore = bore_of(scope.bore_diameter_mm, scope.bore_length_mm)
        sigma = math.hypot(bore.sigma_arcmin(pole_distance_arcmin), LOCKING_SIGMA_ARCMIN)
        made = (
            f"eye {bore.centring_sigma_arcmin:.0f}′ off the bore's middle, star judged to a tenth"
        )
        reach = pole_distance_arcmin < bore.radius_arcmin
        found.append((
            "pole star through the hollow axis", 9.0, sigma, sigma, reach and not hidden,
            no_view if hidden else made if reach else "the star stays outside the bore's field",
        ))  # fmt: skip
    elif scope.kind == "scope":
        sigma = math.hypot(scope_sigma_arcmin(scope), LOCKING_SIGMA_ARCMIN)
        found.append((
            "pole star in the polar scope", 10.0, sigma, sigma, not hidden,
            no_view if hidden
            else f"star placed to {_placing_words(scope)}, scope square to the axis to "
            f"{SCOPE_SQUARE_SIGMA_ARCMIN:.0f}′",
        ))  # fmt: skip
    if kit.camera is not None:
        pixel = float(pixel_scale_arcsec(kit.camera.pixel_um, kit.tube.focal_length_mm))
        frames = FRAME_SIGMA_PX * FRAME_ENLARGED * pixel / 60.0
        found.append((
            "camera frames and bolt turns", 20.0,
            math.hypot(frames, stop_high, LOCKING_SIGMA_ARCMIN),
            math.hypot(frames, stop_east, LOCKING_SIGMA_ARCMIN), True,
            f"frames ±{frames:.2f}′, bolts stopped to {BOLT_STOP_DEG:.0f}° of a turn",
        ))  # fmt: skip
    field, name = strongest_field_deg(kit)
    reading = READING_PART_OF_FIELD * field * 3600.0
    drift = drift_sigma_arcmin(reading, DRIFT_MINUTES)
    found.append((
        "drift test at the eyepiece", 45.0,
        math.hypot(drift, stop_high, LOCKING_SIGMA_ARCMIN),
        math.hypot(drift, stop_east, LOCKING_SIGMA_ARCMIN), True,
        f"{DRIFT_MINUTES:.0f} min on each of two stars, twice; read to {reading:.0f}″ "
        f"in the {name}",
    ))  # fmt: skip
    return tuple(
        Method(
            name=words,
            minutes=minutes,
            high_sigma_arcmin=high,
            east_sigma_arcmin=east,
            chance=(chance := chance_within(limit_arcmin, high, east)),
            enough=chance >= ENOUGH and possible,
            possible=possible,
            why=why,
        )
        for words, minutes, high, east, possible, why in found
    )


def drift_minutes_for(kit: Kit, target: PoleTarget, limit_arcmin: float) -> float | None:
    """How long each drift test must last to be enough; None if the bolts are too coarse for that.

    Nine times in ten the axis stays within 2.146 standard deviations of equal errors.
    """
    wanted = limit_arcmin / radius_of_chance(ENOUGH, 1.0, 1.0)
    bolts = kit.mount.bolts
    coarse = math.hypot(
        LOCKING_SIGMA_ARCMIN, bolt_stop_sigma_arcmin(bolts.altitude_turns_per_degree)
    )
    if wanted <= coarse:
        return None
    field, _ = strongest_field_deg(kit)
    reading = READING_PART_OF_FIELD * field * 3600.0
    return drift_sigma_arcmin(reading, 1.0) / math.sqrt(wanted**2 - coarse**2)


def _placing_words(scope: PolarScope) -> str:
    if scope.ring_radius_arcmin is not None:
        return f"{PLACING_PART_OF_RING * scope.ring_radius_arcmin:.1f}′ on its ring"
    field = scope.field_deg or SCOPE_FIELD_DEG
    return f"{PLACING_PART_OF_FIELD * field * 60:.1f}′ in a field of {field:g}°"


def strongest_field_deg(kit: Kit) -> tuple[float, str]:
    """True field of the kit's strongest eyepiece, degrees, and the eyepiece's name."""
    eyepiece = min(kit.eyepieces, key=lambda e: e.focal_length_mm)
    field = float(
        true_field_deg(
            kit.tube.focal_length_mm, eyepiece.focal_length_mm, eyepiece.apparent_field_deg,
            eyepiece.field_stop_mm,
        )
    )  # fmt: skip
    return field, f"{eyepiece.label} eyepiece"


def quickest(found: tuple[Method, ...]) -> Method | None:
    """The method that is enough and takes least time; None if none is."""
    good = [m for m in found if m.enough]
    return min(good, key=lambda m: (m.minutes, m.within_90_arcmin)) if good else None
