"""How does the axis come onto the pole: what to set, where the star goes, what to turn?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from zoneinfo import ZoneInfo

from axletree.find.practice.through_tube import ThroughTubeAnswer, through_tube
from axletree.ground.magnetism import MagneticField, magnetic_field
from axletree.ground.skyline.of_site import pole_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.site import RURAL_ZENITH_MAG, Site
from axletree.pole.aim.axis_view import AxisView, axis_view
from axletree.pole.aim.scale import (
    POLE_ON_HORIZON_DEG,
    ScaleCaution,
    ScaleSetting,
    scale_setting,
)
from axletree.pole.aim.target import PoleTarget, pole_target, ring_year
from axletree.pole.aim.view import PoleView, Skyline, StarPlace, pole_view, star_places
from axletree.pole.aim.visible import StarNight, StarTonight, star_tonight, sun_depression_for
from axletree.pole.correct.bolts import (
    AxisError,
    BoltMoves,
    bolt_moves,
)
from axletree.pole.enough.of_kit import good_enough, rough_of_kit
from axletree.pole.enough.rough import RoughAlignment
from axletree.sky.contrast import FIELD_FACTOR, naked_eye_limit_mag
from axletree.sky.events.rise_and_set import sun_altitude_deg
from axletree.sky.observer import Observer, observer_of
from axletree.sky.sun_rule import SUN_UP_DEG
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.pole_request import PoleRequest, axis_error

# With the Sun higher than this all night no star shows well enough for a drift test.
DRIFT_STARS_SUN_DEG = -6.0


class NoView(Enum):
    """Why the pole star can't be sighted along the axis tonight."""

    TOO_BRIGHT = "too_bright"
    BEHIND_SKYLINE = "behind_skyline"
    POLE_ON_HORIZON = "pole_on_horizon"
    NO_POLAR_SCOPE = "no_polar_scope"


class PoleCaution(Enum):
    """What can hurt or mislead, beside what the altitude scale does (`ScaleCaution`)."""

    STEEL = "steel"
    MAGNETIC_MODEL_DATE = "magnetic_model_date"
    COMPASS_POOR = "compass_poor"
    COMPASS_USELESS = "compass_useless"
    HEAD_CAN_DROP = "head_can_drop"
    SUN_IS_UP = "sun_is_up"


class PoleAssumption(Enum):
    """What the kit left open, beside the look along the axis (`ViewAssumption`)."""

    GUESSED_BOLTS = "guessed_bolts"
    SCALE_UNCHECKED = "scale_unchecked"
    STANDARD_PRESSURE = "standard_pressure"
    ORDINARY_SKY = "ordinary_sky"


@dataclass(frozen=True)
class GuessedBolt:
    """A figure of the bolts that the kit doesn't give, by its key there."""

    key: str
    value: float


@dataclass(frozen=True)
class PoleAnswer:
    """Target, scale, star, picture, what is in the way, and what to turn.

    `first_place`: where the star stands when it comes out, if that is still to come.
    `error` and `moves` are None unless something was read or measured. `ring_year`: the year for
    which the scope's engraved ring was right. `no_view`: why the star can't be sighted along the
    axis tonight; then `rough` is how to go, and `drift_stars` whether stars come out to refine it.
    `off_centre`: how far off the middle the star goes, as a part of the way to the field's edge.
    `naked_eye_limit_mag` is the site's. `zone` is the site's, for every time that is
    told. `stop_arcmin`: nearer to the pole nothing is gained. `through_tube`: the way by the point
    that stands still in the tube's field, whatever is looked through.
    """

    at: datetime
    site_name: str
    zone: ZoneInfo
    target: PoleTarget
    setting: ScaleSetting
    scale_step_deg: float
    axis_view: AxisView
    through_tube: ThroughTubeAnswer
    view: PoleView
    tonight: StarTonight
    first_place: StarPlace | None
    ring_year: float | None
    off_centre: float
    error: AxisError | None
    moves: BoltMoves | None
    no_view: NoView | None
    rough: RoughAlignment
    drift_stars: bool
    magnetic: MagneticField
    pressure_hpa: float
    temperature_c: float
    naked_eye_limit_mag: float
    cautions: tuple[ScaleCaution | PoleCaution, ...]
    assumptions: tuple[PoleAssumption, ...]
    guessed_bolts: tuple[GuessedBolt, ...]
    stop_arcmin: float


def pole(kit: Kit, request: PoleRequest) -> PoleAnswer:
    """The whole answer for this kit at a moment. Refuses readings that no mount can show.

    Bolts that a logbook taught about come in with the kit (`axletree.logbook.own.learned_bolts`).
    """
    at, site, observer = request.at, kit.site, observer_of(kit.site)
    target = pole_target(observer, request.true_pole)
    setting = scale_setting(
        kit.mount.bolts,
        target,
        offset_known="latitude_scale_offset_deg" in kit.mount.bolts.model_fields_set,
    )
    horizon = pole_horizon(site, request.kit_folder, at)
    skyline: Skyline | None = None if horizon is None else horizon.altitude_at
    limit = _naked_eye_limit_mag(kit)
    (star,) = star_places(observer, [at], target)
    tube = through_tube(kit, target, star.distance_arcmin, limit)
    along = _along(kit, request, tube, limit)
    view = pole_view(observer, at, along, true_pole=request.true_pole, skyline=skyline)
    tonight = star_tonight(
        observer,
        target,
        at,
        site.time_zone,
        sun_depression_deg=sun_depression_for(target.north, kit.mount.polar_scope.kind),
        skyline=skyline,
    )
    error = axis_error(request, setting, target)
    no_view = _no_view(along, tonight, target)
    magnetic = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    assumptions, guessed_bolts = _assumptions(kit)
    return PoleAnswer(
        at=at,
        site_name=site.name,
        zone=site.zone,
        target=target,
        setting=setting,
        scale_step_deg=kit.mount.bolts.latitude_scale_step_deg,
        axis_view=along,
        through_tube=tube,
        view=view,
        tonight=tonight,
        first_place=_first_place(observer, at, tonight, target, along),
        ring_year=_ring_year(along, target),
        off_centre=view.pole_distance_arcmin / (view.field_deg * 30.0),
        error=error,
        moves=None if error is None else bolt_moves(kit.mount.bolts, error, target.altitude_deg),
        no_view=no_view,
        rough=rough_of_kit(kit, target, setting, magnetic.declination_sigma_deg),
        drift_stars=tonight.lowest_sun_altitude_deg <= DRIFT_STARS_SUN_DEG,
        magnetic=magnetic,
        pressure_hpa=observer.air_pressure_hpa,
        temperature_c=observer.air_temperature_c,
        naked_eye_limit_mag=limit,
        cautions=(
            *setting.cautions,
            # Whoever looks through the tube finds the pole's place by the compass first.
            *((_compass_caution(magnetic),) if no_view or along.kind == "tube" else ()),
            *(() if error is None else (PoleCaution.HEAD_CAN_DROP,)),
            *((PoleCaution.SUN_IS_UP,) if _sun_is_up(at, observer) else ()),
        ),
        assumptions=assumptions,
        guessed_bolts=guessed_bolts,
        stop_arcmin=good_enough(kit).largest_arcmin,
    )


def _naked_eye_limit_mag(kit: Kit) -> float:
    site = kit.site
    if site.naked_eye_limit_mag is not None:
        return site.naked_eye_limit_mag
    zenith = site.sky_brightness_mag_arcsec2 or RURAL_ZENITH_MAG
    return float(naked_eye_limit_mag(zenith, FIELD_FACTOR[kit.habits.observer]))


def _along(kit: Kit, request: PoleRequest, tube: ThroughTubeAnswer, limit_mag: float) -> AxisView:
    """What is looked through: the mount's own, or the tube where it is asked for or must be."""
    own = axis_view(kit.mount.polar_scope, limit_mag)
    if request.through_tube is None:
        return tube.axis_view if own.kind == "none" and tube.possible else own
    if not request.through_tube:
        return own
    if not tube.view.star_fits:
        raise AxletreeError(
            f"the pole star doesn't fit into this tube's widest field of "
            f"{tube.view.field_deg:.1f}°: a finder with its field_deg and look, or a longer "
            "eyepiece, would show it"
        )
    if not tube.possible:
        raise AxletreeError(
            "the tube can't swing freely along the axis on this rig; room and point "
            "show what comes near what"
        )
    return tube.axis_view


def _first_place(
    observer: Observer, at: datetime, tonight: StarTonight, target: PoleTarget, along: AxisView
) -> StarPlace | None:
    if tonight.comes_out is None or tonight.comes_out <= at:
        return None
    (place,) = star_places(
        observer, [tonight.comes_out], target, look=along.look, rotation_deg=along.rotation_deg
    )
    return place


def _ring_year(along: AxisView, target: PoleTarget) -> float | None:
    if along.engraved_ring_arcmin is None or along.kind != "scope":
        return None
    return ring_year(along.engraved_ring_arcmin, target.north)


def _no_view(along: AxisView, tonight: StarTonight, target: PoleTarget) -> NoView | None:
    if tonight.state is StarNight.NEVER_DARK_ENOUGH:
        return NoView.TOO_BRIGHT
    if tonight.pole_margin_deg is not None and tonight.pole_margin_deg < 0.0 and not tonight.out:
        return NoView.BEHIND_SKYLINE
    if target.true_altitude_deg < POLE_ON_HORIZON_DEG:
        return NoView.POLE_ON_HORIZON
    return NoView.NO_POLAR_SCOPE if along.kind == "none" else None


def _compass_caution(magnetic: MagneticField) -> PoleCaution:
    if magnetic.zone == "blackout":
        return PoleCaution.COMPASS_USELESS
    if magnetic.zone == "caution":
        return PoleCaution.COMPASS_POOR
    return PoleCaution.STEEL if magnetic.valid else PoleCaution.MAGNETIC_MODEL_DATE


def _sun_is_up(at: datetime, observer: Observer) -> bool:
    return float(sun_altitude_deg(Instants.from_datetime(at), observer)[0]) > SUN_UP_DEG


def _assumptions(kit: Kit) -> tuple[tuple[PoleAssumption, ...], tuple[GuessedBolt, ...]]:
    bolts, site = kit.mount.bolts, kit.site
    keys = [n.rsplit(".", 1)[1] for n in kit.guessed if n.startswith("mount.bolts.")]
    found = []
    if keys:
        found.append(PoleAssumption.GUESSED_BOLTS)
    if "latitude_scale_offset_deg" not in bolts.model_fields_set:
        found.append(PoleAssumption.SCALE_UNCHECKED)
    if site.pressure_hpa is None:
        found.append(PoleAssumption.STANDARD_PRESSURE)
    if _silent_sky(site):
        found.append(PoleAssumption.ORDINARY_SKY)
    return tuple(found), tuple(GuessedBolt(k, float(getattr(bolts, k))) for k in keys)


def _silent_sky(site: Site) -> bool:
    return site.naked_eye_limit_mag is None and site.sky_brightness_mag_arcsec2 is None
