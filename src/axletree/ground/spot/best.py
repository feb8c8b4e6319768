"""From a kit and a night to the best place for the tripod, with all that explains it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from pathlib import Path

import numpy as np

from axletree.ground.magnetism import magnetic_field
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon, combined
from axletree.ground.skyline.yard import YardPlan, yard_horizon, yard_plan
from axletree.ground.spot.around import Step, loss_around, nearest_miss, what_blocks
from axletree.ground.spot.directions import View, Wishes, axes_height_m, wishes_of
from axletree.ground.spot.grid import SpotScores, score_places
from axletree.kit.kit import Kit
from axletree.kit.parts.site import Site, Yard
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.time.nights import Night

# Room for a person beside the feet of the tripod; common practice, no source.
ELBOW_BEYOND_FEET_M = 0.4


@dataclass(frozen=True)
class SpotAnswer:
    """The scored yard and what explains it.

    `planned` is false where the kit has no yard plan: then `yard` is a bare square metre and one
    place under the measured skyline (`far`) was judged. `hidden_by`: what hides the pole star,
    with the share of the places from which it does; `nearest_miss`: x, y and clearance where it
    is least hidden. `horizon` is the whole skyline at the best place, None without one.
    """

    planned: bool
    yard: Yard
    plan: YardPlan
    far: Horizon
    wishes: Wishes
    scores: SpotScores
    steps: tuple[Step, ...]
    hidden_by: tuple[tuple[str, float], ...]
    nearest_miss: tuple[float, float, float] | None
    horizon: Horizon | None
    notes: tuple[str, ...]


def best_spot(
    kit: Kit,
    folder: Path | None,
    evening: date,
    observer: Observer,
    objects: Sequence[SkyObject] | None = None,
    *,
    hours: float | None = None,
    views: Sequence[View] = (),
    pole_needed: bool = True,
    pole_margin_deg: float = 1.0,
    spacing_m: float = 0.25,
    step_m: float = 1.0,
) -> SpotAnswer:
    """Judge every place of the kit's yard for one night; see `wishes_of` and `score_places`.

    `folder` is where the kit's skyline file lies, if it has one.
    """
    site = kit.site
    at = datetime.combine(evening, time(20), site.zone)
    far = site_horizon(site, folder, at)
    wishes = wishes_of(
        kit, Night.of(evening, site.zone), observer, objects, hours=hours, views=views,
        pole_needed=pole_needed, pole_margin_deg=pole_margin_deg,
    )  # fmt: skip
    yard = kit.yard or Yard(area_m=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
    plan = yard_plan(yard, _declination_deg(site, yard, at))
    height = axes_height_m(kit.mount, site.latitude_deg)
    elbow = kit.mount.tripod.foot_radius_mm / 1000.0 + ELBOW_BEYOND_FEET_M
    scores = score_places(plan, far, wishes, height, spacing_m, elbow)
    gx, gy = np.meshgrid(scores.x_m, scores.y_m)
    places = np.column_stack([gx[scores.allowed], gy[scores.allowed]])
    lowest = int(np.argmin(wishes.pole_altitude_deg))
    azimuth = float(wishes.pole_azimuth_deg[lowest])
    altitude = float(wishes.pole_altitude_deg[lowest]) - wishes.pole_margin_deg
    best = scores.best_place_m
    return SpotAnswer(
        planned=kit.yard is not None,
        yard=yard,
        plan=plan,
        far=far,
        wishes=wishes,
        scores=scores,
        steps=loss_around(scores, plan.turn_deg, step_m),
        hidden_by=tuple(what_blocks(plan, far, places, height, azimuth, altitude)),
        nearest_miss=nearest_miss(scores),
        horizon=_from_there(far, yard_horizon(plan, best, height)) if best else None,
        notes=(*wishes.notes, *_notes(kit, far, scores, height, elbow)),
    )


def _from_there(far: Horizon, near: Horizon) -> Horizon:
    """Far and near obstacles as one skyline; what was not measured behind the plan stays so."""
    both = combined([far, near])
    return replace(
        both, gaps=far.gaps, open_altitude_deg=far.open_altitude_deg, notes=far.notes
    )  # fmt: skip


def _declination_deg(site: Site, yard: Yard, at: datetime) -> float | None:
    if yard.bearings == "true":
        return None
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    return field.declination_deg


def _notes(
    kit: Kit, far: Horizon, scores: SpotScores, height: float, elbow: float
) -> tuple[str, ...]:
    if kit.yard is None:
        return ("the kit has no [yard]: one place under the measured skyline is judged", *far.notes)
    guessed = [name for name in kit.guessed if name == "mount.tripod.top_height_mm"]
    return (
        f"the axes {height:.2f} m above the ground, {elbow:.1f} m kept between the tripod's middle "
        "and any obstacle; what lies under a tree's crown counts as blocked",
        f"grid of {scores.spacing_m:g} m; the kit's measured skyline stands around every place",
        *far.notes,
        *(f"guessed, not measured: {name}" for name in guessed),
    )
