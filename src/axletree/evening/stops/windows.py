"""When can each object be shown, on each tube side, without the room ending?

An opening is a span of the session in which the object clears the skyline, the rig clears
itself, and the object is worth seeing. Ends are exact where the room ends them, and good to the
sampling step where daylight or visibility does.
"""

from __future__ import annotations

from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from axletree.axis.model import PointingModel
from axletree.evening.night.set_up_times import Session
from axletree.evening.objects.choosing import Chosen
from axletree.evening.objects.tonight import TonightSky
from axletree.evening.order.candidates import OrderSpan, Target
from axletree.evening.order.moving import Handling, Side
from axletree.evening.sequence.replan import Tracks
from axletree.evening.stops.findings import FromHere
from axletree.kit.frozen import dataclass
from axletree.mount.room.along import STILL_DEG, Track, begin_within, edges_along
from axletree.mount.room.table import RoomTable, room
from axletree.sky.arrays import Floats, Mask

SIDES = ("east", "west")
# Room that ends so shortly before the next sample has not ended: planets are slower than stars.
BLINK_S = 2.0


@dataclass(frozen=True)
class Span:
    """One object on one tube side: seconds of the session; `level_s` when the weights rise above.

    `level_s` is infinite where they stay below; equal to `begin_s` where they are above already.
    """

    object: int
    side: str
    begin_s: float
    end_s: float
    level_s: float


@dataclass(frozen=True)
class OpenTable:
    """Spans of all objects, and why an object has none (a code of `mount.room`, or -1)."""

    spans: tuple[Span, ...]
    closed_by: NDArray[np.int8]

    def of(self, which: int) -> list[Span]:
        """The spans of one object."""
        return [span for span in self.spans if span.object == which]


def open_spans(
    table: RoomTable, seconds: Floats, hour_angle_h: Floats, declination_deg: Floats, worth: Mask
) -> OpenTable:
    """Spans from tracks (objects, samples) at `seconds` (samples,) of the session, evenly spaced.

    `worth` (objects, samples) marks when an object may be shown at all.
    """
    # What keeps its place among the stars keeps one declination: its circle is looked at once,
    # not anew for the arcsecond by which aberration moves it in a long night.
    still = np.ptp(declination_deg, axis=1, keepdims=True) <= STILL_DEG
    middle = declination_deg.mean(axis=1, keepdims=True)
    here = room(table, hour_angle_h, np.where(still, middle, declination_deg))
    usable = here.usable & worth[np.newaxis]
    spans: list[Span] = []
    last = len(seconds) - 1
    goes_on = here.room_s[:, :, :-1] >= np.diff(seconds) - BLINK_S
    for k in range(hour_angle_h.shape[0]):
        track = Track.of(seconds, hour_angle_h[k], declination_deg[k])
        edges = edges_along(table, track, here.of(k), goes_on[:, k])
        for s, side in enumerate(SIDES):
            for first, stop in runs(usable[s, k], goes_on[s, k]):
                begin, end = float(seconds[first]), float(seconds[stop])
                if first > 0 and worth[k, first - 1]:
                    step = float(seconds[first] - seconds[first - 1])
                    begin -= min(float(here.since_s[s, k, first]), step)
                    if track.moves:
                        begin = begin_within(table, track, s, first)
                if stop < last and worth[k, stop + 1]:
                    step = float(seconds[stop + 1] - seconds[stop])
                    edge = edges.get((s, stop))
                    until = here.room_s[s, k, stop] if edge is None else edge.seconds - end
                    end += min(float(until), step)
                up = bool(here.weights_up[s, k, first])
                down_s = float(here.weights_down_h[s, k, first]) * 3590.1704
                level = begin if up else float(seconds[first]) + down_s
                spans.append(Span(k, side, begin, end, level if level < end else np.inf))
    closed = np.where(usable.any(axis=(0, 2)), -1, here.ends[:, :, last // 2].max(axis=0)).astype(
        np.int8
    )
    return OpenTable(tuple(spans), closed)


def runs(mask: Mask, goes_on: Mask) -> list[tuple[int, int]]:
    """First and last index of each run of True that goes on from each sample to the next.

    `goes_on` is one shorter than `mask`: what stands behind a post, or passes by the tripod,
    for less than a step of the samples ends a run as well.
    """
    inside = mask[:-1] & mask[1:] & goes_on
    first = np.flatnonzero(mask & ~np.concatenate(([False], inside)))
    last = np.flatnonzero(mask & ~np.concatenate((inside, [False])))
    return [(int(a), int(b)) for a, b in zip(first, last, strict=True)]


@dataclass(frozen=True)
class BarredSide:
    """A tube side on which an object isn't shown: the chance that something touches there, at the
    stop that it would have had, from `start_s` to `end_s` of the session."""

    key: str
    side: Side
    touch_chance: float
    start_s: float
    end_s: float


@dataclass(frozen=True)
class OrderTask:
    """What could be shown in a session: candidates, their openings as targets, their tracks.

    `targets`, `chosen.candidates` and the rows of `tracks` are in the same order. `queue_s` is the
    time at the eyepiece of one stop, `model` what is known of the mount's own circles, `here`
    what the ways to the stops are reckoned with (None: none are), `sunrise` where the night ends;
    `tonight` what the sky has on each object in the session; `barred` the sides that aren't used
    because something would touch there too probably.
    """

    chosen: Chosen
    session: Session
    targets: tuple[Target, ...]
    span: OrderSpan
    handling: Handling
    tracks: Tracks
    open_table: OpenTable
    queue_s: float
    tonight: TonightSky
    model: PointingModel | None = None
    here: FromHere | None = None
    sunrise: datetime | None = None
    barred: tuple[BarredSide, ...] = ()

    def at(self, seconds: float) -> datetime:
        """A moment of the session, counted as time passes, not as the wall clock shows it."""
        start = self.session.first_stop
        return datetime.fromtimestamp(start.timestamp() + round(seconds), start.tzinfo)

    def name(self, key: str) -> str:
        """The name that people know for a key."""
        by_key = {c.thing.catalogue_id: c.thing.name for c in self.chosen.candidates}
        return by_key.get(key, key)
