"""Which side, how far, can I reach the eyepiece? An object and a moment in, both tube sides out."""

from __future__ import annotations

import math
from datetime import datetime
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.axis.marks import after_setting
from axletree.axis.model import PointingModel
from axletree.axis.sides import SideCircles, SideOutOfReach, circles_of_sides
from axletree.axis.state import State, axis_state
from axletree.evening.brought.named import object_named
from axletree.evening.stops.set_on_star import Aim, circle_set_for, way_begins
from axletree.evening.stops.to_find import sky_light
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.learned.learn import learned_rig
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.own_axes import own_axes
from axletree.mount.rig.turned import turned_kit
from axletree.mount.room.choice import USUAL_MINUTES, Choice, Following, choose
from axletree.mount.room.ring_turn import RingTurn, can_turn, ring_turn
from axletree.mount.room.sides_now import targets_at
from axletree.mount.room.table import RoomTable, room_table
from axletree.mount.sure.room_doubt import RoomDoubt, SkyCourse, room_doubt
from axletree.mount.sure.side_doubt import other_side_chance
from axletree.mount.sure.spread import RigSpread
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import wrap_24h
from axletree.sky.observer import Observer, observer_of
from axletree.sky.positions.objects import moves
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRefusal, SunRule
from axletree.sky.time.earth_rotation import RotationDoubt
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.enough import pointing_known

if TYPE_CHECKING:
    from axletree.axis.circles_read import SetOnStar
    from axletree.find.at_eyepiece.answer import AtEyepiece
    from axletree.mount.learned.learn import LearnedRig

MOST_MINUTES = 1440.0


@dataclass(frozen=True)
class PointRequest:
    """An object by name, at an aware moment, for a stay of so many minutes.

    `ring_turn_deg` turns the focuser (or diagonal) around the tube, the kit's where None; `camera`:
    the kit's camera is in the focuser. `table` is the room table of just this kit, for who asks
    often; `kit_folder` holds the kit's own files. `pointing` is what is known of the mount's
    errors: by it the answer says what the person's own circles show. `state` is the same as
    learned from the person's notes, with where it is from; `pointing` goes before it. Without
    either the axis counts as well set as the way of setting it allows. `how_sure`: whether the
    errors of the rooms are asked for; `spread` are the rigs that the one of `table` may be, for who
    asks often; both of the kit after the state's notes of gaps.
    """

    object: str
    at: datetime
    minutes: float = USUAL_MINUTES
    ring_turn_deg: float | None = None
    camera: bool = False
    table: RoomTable | None = None
    kit_folder: Path | None = None
    pointing: PointingModel | None = None
    state: State | None = None
    how_sure: bool = True
    spread: RigSpread | None = None


class PointCaution(Enum):
    """What can hurt at the mount, in the order in which it should be heard."""

    CAPS_BY_DAY = "caps_by_day"
    FILTERS_ON = "filters_on"
    NEVER_AT_THE_SUN = "never_at_the_sun"
    HOLD_THE_TUBE = "hold_the_tube"
    LOOK_BEFORE_TURNING = "look_before_turning"


@dataclass(frozen=True)
class PointPlace:
    """Where the object stands: angles in degrees, `altitude_deg` as seen through the air.

    `hour_angle_h` grows by `growth_h_per_s` hours in a second of the clock; right ascension and
    declination are apparent, of date.
    """

    azimuth_deg: float
    altitude_deg: float
    hour_angle_h: float
    declination_deg: float
    growth_h_per_s: float
    right_ascension_h: float


@dataclass(frozen=True)
class PointAnswer:
    """Both tube sides of one object, or why it gets none: too near the Sun.

    With a `refusal` there is no place, choice or table. `turn` is the ring turn that suits the
    better side best, where rings or diagonal can turn. `kit` is the one that was asked about, its
    ring turned as requested. `circles` say what the person's circles show on side east and west by
    `pointing`; `set_on`, of both sides, on which star the hour circle is set first (None: it never
    is, no star shows or the side is out of reach). `state`: the notes that `pointing` came from.
    `doubts_of_room`: how sure the rooms are on side east and west, None where there is none now or
    nobody asked; `other_side_chance`: that the side not chosen is the better one. `learned`: what
    notes of gaps taught of the rig, None without any.
    `body`: what Moon, planet or double star show in an eyepiece then; None of other objects, and
    below the horizon.
    """

    kit: Kit
    thing: SkyObject
    at: datetime
    refusal: SunRefusal | None
    place: PointPlace | None
    choice: Choice | None
    table: RoomTable | None
    turn: RingTurn | None
    horizon: Horizon
    doubts: tuple[RotationDoubt, ...]
    cautions: tuple[PointCaution, ...]
    pointing: PointingModel | None = None
    circles: tuple[SideCircles | SideOutOfReach, ...] | None = None
    set_on: tuple[SetOnStar | None, SetOnStar | None] = (None, None)
    state: State | None = None
    body: AtEyepiece | None = None
    doubts_of_room: tuple[RoomDoubt | None, RoomDoubt | None] = (None, None)
    learned: LearnedRig | None = None
    other_side_chance: float = 0.0


def point(kit: Kit, request: PointRequest) -> PointAnswer:
    """Both tube sides of an object. Refuses unknown names, and stays that are no time."""
    if not 0 < request.minutes <= MOST_MINUTES:
        raise AxletreeError(f"--minutes {request.minutes:g}: write a number from 1 to 1440")
    learned = learned_rig(kit, request.state)
    kit = kit if learned is None else learned.kit
    if request.ring_turn_deg is not None:
        kit = _turned(kit, request.ring_turn_deg)
    thing = object_named(request.object, kit, request.kit_folder, request.at)
    observer, now = observer_of(kit.site), Instants.from_datetime(request.at)
    horizon = site_horizon(kit.site, request.kit_folder, request.at)
    rule = SunRule.of(kit)
    refusal = rule.refusals([thing], now, request.minutes * 60.0)[0]
    if refusal is not None:
        return PointAnswer(
            kit=kit, thing=thing, at=request.at, refusal=refusal, place=None, choice=None,
            table=None, turn=None, horizon=horizon, doubts=now.doubts,
            cautions=(PointCaution.NEVER_AT_THE_SUN,),
        )  # fmt: skip
    table = request.table or table_of(
        kit, request.at, request.kit_folder, camera=request.camera,
        model=None if request.state is None else request.state.pointing,
        of_few=not moves(thing),
    )  # fmt: skip
    target = targets_at([thing], now, observer)
    place = PointPlace(
        azimuth_deg=float(target.places.azimuth_deg[0, 0]),
        altitude_deg=float(target.places.altitude_deg[0, 0]),
        hour_angle_h=float(target.hour_angle_h()[0]),
        declination_deg=float(target.declination_deg()[0]),
        growth_h_per_s=float(target.hours_per_s[0]),
        right_ascension_h=float(target.places.right_ascension_h[0, 0]),
    )
    rate = place.growth_h_per_s
    following = Following(request.minutes * 60 * rate, rate, target.tracks[0])
    choice = choose(kit, table, place.hour_angle_h, place.declination_deg, following)
    model = request.pointing or pointing_known(kit, request.state, request.at, request.kit_folder)
    circles = circles_of_sides(
        model, place.hour_angle_h, place.declination_deg, observer, place.right_ascension_h
    )
    here = request.at.astimezone(kit.site.zone)
    set_on = [
        _set_on(kit, observer, table, model, _aim(here, place, one), target.places)
        if answer.usable else None
        for one, answer in zip(circles, choice.sides, strict=True)
    ]  # fmt: skip
    course = SkyCourse(place.hour_angle_h, place.declination_deg, rate, target.tracks[0])
    sure = _doubts(kit, request, table, choice, course)
    cautions = [PointCaution.HOLD_THE_TUBE, PointCaution.LOOK_BEFORE_TURNING]
    if rule.sun_is_up(now)[0]:
        by_day = PointCaution.FILTERS_ON if thing.kind == "sun" else PointCaution.CAPS_BY_DAY
        cautions.insert(0, by_day)
    return PointAnswer(
        kit=kit, thing=thing, at=request.at, refusal=None, place=place, choice=choice, table=table,
        turn=_turn(kit, table, choice), horizon=horizon, doubts=now.doubts,
        cautions=tuple(cautions), pointing=model, circles=circles,
        set_on=(set_on[0], set_on[1]),
        state=None if request.pointing is not None else axis_state(request.state),
        body=at_eyepiece(thing, here, observer) if place.altitude_deg > 0.0 else None,
        doubts_of_room=sure, learned=learned,
        other_side_chance=other_side_chance(choice, sure, request.minutes * 60.0),
    )  # fmt: skip


def _doubts(
    kit: Kit, request: PointRequest, table: RoomTable, choice: Choice, course: SkyCourse
) -> tuple[RoomDoubt | None, RoomDoubt | None]:
    """How sure the rooms on side east and west are."""
    if not request.how_sure:
        return None, None
    spread = request.spread or RigSpread.of(kit, table, camera=request.camera)
    east, west = (room_doubt(spread, table, answer, course) for answer in choice.sides)
    return east, west


def _aim(at: datetime, place: PointPlace, circles: SideCircles | SideOutOfReach) -> Aim:
    sidereal_h = float(wrap_24h(place.right_ascension_h + place.hour_angle_h))
    return Aim(
        at, circles.side, place.hour_angle_h, place.declination_deg, sidereal_h,
        reached=isinstance(circles, SideCircles),
    )  # fmt: skip


def _set_on(
    kit: Kit, observer: Observer, table: RoomTable, model: PointingModel, aim: Aim,
    places: Positions,
) -> SetOnStar | None:  # fmt: skip
    """On which star the hour circle is set before the turn; None where it isn't."""
    if not aim.reached or after_setting(kit.mount.circles) is None:
        return None
    light = sky_light(kit, observer, Instants.from_datetime(aim.at), places)
    star = way_begins(kit, observer, table, aim, model, light)
    made = circle_set_for(kit, observer, aim, model, star)
    return None if made is None else made.told


def table_of(
    kit: Kit,
    at: datetime,
    kit_folder: Path | None = None,
    *,
    camera: bool = False,
    model: PointingModel | None = None,
    of_few: bool = False,
) -> RoomTable:
    """The kit's rig with all that can end its following at a date, skyline and air included.

    By `model` it stands on its real axes: axis error, cone and lean. `of_few`: see `RoomTable`.
    """
    return room_table(
        kit,
        axes=None if model is None else own_axes(model, observer_of(kit.site)),
        rig=build_rig(kit, camera=camera),
        skyline=site_horizon(kit.site, kit_folder, at),
        observer=observer_of(kit.site),
        of_few=of_few,
    )


def _turned(kit: Kit, ring_turn_deg: float) -> Kit:
    if not math.isfinite(ring_turn_deg):
        raise AxletreeError(f"--ring-turn {ring_turn_deg}: write degrees, 0 to 360")
    return turned_kit(kit, ring_turn_deg)


def _turn(kit: Kit, table: RoomTable, choice: Choice) -> RingTurn | None:
    if choice.chosen is None or not can_turn(kit.tube):
        return None
    pose = choice.chosen.tube_end_h, choice.chosen.swing_deg
    return ring_turn(kit, table.rig, table.axes, *pose)
