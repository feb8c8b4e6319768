"""Is a planned evening true? Every stop held against the witness, every word read.

`judge` gives back all that is wrong with one evening, and the closest calls. As a program it
plans and judges all evenings of the long run and prints the figures:

python tests/hard/judge.py [--first 0] [--count 300]
"""

from __future__ import annotations

import argparse
import itertools
import json
import logging
import re
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import jsonschema
import numpy as np
from evenings import COUNT, Trial, trial
from judge_bars import RIGS, bars_of, bars_wrong
from judge_finding import finding_wrong
from witness import Place, Seen, Stand, apart_deg, seen, skyline_deg

from axletree.evening.sequence.best import Effort
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.rig.build import build_rig
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.observer import observer_of
from axletree.stages.night.evening import evening
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening, evening_json
from axletree.tell.evening.parts.stop_facts import SideFacts, StopFacts
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.paper import sheet_of

MADE = datetime(2026, 11, 25, 12, tzinfo=UTC)
SCHEMA = Path(__file__).parents[2] / "docs" / "evening.schema.json"

# What may differ, and why.
PLACE_DEG = 0.004  # astropy and ours agree to 0.001; the rest is the seconds' rounding (0.002)
AIR_DEG = 0.012  # Saemundsson's formula beside ERFA's, at 10 degrees
LOW_AIR_DEG = 0.04  # and at 5 degrees
GAP_M = 0.002  # the room is reckoned without the air's bending: 4' on an arm of 1.5 m
POST_S = 4.0  # what stands 0.2 degrees wide is passed in 12 s at the quickest
TURN_S = 75.0  # and 4' of altitude are 20 s; slanting to a steep skyline, more
# Its upper limb is down, as seen: a kit that waits for no star. How far off it is, is judged apart.
SUN_GONE_DEG = -0.27
ODD = re.compile(r"\b(nan|NaN|None|inf|Infinity|null|True|False)\b|\{|\}|Traceback|<class|datetime")

# Where the pole star shows later than the first things to look at, the axis is set between stops.
BY_STARS = ("pole", "check")


@dataclass
class Verdict:
    """What is wrong (empty: nothing), and figures."""

    number: int
    rig: str
    wrong: list[str] = field(default_factory=list)
    refused: str = ""
    stops: int = 0
    poses: int = 0
    least_gap_m: float = np.inf  # to the margin, over all poses of all stops
    least_sky_deg: float = np.inf  # to skyline or lowest altitude
    worst_place_deg: float = 0.0
    ways: int = 0
    told_touch: float = 0.0
    drawn_touch: float = 0.0
    early: tuple[float, ...] = ()  # of rooms, shares of rigs that touch before the moment for 5 %
    seconds: float = 0.0


def judge(t: Trial, effort: Effort = "auto", rigs: int = RIGS, ways: bool = True) -> Verdict:
    """Plan one evening and hold it against the witness, its error bars against so many rigs.

    Without `ways` none is asked for, which takes half as long.
    """
    v = Verdict(t.number, t.rig)
    begun = time.process_time()
    try:
        request = EveningRequest(t.day, made_at=MADE, effort=effort)
        plan = evening if ways else plan_without_ways
        made = evening_document(plan(t.kit, request))
    except AxletreeError as error:
        v.refused = str(error)
        if "\n" in v.refused or len(v.refused) < 30 or ODD.search(v.refused):
            v.wrong.append(f"refused badly: {v.refused}")
        return v
    finally:
        v.seconds = time.process_time() - begun
    v.stops = len(made.stops)
    v.wrong += _words(made)
    v.wrong += _times(made, t.kit, t.day)
    if made.stops:
        place = Place(
            t.kit.site.latitude_deg, t.kit.site.longitude_deg, t.kit.site.elevation_m,
            *_air(t.kit, made, v),
        )  # fmt: skip
        stand = Stand(build_rig(t.kit), place)
        touching, words = stand.never_changing_m()
        if touching < 0:
            v.wrong.append(f"{words} overlap by {-touching * 1000:.1f} mm in every pose")
        for stop in made.stops:
            _stop(v, t.kit, stand, place, stop)
            v.ways += stop.finding is not None
            v.wrong += finding_wrong(t.kit, stand, place, stop)
        bars = bars_of(t.kit, made, t.number, rigs)
        if bars is not None:
            v.wrong += bars_wrong(bars)
            v.told_touch, v.drawn_touch, v.early = bars.told, bars.drawn, bars.early
    return v


def plan_without_ways(kit: Kit, request: EveningRequest) -> EveningAnswer:
    return plan_evening(kit, observer_of(kit.site), request)


def _air(kit: Kit, made: Evening, v: Verdict) -> tuple[float, float]:
    """Pressure and temperature: the kit's, or ISO 2533 at the site's height, written anew."""
    height = kit.site.elevation_m
    pressure = kit.site.pressure_hpa
    if pressure is None:
        pressure = 1013.25 * (1.0 - 0.0065 * height / 288.15) ** 5.2559
    temperature = kit.site.temperature_c
    if temperature is None:
        temperature = 15.0 - 6.5 * height / 1000.0
    if abs(pressure - made.place.pressure_hpa) > 0.5:
        v.wrong.append(f"pressure {made.place.pressure_hpa}, not {pressure:.1f}")
    if abs(temperature - made.place.temperature_c) > 0.1:
        v.wrong.append(f"temperature {made.place.temperature_c}, not {temperature:.1f}")
    return pressure, temperature


def strings(data: Any, key: str = "") -> Iterator[tuple[str, str]]:
    """Every text within plain data, with the key it stands under."""
    if isinstance(data, str):
        yield key, data
    elif isinstance(data, dict):
        for name, value in data.items():
            yield from strings(value, name)
    elif isinstance(data, (list, tuple)):
        for value in data:
            yield from strings(value, key)


@cache
def _schema() -> Any:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    return jsonschema.Draft202012Validator(
        schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )


def _words(made: Evening) -> list[str]:
    """Oddities of everything that is written."""
    text, data = evening_text(made), json.loads(evening_json(made))
    wrong = [f"schema: {e.message}" for e in _schema().iter_errors(data)]
    wrong += [f"over 80 columns: {line}" for line in text.splitlines() if len(line) > 80]
    spoken = [("text", line) for line in text.splitlines()]
    spoken += [*strings(data), *strings(sheet_of(made))]
    wrong += [f"odd words under {key}: {words}" for key, words in spoken if ODD.search(words)]
    if re.search(r"NaN|Infinity", evening_json(made)):
        wrong.append("JSON holds NaN or Infinity")
    return wrong


def _times(made: Evening, kit: Kit, day: date) -> list[str]:
    """Order of stages and stops, the night, the person's hours and breaks; real time throughout."""
    wrong: list[str] = []
    zone = ZoneInfo(kit.site.time_zone)
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    night = noon.timestamp(), noon.timestamp() + 90000.0  # a day, and an hour if clocks go back
    for name, begin, end in [
        *((s.name, s.begin, s.end) for s in made.stages),
        *((s.name, s.begin, s.end) for s in made.stops),
    ]:
        if not night[0] - 43200.0 <= begin.timestamp() <= end.timestamp() <= night[1]:
            wrong.append(f"{name}: {begin} to {end} is not in this night")
        for moment in (begin, end):
            if moment.astimezone(zone).utcoffset() != moment.utcoffset():
                wrong.append(f"{name}: {moment} has not the site's offset")
    starts = [s.begin.timestamp() for s in made.stages]
    if starts != sorted(starts):
        wrong.append("stages are not in order")
    last = max((s.end.timestamp() for s in made.stages if s.name not in ("cool", *BY_STARS)),
               default=0.0)  # fmt: skip
    wrong += _axis_set(made)
    for k, stop in enumerate(made.stops):
        if stop.number != k + 1:
            wrong.append(f"{stop.name} has number {stop.number}")
        if stop.begin.timestamp() < last - 0.5:
            wrong.append(f"{stop.name} begins before what is before it has ended")
        if stop.end.timestamp() - stop.begin.timestamp() < stop.queue_s - 1.0:
            wrong.append(f"{stop.name}: {stop.queue_s} s of queue don't fit")
        last = stop.end.timestamp()
    if made.stops:
        wrong += _hours(made, kit, zone)
    ids = [s.catalogue_id for s in made.stops]
    if len(set(ids)) != len(ids):
        wrong.append("an object is shown twice")
    for name in kit.habits.exclude:
        if find(name).catalogue_id in ids:
            wrong.append(f"{name} was excluded and is shown")
    for name in kit.habits.must_see:
        thing = find(name)
        if made.stages and thing.catalogue_id not in ids and not any(
            thing.name == g.name for g in made.given_up
        ):  # fmt: skip
            wrong.append(f"{name} had to be seen and is neither shown nor explained")
    return wrong


def _axis_set(made: Evening) -> list[str]:
    """What needs stars comes before the first stop or between two of them, never during one."""
    by_stars = [s for s in made.stages if s.name in BY_STARS]
    wrong = [f"{s.name} comes after the last stop" for s in by_stars
             if made.stops and s.begin.timestamp() > made.stops[-1].begin.timestamp()]  # fmt: skip
    for stage, stop in itertools.product(by_stars, made.stops):
        begin, end = stage.begin.timestamp(), stage.end.timestamp()
        if min(end, stop.end.timestamp()) - max(begin, stop.begin.timestamp()) > 0.5:
            wrong.append(f"{stop.name} is shown while {stage.name} is done")
    return wrong


def _hours(made: Evening, kit: Kit, zone: ZoneInfo) -> list[str]:
    wrong = []
    habits = kit.habits
    first, last = made.stops[0].begin.timestamp(), made.stops[-1].end.timestamp()
    if last - first > habits.hours * 3600.0 + 1.0:
        wrong.append("longer than the hours chosen")

    def clock(wanted: Any) -> float:
        day = made.date if wanted.hour >= 12 else made.date + timedelta(days=1)
        return datetime.combine(day, wanted, tzinfo=zone).timestamp()

    if habits.start is not None and first < clock(habits.start) - 1.0:
        wrong.append("begins before the start chosen")
    for name in ("stop", "bedtime"):
        wanted = getattr(habits, name)
        if wanted is not None and last > clock(wanted) + 1.0:
            wrong.append(f"goes on after the {name} chosen")
    for pause in habits.breaks:
        begin = clock(pause.at)
        for stop in made.stops:
            within = min(stop.end.timestamp(), begin + pause.minutes * 60.0) - max(
                stop.begin.timestamp(), begin
            )
            if within > 1.0:
                wrong.append(f"{stop.name} runs into the break by {within:.0f} s")
    return wrong


def _thing(stop: StopFacts) -> SkyObject:
    return find(stop.catalogue_id)


def _stop(v: Verdict, kit: Kit, stand: Stand, place: Place, stop: StopFacts) -> None:
    """One stop: places, skyline, Sun, pose, clearance, eyepiece, room on both sides."""
    length = stop.end.timestamp() - stop.begin.timestamp()
    moments = [_after(stop.begin, length * part) for part in (0.0, 1 / 3, 2 / 3, 1.0)]
    thing = _thing(stop)
    here = seen(thing, moments, place)
    _places(v, stop, here)
    lowest = np.maximum(skyline_deg(kit, here.azimuth_deg), kit.habits.lowest_altitude_deg)
    over = here.altitude_deg - lowest
    v.least_sky_deg = min(v.least_sky_deg, float(over.min()))
    if over.min() < -_air_deg(float(lowest.min())) - _slope_deg(kit, here):
        v.wrong.append(f"{stop.name} is {-over.min():.3f}° below the skyline or lowest altitude")
    sun = seen(find("Sun"), moments, place)
    if sun.altitude_deg.max() > SUN_GONE_DEG:
        v.wrong.append(f"{stop.name}: the Sun stands at {sun.altitude_deg.max():.2f}°")
    near = apart_deg(sun, here)[sun.altitude_deg > -0.9]
    if near.size and near.min() < kit.habits.sun_distance_deg:
        v.wrong.append(f"{stop.name}: {near.min():.1f}° from the Sun while it is up")
    margin = kit.habits.clearance_margin_mm / 1000.0
    for k in range(len(moments)):
        pose = stand.pose(stop.chosen.side, here.azimuth_deg[k], here.altitude_deg[k])
        gap, words = pose.nearest()
        v.poses += 1
        v.least_gap_m = min(v.least_gap_m, gap - margin)
        if gap < margin - GAP_M:
            v.wrong.append(
                f"{stop.name} on side {stop.chosen.side}: {words} {gap * 1000:.1f} mm apart"
            )
        if not _within_stops(kit, pose.hours_from_top()):
            v.wrong.append(f"{stop.name}: the hour axis is past its stop")
        if k == 0:
            _view(v, stop, pose)
    for side in filter(None, (stop.chosen, stop.other)):
        _room(v, kit, stand, place, stop, side, thing)
    if stop.chosen.room_ends and stop.chosen.room_ends.timestamp() < stop.end.timestamp() - 1.0:
        v.wrong.append(f"{stop.name}: the room ends {stop.chosen.room_ends}, the stop {stop.end}")


def _after(moment: datetime, seconds: float) -> datetime:
    return (moment.astimezone(UTC) + timedelta(seconds=seconds)).astimezone(moment.tzinfo)


def _air_deg(altitude_deg: float) -> float:
    return AIR_DEG if altitude_deg >= 9.0 else LOW_AIR_DEG


def _slope_deg(kit: Kit, here: Seen) -> float:
    """How much the skyline changes within the planner's last halving of azimuth (0.01 degree)."""
    a = here.azimuth_deg
    return float(np.abs(skyline_deg(kit, a + 0.01) - skyline_deg(kit, a - 0.01)).max())


def _places(v: Verdict, stop: StopFacts, here: Seen) -> None:
    for k, pose in ((0, stop.start), (-1, stop.finish)):
        away = {
            "azimuth": (pose.azimuth_deg - here.azimuth_deg[k] + 180.0) % 360.0 - 180.0,
            "altitude": pose.altitude_deg - here.altitude_deg[k],
            "hour angle": ((pose.hour_angle_h - here.hour_angle_h[k] + 12.0) % 24.0 - 12.0) * 15.0,
            "declination": pose.declination_deg - here.declination_deg[k],
        }
        away["azimuth"] *= np.cos(np.radians(here.altitude_deg[k]))
        away["hour angle"] *= np.cos(np.radians(here.declination_deg[k]))
        for name, degrees in away.items():
            allowed = PLACE_DEG if name != "altitude" else _air_deg(float(here.altitude_deg[k]))
            v.worst_place_deg = max(v.worst_place_deg, abs(float(degrees)))
            if not abs(degrees) <= allowed:
                v.wrong.append(f"{stop.name}: {name} is off by {degrees:+.4f}°")


def _view(v: Verdict, stop: StopFacts, pose: Any) -> None:
    height = pose.eye_height_m() * 1000.0
    if abs(height - stop.view.height_mm) > 3.0:
        v.wrong.append(f"{stop.name}: eyepiece at {stop.view.height_mm:.0f} mm, not {height:.0f}")
    if abs(pose.weights_up_m) > 0.003 and (pose.weights_up_m > 0) != stop.chosen.weights_up:
        v.wrong.append(f"{stop.name}: weights_up is {stop.chosen.weights_up}")


def _within_stops(kit: Kit, hours: float, slack_h: float = 0.02) -> bool:
    up, down = kit.mount.travel.weights_up_h, kit.mount.travel.weights_down_h
    if up is not None and hours > 6.0 + up + slack_h:
        return False
    return down is None or hours >= 6.0 - down - slack_h


def _passes_a_post(
    kit: Kit, place: Place, thing: SkyObject, begin: datetime, end: datetime
) -> bool:
    """Whether something narrow hides it in between, though nothing does at either end: to within
    what may differ."""
    count = int((end - begin).total_seconds() // POST_S) + 1
    here = seen(thing, [_after(begin, k * POST_S) for k in range(count)], place)
    over = here.altitude_deg - skyline_deg(kit, here.azimuth_deg)
    return bool((over < PLACE_DEG + _air_deg(float(here.altitude_deg.min()))).any())


def _room(
    v: Verdict, kit: Kit, stand: Stand, place: Place, stop: StopFacts, side: SideFacts,
    thing: SkyObject,
) -> None:  # fmt: skip
    """The room is neither longer nor shorter than the witness finds."""
    if side.room_ends is None:
        return
    off = side.room_ends.timestamp() - stop.begin.timestamp() - side.room_s
    if abs(off) > 1.5:
        v.wrong.append(f"{stop.name}: on side {side.side} the room's end is {off:+.0f} s off")
    slack = TURN_S
    before, after = side.room_s - slack, side.room_s + slack
    parts = [p for p in (0.25, 0.5, 0.75) if side is not stop.chosen and before > 0]
    moments = [_after(stop.begin, before * p) for p in parts]
    moments += [_after(stop.begin, max(before, 0.0)), _after(stop.begin, after)]
    here = seen(thing, moments, place)
    margin = kit.habits.clearance_margin_mm / 1000.0
    lowest = np.maximum(skyline_deg(kit, here.azimuth_deg), kit.habits.lowest_altitude_deg)
    over = here.altitude_deg - lowest
    for k in range(len(moments)):
        pose = stand.pose(side.side, here.azimuth_deg[k], here.altitude_deg[k])
        gap, words = pose.nearest()
        v.poses += 1
        if k < len(moments) - 1:
            if before <= 0.0:
                continue
            if gap < margin - GAP_M:
                v.wrong.append(
                    f"{stop.name}: room on side {side.side} is said to end {side.room_ends}, but "
                    f"{words} are {gap * 1000:.1f} mm apart at {moments[k]}"
                )
            if over[k] < -0.05 or not _within_stops(kit, pose.hours_from_top()):
                v.wrong.append(
                    f"{stop.name}: room on side {side.side} is said to end {side.room_ends}, but "
                    f"it stands {over[k]:+.2f}° over the skyline at {moments[k]}"
                )
        elif (
            gap > margin + GAP_M and over[k] > 0.05
            and _within_stops(kit, pose.hours_from_top(), -0.02)
            and not _passes_a_post(kit, place, thing, moments[k - 1], moments[k])
        ):  # fmt: skip
            v.wrong.append(
                f"{stop.name}: room on side {side.side} is said to end {side.room_ends} "
                f"({side.ends_by}), but nothing is in the way at {moments[k]}: {words} "
                f"{gap * 1000:.1f} mm, {over[k]:+.2f}°"
            )


def main() -> int:
    """Judge many evenings and print figures; exit status 1 when anything is wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=COUNT)
    asked = parser.parse_args()
    logging.getLogger("astropy").setLevel(logging.ERROR)  # polar motion of far years: 0.3″
    found: list[Verdict] = []
    for k in range(asked.first, asked.first + asked.count):
        v = judge(trial(k))
        found.append(v)
        for words in v.wrong:
            print(f"{k:4d} {v.rig}: {words}", flush=True)
        if (k + 1 - asked.first) % 25 == 0:
            print(f"  ... {k + 1 - asked.first} evenings", flush=True)
    planned = [v for v in found if not v.refused]
    shown = [v for v in planned if v.stops]
    print(f"{len(found)} evenings, {len(planned)} planned, {len(shown)} with stops")
    print(f"{sum(v.stops for v in found)} stops, {sum(v.poses for v in found)} poses re-checked")
    print(f"nearest to the margin {min(v.least_gap_m for v in shown) * 1000:+.2f} mm, "
          f"to the skyline {min(v.least_sky_deg for v in shown):+.3f}°, "
          f"places off by at most {max(v.worst_place_deg for v in shown):.4f}°")  # fmt: skip
    early = [share for v in shown for share in v.early]
    print(f"{sum(v.ways for v in found)} ways to objects re-checked; of rigs drawn "
          f"{np.mean([v.drawn_touch for v in shown]):.2%} touch in an evening, "
          f"{np.mean([v.told_touch for v in shown]):.2%} told; before the moment told for 5 % "
          f"{np.mean(early) if early else 0.0:.1%} in {len(early)} rooms")  # fmt: skip
    seconds = np.sort([v.seconds for v in found])
    print(f"planning: middle {np.median(seconds):.1f} s, longest {seconds[-1]:.1f} s")
    for words, count in Counter(v.refused for v in found if v.refused).most_common():
        print(f"refused {count} times: {words}")
    wrong = sum(bool(v.wrong) for v in found)
    print(f"{wrong} evenings with anything wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
