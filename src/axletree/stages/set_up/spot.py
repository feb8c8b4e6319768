"""Where to put the tripod? A night and what it wants in, the judged yard and its best place out."""

from __future__ import annotations

from dataclasses import field, replace
from datetime import date, datetime, time
from enum import Enum
from pathlib import Path

import numpy as np

from axletree.ground.magnetism import MagneticField, magnetic_field
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon, combined
from axletree.ground.skyline.yard import YardPlan, yard_horizon, yard_plan
from axletree.ground.spot.around import (
    Blocker,
    NearestMiss,
    PlaceVerdict,
    StepAway,
    nearest_miss,
    steps_away,
    what_blocks,
)
from axletree.ground.spot.directions import (
    SpotCriteria,
    WantedDirections,
    axes_height_m,
    wanted_directions,
)
from axletree.ground.spot.grid import SpotScores, score_places
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.site import Site, Yard
from axletree.sky.observer import observer_of
from axletree.sky.time.nights import Night

# Room for a person beside the feet of the tripod; common practice, no source.
ELBOW_BEYOND_FEET_M = 0.4
# The kit's site without a plan: one bare square metre.
BARE_AREA_M = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
SPACING_M, STEP_M = (0.02, 10.0), (0.05, 20.0)
TRIPOD_KEYS = ("top_height_mm",)


@dataclass(frozen=True)
class SpotRequest:
    """The evening of the night meant, what it wants of a place, and how finely to look.

    `spacing_m` of the grid (a large yard gets a wider one), `step_m` how far 'a step away' is.
    `kit_folder` is where the kit's skyline file lies, None where it has no folder. Refuses
    spacings outside 0.02-10 and steps outside 0.05-20 m.
    """

    evening: date
    criteria: SpotCriteria = field(default_factory=SpotCriteria)
    spacing_m: float = 0.25
    step_m: float = 1.0
    kit_folder: Path | None = None

    def __post_init__(self) -> None:
        limits = {"spacing": (self.spacing_m, *SPACING_M), "step": (self.step_m, *STEP_M)}
        for name, (value, low, high) in limits.items():
            if not low <= value <= high:
                raise AxletreeError(f"{name} {value:g}: write a number from {low:g} to {high:g}")


class SpotCaution(Enum):
    """What can hurt in the yard."""

    WALK_BY_DAYLIGHT = "walk_by_daylight"


@dataclass(frozen=True)
class BestPlace:
    """What the best place gives: points, hours of all objects together and of each (k,)."""

    x_m: float
    y_m: float
    score: float
    pole_clearance_deg: float
    view_share: float
    object_hours: float
    hours: tuple[float, ...]


@dataclass(frozen=True)
class SpotAnswer:
    """The scored yard and what explains it.

    `planned` is false where the kit has no yard plan: then `yard` is a bare square metre and one
    place under the measured skyline (`far`) was judged. `best` is None where no place will do;
    `no_place` then says why. `hidden_by`: what hides the pole star, with the share of the places
    from which it does; `nearest_miss`: where it is least hidden. `horizon` is the whole skyline at
    the best place, None without one. `axes_height_m` above the ground and `elbow_m` around the
    tripod's middle were reckoned with. `guessed`: keys of the tripod that nobody measured.
    """

    evening: date
    planned: bool
    yard: Yard
    plan: YardPlan
    far: Horizon
    wanted: WantedDirections
    scores: SpotScores
    best: BestPlace | None
    steps: tuple[StepAway, ...]
    hidden_by: tuple[Blocker, ...]
    nearest_miss: NearestMiss | None
    horizon: Horizon | None
    axes_height_m: float
    elbow_m: float
    cautions: tuple[SpotCaution, ...]
    guessed: tuple[str, ...]
    site_name: str
    north: bool
    units: str

    @property
    def no_place(self) -> PlaceVerdict | None:
        """Why no place will do; None where one does."""
        if self.best is not None:
            return None
        miss, wanted = self.nearest_miss, self.wanted
        if miss is None:
            return PlaceVerdict.NO_ROOM
        if wanted.pole_needed and miss.pole_clearance_deg < wanted.pole_margin_deg:
            return PlaceVerdict.POLE_HIDDEN
        return PlaceVerdict.NO_OBJECT

    @property
    def open_object_hours(self) -> float:
        """Hours that the objects would stand clear under an open sky, added up."""
        return float(self.scores.open_hours.sum())


def spot(kit: Kit, request: SpotRequest) -> SpotAnswer:
    """Judge every place of the kit's yard for a night; see `wanted_directions`, `score_places`."""
    site = kit.site
    at = datetime.combine(request.evening, time(20), site.zone)
    far = site_horizon(site, request.kit_folder, at)
    night = Night.of(request.evening, site.zone)
    wanted = wanted_directions(kit, night, observer_of(site), request.criteria)
    yard = kit.yard or Yard(area_m=BARE_AREA_M)
    magnetic = _magnetic(site, yard, at)
    plan = yard_plan(yard, None if magnetic is None else magnetic.declination_deg)
    height = axes_height_m(kit.mount, site.latitude_deg)
    elbow = kit.mount.tripod.foot_radius_mm / 1000.0 + ELBOW_BEYOND_FEET_M
    scores = score_places(plan, far, wanted, height, request.spacing_m, elbow)
    place = scores.best_place_m
    return SpotAnswer(
        evening=request.evening,
        planned=kit.yard is not None,
        yard=yard,
        plan=plan,
        far=far,
        wanted=wanted,
        scores=scores,
        best=_best(scores),
        steps=steps_away(scores, wanted, plan.turn_deg, request.step_m),
        hidden_by=_hidden_by(plan, far, wanted, scores, height),
        nearest_miss=nearest_miss(scores),
        horizon=_from_there(far, yard_horizon(plan, place, height)) if place else None,
        axes_height_m=height,
        elbow_m=elbow,
        cautions=(SpotCaution.WALK_BY_DAYLIGHT,),
        guessed=tuple(k for k in TRIPOD_KEYS if f"mount.tripod.{k}" in kit.guessed),
        site_name=site.name,
        north=site.north,
        units=kit.habits.units,
    )


def _best(scores: SpotScores) -> BestPlace | None:
    if scores.best is None or scores.best_place_m is None:
        return None
    row, column = scores.best
    return BestPlace(
        *scores.best_place_m,
        score=float(scores.score[row, column]),
        pole_clearance_deg=float(scores.pole_clearance_deg[row, column]),
        view_share=float(scores.view_share[row, column]),
        object_hours=float(scores.hours_clear[:, row, column].sum()),
        hours=tuple(map(float, scores.hours_clear[:, row, column])),
    )


def _hidden_by(
    plan: YardPlan, far: Horizon, wanted: WantedDirections, scores: SpotScores, height_m: float
) -> tuple[Blocker, ...]:
    """What hides the pole star where it stands lowest, margin included."""
    gx, gy = np.meshgrid(scores.x_m, scores.y_m)
    places = np.column_stack([gx[scores.allowed], gy[scores.allowed]])
    lowest = int(np.argmin(wanted.pole_altitude_deg))
    azimuth = float(wanted.pole_azimuth_deg[lowest])
    altitude = float(wanted.pole_altitude_deg[lowest]) - wanted.pole_margin_deg
    return what_blocks(plan, far, places, height_m, azimuth, altitude)


def _from_there(far: Horizon, near: Horizon) -> Horizon:
    """Far and near obstacles as one skyline; what was not measured behind the plan stays so."""
    both = combined([far, near])
    return replace(
        both,
        gaps=far.gaps,
        open_altitude_deg=far.open_altitude_deg,
        compass_zone=far.compass_zone,
    )


def _magnetic(site: Site, yard: Yard, at: datetime) -> MagneticField | None:
    """The field at the site, where anything was measured by compass."""
    if "magnetic" not in (yard.bearings, site.skyline.bearings):
        return None
    return magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
