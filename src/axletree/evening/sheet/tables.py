"""What must a phone know to follow the night by itself, with no signal and no second thought?

Tracks, openings of room and eyepiece heights of every stop and of what else could be shown, the
time to move between them, the sidereal clock and the pole star's path: computed once here, only
looked up and interpolated out there. Seconds count from `begin`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import datetime
from typing import Any

import numpy as np

from axletree.axis.model import PointingModel
from axletree.evening.night.darkness import FIRST_STARS_DEG
from axletree.evening.night.session_grid import FINE_STEP_S, session_grid, shows_between
from axletree.evening.night.set_up_times import (
    Session,
    breaks_of,
    pauses_of,
    seconds_between,
)
from axletree.evening.objects.choosing import Candidate, Chosen
from axletree.evening.order.candidates import Target
from axletree.evening.order.moving import handling_of, moving
from axletree.evening.order.problem import TICK_S
from axletree.evening.sheet.chances import Chances, SetForSide, fits
from axletree.evening.sheet.plan import Planned
from axletree.evening.stops.own_circles import CirclesOff, circles_off
from axletree.evening.stops.room_ahead import (
    SIDE_NAMES,
    SideOpening,
    SidePlaces,
    openings_of,
    side_places,
)
from axletree.evening.stops.stop import Stop
from axletree.find.practice.along_axis import look_tonight
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.follow.rates import refracted_hour_angle
from axletree.mount.rig.field_orientation import PictureKind, picture_kind
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import PoleView, pole_view
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import azimuth_altitude, wrap_24h
from axletree.sky.events.rise_and_set import darkness
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

LEAST_EVERY = 2  # tracks are handed out at every second step, in a long night more rarely
MOST_SAMPLES = 36
EYE_EVERY = 2  # of these, eye and picture at every second one
# People run late: the tables go on after the planned end, but not into the dawn (our figure).
LONGER_S = 7200.0
MOON_S = 50400.0  # the Moon is followed for fourteen hours, to wherever its room ends
MOST_SPARES = 12


@dataclass(frozen=True)
class ObjectTable:
    """One object through the night; `key` is its catalogue number.

    Arrays over the samples: `hour_angle_h` (unwrapped) and `declination_deg` without air,
    `lift_arcmin` what the air adds to the altitude, `hour_circle_h` (unwrapped) and
    `declination_circle_deg` as the circles of a perfect mount read. `queue_s` is the time at the
    eyepiece. `off` (east, west), at every second sample: what this mount's own circles show more;
    None where nothing is known of it. `other`: on which star the hour circle is set where it is
    shown on the side that wasn't planned.
    """

    key: str
    queue_s: float
    hour_angle_h: Floats
    declination_deg: Floats
    lift_arcmin: Floats
    hour_circle_h: Floats
    declination_circle_deg: Floats
    openings: tuple[SideOpening, ...]
    off: tuple[CirclesOff, CirclesOff] | None = None
    other: SetForSide | None = None


@dataclass(frozen=True)
class NightTables:
    """All of it. `objects` are the stops in their order, then the `spares`, best first.

    `moving_s` (2n, 2n): from one way to another, row and column 2 k + (0 east, 1 west) of object
    k. `sidereal_h` is the local apparent sidereal time at `begin`. `breaks` are (from, to).
    `places` has every second sample (`EYE_EVERY`).
    """

    begin: datetime
    seconds: Floats
    objects: tuple[ObjectTable, ...]
    spares: tuple[Stop, ...]
    places: SidePlaces | None
    moving_s: Floats
    breaks: tuple[tuple[float, float], ...]
    sidereal_h: float
    pole: PoleView
    latitude_deg: float
    axis_altitude_deg: float
    axis_latitude_deg: float
    picture: PictureKind


def night_tables(kit: Kit, observer: Observer, planned: Planned) -> NightTables:
    """The tables of a planned evening; without a session only the clock and the pole."""
    evening, session, ground = planned.evening, planned.session, planned.ground
    begin = session.first_stop if session else evening.set_up.pole.at
    seconds, every = _seconds(kit, observer, planned)
    moments = Instants.from_datetimes([begin]).plus(seconds)
    chosen = _chosen(planned)
    tracks = object_positions([c.thing for c in chosen], moments, observer) if chosen else None
    objects: list[ObjectTable] = []
    spares: tuple[Stop, ...] = ()
    places: SidePlaces | None = None
    moves = np.zeros((0, 0))
    if tracks is not None and planned.chosen and session and planned.task:
        worth = _worth(planned.chosen, chosen, session, seconds)
        sun = SunRule.of(kit, observer)
        worth &= ~sun.closed_to_stops(moments, tracks.azimuth_deg, tracks.altitude_deg)
        H, d = tracks.hour_angle_h, tracks.declination_deg
        openings = openings_of(ground.table, seconds, H, d, worth)
        for k, candidate in enumerate(chosen):
            if candidate.thing.kind == "moon":
                openings[k] = _moon_openings(planned, candidate, sun, moments[:2], worth[k])
        count, queue_s = len(evening.stops), planned.task.queue_s
        kept = [k for k in range(len(chosen)) if k < count or fits(openings[k], queue_s)]
        kept = kept[: count + MOST_SPARES]
        chosen, openings = [chosen[k] for k in kept], [openings[k] for k in kept]
        tracks = _rows(tracks, np.array(kept, dtype=np.intp))
        queues = [s.queue_s for s in evening.stops] + [queue_s] * (len(kept) - count)
        tracks = _rows(tracks, np.s_[:, ::every])
        eye = _rows(tracks, np.s_[:, ::EYE_EVERY])
        places = side_places(kit, ground.table, eye.hour_angle_h, eye.declination_deg)
        targets = {target.key: target for target in planned.task.targets}
        moves = _moving_s(kit, [targets[c.thing.catalogue_id] for c in chosen])
        objects = [
            _object(c, q, tracks, k, openings[k], observer, pole_target(observer).altitude_deg)
            for k, (c, q) in enumerate(zip(chosen, queues, strict=True))
        ]
        if evening.pointing is not None:
            objects = [_with_off(own, evening.pointing, observer) for own in objects]
        chances = Chances(kit, observer, planned, begin)
        spares = chances.spares(chosen[count:], openings[count:])
        shown = (*evening.stops, *spares)
        others = chances.other_sides(shown, openings)
        objects = [replace(own, other=other) for own, other in zip(objects, others, strict=True)]
    table = ground.table
    return NightTables(
        begin=begin,
        seconds=seconds[::every],
        objects=tuple(objects),
        spares=spares,
        places=places,
        moving_s=moves,
        breaks=_pauses(kit, session, begin, float(seconds[-1])),
        sidereal_h=float(
            wrap_24h(np.degrees(orientation(moments[0], observer).sidereal_time_rad[0]) / 15.0)
        ),
        pole=_pole(
            kit, observer, evening.stages[0].begin if evening.stages else begin, ground.horizon
        ),  # fmt: skip
        latitude_deg=observer.latitude_deg,
        axis_altitude_deg=pole_target(observer).altitude_deg,
        axis_latitude_deg=table.axes.latitude_deg,
        picture=picture_kind(kit.tube),
    )


def _seconds(kit: Kit, observer: Observer, planned: Planned) -> tuple[Floats, int]:
    """Samples from the first stop to a while after the planned end, not into the dawn.

    And how many steps lie between those that are handed out.
    """
    session = planned.session
    if session is None:
        return np.array([0.0, FINE_STEP_S]), 1
    night = Night.of(planned.evening.day, kit.site.time_zone)
    dark = darkness(night, observer, FIRST_STARS_DEG).intervals
    dawn_s = seconds_between(session.first_stop, dark[-1][1])
    planned_s = seconds_between(session.first_stop, session.end)
    length = max(min(planned_s + LONGER_S, dawn_s), planned_s)
    # The steps of the order itself, so that an opening begins here where it began there.
    fine = session_grid(session, FINE_STEP_S)
    step = seconds_between(session.first_stop, session.end) / (len(fine) - 1)
    every = max(LEAST_EVERY, int(np.ceil(length / step / (MOST_SAMPLES - 1))))
    count = every * int(np.ceil(length / (every * step))) + 1
    return np.round(np.arange(count) * step, 6), every


def _chosen(planned: Planned) -> list[Candidate]:
    """The candidates of the stops in their order, then the others, best first."""
    if planned.chosen is None:
        return []
    by_key = {c.thing.catalogue_id: c for c in planned.chosen.candidates}
    stops = [by_key.pop(s.catalogue_id) for s in planned.evening.stops]
    # Twice as many as are wanted, for some have no room at all.
    return stops + sorted(by_key.values(), key=lambda c: -c.value)[: 2 * MOST_SPARES]


def _worth(chosen: Chosen, which: Sequence[Candidate], session: Session, seconds: Floats) -> Mask:
    """When each object may be shown: as sampled through the session, its last state after it."""
    rows = [chosen.candidates.index(c) for c in which]
    return shows_between(chosen.shows[rows], session, seconds)


def _moon_openings(
    planned: Planned, moon: Candidate, sun: SunRule, first: Instants, worth: Mask,
) -> list[SideOpening]:  # fmt: skip
    """The Moon's room may end long after the tables do, at another declination."""
    step = float(first[1].seconds_since(first[0])[0])
    seconds = np.arange(max(int(MOON_S / step), len(worth)), dtype=np.float64) * step
    moments = first[0].plus(seconds)
    seen = object_positions([moon.thing], moments, sun.observer)
    longer = np.concatenate((worth, np.full(len(seconds) - len(worth), worth[-1])))
    longer &= ~sun.closed_to_stops(moments, seen.azimuth_deg, seen.altitude_deg)[0]
    return openings_of(planned.ground.table, seconds, seen.hour_angle_h, seen.declination_deg,
                       longer[np.newaxis])[0]  # fmt: skip


def _rows(tracks: Positions, which: Any) -> Positions:
    return Positions(**{f.name: getattr(tracks, f.name)[which] for f in fields(Positions)})


def _object(
    candidate: Candidate, queue_s: float, tracks: Positions, k: int,
    openings: Sequence[SideOpening], observer: Observer, axis_altitude_deg: float,
) -> ObjectTable:  # fmt: skip
    H, d = tracks.hour_angle_h[k], tracks.declination_deg[k]
    bare = azimuth_altitude(H, d, observer.latitude_deg)[1]
    seen_h, seen_d = refracted_hour_angle(H, d, observer, axis_altitude_deg)
    return ObjectTable(
        key=candidate.thing.catalogue_id,
        queue_s=queue_s,
        hour_angle_h=np.unwrap(H, period=24.0),
        declination_deg=d,
        lift_arcmin=(tracks.altitude_deg[k] - bare) * 60.0,
        hour_circle_h=np.unwrap(seen_h, period=24.0),
        declination_circle_deg=seen_d,
        openings=tuple(openings),
    )


def _with_off(own: ObjectTable, model: PointingModel, observer: Observer) -> ObjectTable:
    wide = np.s_[::EYE_EVERY]
    perfect = own.hour_circle_h[wide], own.declination_circle_deg[wide]
    where = own.hour_angle_h[wide], own.declination_deg[wide]
    return replace(own, off=circles_off(model, *where, perfect, observer))


def _moving_s(kit: Kit, targets: Sequence[Target]) -> Floats:
    """Seconds from every way to every other, rounded up as the order counts them."""
    poses = [target.pose(side) for target in targets for side in SIDE_NAMES]
    seconds = moving(poses, poses, handling_of(kit), north=kit.site.north)[0]
    return np.asarray(np.ceil(seconds / TICK_S - 1e-9) * TICK_S)


def _pole(kit: Kit, observer: Observer, at: datetime, horizon: Horizon) -> PoleView:
    """The pole view from set-up on; its ring serves the whole day that follows."""
    return pole_view(
        observer,
        at.replace(microsecond=0),
        look_tonight(kit, observer, at).axis_view,
        skyline=horizon.altitude_at,
    )


def _pauses(
    kit: Kit, session: Session | None, begin: datetime, until_s: float
) -> tuple[tuple[float, float], ...]:
    if session is None:
        return breaks_of(kit.habits, begin, until_s)
    return pauses_of(kit.habits, session, begin, until_s)
