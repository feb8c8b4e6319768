"""Everything about putting the axis on the pole, here and now, in one frozen answer."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.pole.aim.scale import ScaleSetting, high_from_reading_arcmin, scale_setting
from axletree.pole.aim.sight import Sight, sight_of
from axletree.pole.aim.target import PoleTarget, pole_target, ring_year
from axletree.pole.aim.view import PoleView, Skyline, StarPlace, pole_view, star_places
from axletree.pole.aim.visible import StarTonight, star_tonight, sun_depression_for
from axletree.pole.correct.bolts import BoltMoves, axis_error_from_head_arcmin, bolt_moves
from axletree.pole.enough.blind import BlindPath, blind_path
from axletree.pole.enough.methods import DRIFT_MINUTES, READING_PART_OF_FIELD, strongest_field_deg
from axletree.sky.events.rise_and_set import sun_altitude_deg
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

# Half a division: how well a bubble is brought to the middle (common practice, no source).
BUBBLE_PART_OF_DIVISION = 0.5


@dataclass(frozen=True)
class AxisSays:
    """What the person has read off: on the altitude scale, along the horizon, or as axis error.

    `azimuth_error_arcmin` is along the horizon, positive when the axis points east of the pole;
    `high_arcmin` and `east_arcmin` are great circle. None: not read.
    """

    scale_reading_deg: float | None = None
    azimuth_error_arcmin: float | None = None
    high_arcmin: float | None = None
    east_arcmin: float | None = None

    @property
    def anything(self) -> bool:
        """True if anything was read."""
        return any(v is not None for v in vars(self).values())


@dataclass(frozen=True)
class PoleReport:
    """Target, scale, star, picture, what is in the way, and what to turn.

    `first_place`: where the star stands when it comes out, if that is still to come.
    `high_arcmin`, `east_arcmin` and `moves` are None unless something was read. `ring_year`: the
    year for which the scope's engraved ring was right. `blind` is the way without a view of the
    pole; `blind_needed` says that it is the only one tonight, and `blind_because` why.
    `magnetic_note`: what is wrong with compasses here, if anything. `off_centre`:
    how far off the middle the star goes, as a part of the way to the field's edge.
    """

    at: datetime
    target: PoleTarget
    setting: ScaleSetting
    sight: Sight
    view: PoleView
    tonight: StarTonight
    first_place: StarPlace | None
    ring_year: float | None
    high_arcmin: float | None
    east_arcmin: float | None
    moves: BoltMoves | None
    blind: BlindPath
    blind_needed: bool
    blind_because: str
    magnetic_note: str
    off_centre: float
    sun_altitude_deg: float
    pressure_hpa: float
    temperature_c: float


def pole_report(
    kit: Kit,
    observer: Observer,
    at: datetime,
    *,
    naked_eye_limit_mag: float,
    magnetic_sigma_deg: float,
    magnetic_note: str = "",
    skyline: Skyline | None = None,
    true_pole: bool = False,
    says: AxisSays = AxisSays(),
) -> PoleReport:
    """The whole answer for this kit at an aware moment. Refuses readings that no mount can show."""
    scope, bolts = kit.mount.polar_scope, kit.mount.bolts
    target = pole_target(observer, true_pole)
    known = "latitude_scale_offset_deg" in bolts.model_fields_set
    setting = scale_setting(bolts, target, offset_known=known)
    sight = sight_of(scope, naked_eye_limit_mag)
    view = pole_view(
        observer,
        at,
        look=sight.look,
        rotation_deg=sight.rotation_deg,
        field_deg=sight.field_deg,
        limit_mag=sight.limit_mag,
        true_pole=true_pole,
        engraved_ring_arcmin=scope.ring_radius_arcmin,
        skyline=skyline,
    )
    tonight = star_tonight(
        observer,
        target,
        at,
        kit.site.time_zone,
        sun_depression_deg=sun_depression_for(target.north, sight.kind),
        skyline=skyline,
    )
    high, east = axis_error(says, setting, target)
    moves = None
    if high is not None and east is not None:
        moves = bolt_moves(
            bolts,
            high,
            east,
            target.altitude_deg,
            high_sigma_arcmin=0.0 if says.scale_reading_deg is None else 60.0 * setting.sigma_deg,
        )
    field, _ = strongest_field_deg(kit)
    blind = blind_path(
        target.altitude_deg,
        setting.sigma_deg,
        magnetic_sigma_deg,
        level_sigma_deg=(
            BUBBLE_PART_OF_DIVISION * kit.mount.tripod.bubble_arcmin_per_division / 60.0
        ),
        drift_reading_arcsec=READING_PART_OF_FIELD * field * 3600.0,
        drift_minutes=DRIFT_MINUTES,
    )
    first_place = None
    if tonight.comes_out is not None and tonight.comes_out > at:
        (first_place,) = star_places(
            observer, [tonight.comes_out], target, look=sight.look, rotation_deg=sight.rotation_deg
        )
    because = _no_view(sight, tonight, target)
    ring = scope.ring_radius_arcmin if sight.kind == "scope" else None
    return PoleReport(
        at=at,
        target=target,
        setting=setting,
        sight=sight,
        view=view,
        tonight=tonight,
        first_place=first_place,
        ring_year=None if ring is None else ring_year(ring, target.north),
        high_arcmin=high,
        east_arcmin=east,
        moves=moves,
        blind=blind,
        blind_needed=bool(because),
        blind_because=because,
        magnetic_note=magnetic_note,
        off_centre=view.pole_distance_arcmin / (view.field_deg * 30.0),
        sun_altitude_deg=float(sun_altitude_deg(Instants.from_datetime(at), observer)[0]),
        pressure_hpa=observer.air_pressure_hpa,
        temperature_c=observer.air_temperature_c,
    )


def axis_error(
    says: AxisSays, setting: ScaleSetting, target: PoleTarget
) -> tuple[float | None, float | None]:
    """`high` and `east` in arcminutes of what was read; None, None if nothing was."""
    if not says.anything:
        return None, None
    by_head = says.scale_reading_deg is not None or says.azimuth_error_arcmin is not None
    by_axis = says.high_arcmin is not None or says.east_arcmin is not None
    if by_head and by_axis:
        raise AxletreeError(
            "give either a scale reading and an azimuth error along the horizon, or the axis "
            "error as high and east, not both"
        )
    if by_axis:
        high, east = says.high_arcmin or 0.0, says.east_arcmin or 0.0
        if not math.hypot(high, east) <= 45 * 60:
            raise AxletreeError(
                f"an axis error of {math.hypot(high, east):.0f}′ is more than 45 degrees: set the "
                "mount up roughly first; the error is in arcminutes"
            )
        return high, east
    reading, azimuth = says.scale_reading_deg, says.azimuth_error_arcmin or 0.0
    if reading is not None and not -10.0 <= reading <= 100.0:
        raise AxletreeError(f"a scale reading of {reading:g}°: it must lie between -10 and 100")
    if not abs(azimuth) <= 90.0 * 60.0:
        raise AxletreeError(
            f"an azimuth error of {azimuth:g}′ is more than 90 degrees; it is in arcminutes "
            "along the horizon, positive when the axis points east of the pole"
        )
    up = 0.0 if reading is None else float(high_from_reading_arcmin(reading, setting.setting_deg))
    high_of, east_of = axis_error_from_head_arcmin(up / 60.0, azimuth / 60.0, target.altitude_deg)
    return float(high_of), float(east_of)


def _no_view(sight: Sight, tonight: StarTonight, target: PoleTarget) -> str:
    """Why the pole can't be sighted tonight, or ''."""
    if tonight.state == "never dark enough":
        return "the sky doesn't get dark enough tonight"
    if tonight.pole_margin_deg is not None and tonight.pole_margin_deg < 0.0 and not tonight.out:
        return "the skyline hides the pole star"
    if target.true_altitude_deg < 1.0:
        return "the pole stands on the horizon"
    if sight.kind == "none":
        return "this mount has nothing to look along the axis with"
    return ""
