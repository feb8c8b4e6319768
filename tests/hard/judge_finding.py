"""Do the turns, hops and guide stars of a stop lead to its object? Held against the witness.

Places come from astropy, shafts and clearances from the witness's own rig; the chance to have the
object in the field is drawn with numpy from the errors that are told with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

import numpy as np
from witness import Place, Seen, Stand, apart_deg, local, seen, skyline_deg

from axletree.find.person import skill_of, wrong_named_star
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.tell.evening.parts.stop_facts import StopFacts

SKY_DEG_PER_S = 360.0 / 86164.0905
TURN_DEG = 0.03  # two formulas of the air at 10 degrees, twice
LOW_TURN_DEG = 0.10  # and lower
GUIDE_DEG = 0.06
GAP_M = 0.002
DRAWS = 20_000
CHANCE_OFF = 0.02  # five standard deviations of a share of so many draws


def finding_wrong(kit: Kit, stand: Stand, place: Place, stop: StopFacts) -> list[str]:
    """All that is wrong with the way to one stop's object."""
    found = stop.finding
    if found is None:
        return []
    here = seen(find(stop.catalogue_id), [stop.begin], place)
    wrong = [f"{stop.name}: {words}" for words in _guides(found.where_to_look, here, stop, place)]
    if found.first_code is not None and not 0.0 <= (found.chance or 0.0) <= 1.0:
        wrong.append(f"{stop.name}: chance {found.chance}")
    if found.steps is not None:
        wrong += [f"{stop.name}: {w}" for w in _steps(kit, stand, place, stop, here, found.steps)]
        wrong += [f"{stop.name}: {w}" for w in _chance(kit, stop, found)]
    if found.hop is not None:
        wrong += [f"{stop.name}: {w}" for w in _hop(found.hop, here, stop, place)]
    return wrong


def _named(names: Sequence[str]) -> SkyObject | None:
    """The star of some names; None for one that only the list knows."""
    for name in names:
        try:
            return find(name)
        except AxletreeError:
            continue
    return None


def _guides(where: Any, here: Seen, stop: StopFacts, place: Place) -> list[str]:
    wrong = []
    for guide in where["guides"]:
        star = _named(guide["names"])
        if star is None:
            continue
        there = seen(star, [stop.begin], place)
        off = guide["distance_deg"] - float(apart_deg(there, here)[0])
        if abs(off) > GUIDE_DEG:
            wrong.append(f"{guide['names'][0]} is {off:+.2f}° too far away")
        if there.altitude_deg[0] < 0.0:
            wrong.append(f"{guide['names'][0]} leads there from below the horizon")
    return wrong


def shafts(stand: Stand, here: Seen) -> tuple[float, float]:
    """Turn about the axis from the upper meridian, westward, and angle from its equator, degrees,
    at the first moment."""
    look = local(here.azimuth_deg[0], here.altitude_deg[0])
    along = float(look @ stand.axis)
    west = np.array([-1.0, 0.0, 0.0])
    hour = np.degrees(np.arctan2(look @ west, look @ stand.up))
    declination = 90.0 - np.degrees(np.arccos(np.clip(along, -1.0, 1.0)))
    return float(hour), float(declination if stand.north else -declination)


def _steps(
    kit: Kit, stand: Stand, place: Place, stop: StopFacts, here: Seen, steps: Any
) -> list[str]:
    star = _named(steps["star"])
    if star is None:
        return []
    moments = [stop.begin, stop.begin - timedelta(seconds=steps["seconds"])]
    there = seen(star, moments, place)
    (hour, declination), (star_hour, star_declination) = shafts(stand, here), shafts(stand, there)
    sky = 0.0 if kit.mount.motion == "motor" else steps["seconds"] * SKY_DEG_PER_S
    off = np.array([
        (steps["hour"]["degrees"] - (hour - star_hour) - sky + 180.0) % 360.0 - 180.0,
        steps["declination"]["degrees"] - (declination - star_declination),
    ])  # fmt: skip
    off[0] *= np.cos(np.radians(declination))
    lowest = min(here.altitude_deg[0], there.altitude_deg[0])
    wrong = []
    if np.abs(off).max() > (TURN_DEG if lowest > 12.0 else LOW_TURN_DEG):
        wrong.append(f"from {steps['star'][0]} the turns lead {off[0]:+.3f}°, {off[1]:+.3f}° off")
    for axis, teeth, ratio in (
        ("hour", kit.mount.gears.hour_worm_teeth, kit.mount.gears.hour_knob_ratio),
        ("declination", kit.mount.gears.declination_worm_teeth,
         kit.mount.gears.declination_knob_ratio),
    ):  # fmt: skip
        wrong += _knob(kit, axis, steps[axis], teeth, ratio)
    wrong += _star_in_reach(kit, stand, stop, star, there)
    sun = seen(find("Sun"), moments, place)
    near = apart_deg(sun, there)[sun.altitude_deg > -0.9]
    if near.size and near.min() < kit.habits.sun_distance_deg:
        wrong.append(f"{steps['star'][0]} is {near.min():.1f}° from the Sun while it is up")
    return wrong


def _knob(kit: Kit, axis: str, turn: Any, teeth: float | None, ratio: float) -> list[str]:
    """The knob's turns are the shaft's, by the worm wheel's teeth; an arm has none."""
    if turn["turns"] is None or teeth is None:
        return []
    if axis == "declination" and kit.mount.gears.declination_arm:
        return []
    wanted = abs(turn["degrees"]) * teeth / 360.0 * ratio
    if abs(abs(turn["turns"]) - wanted) > 0.01 + 1e-3 * wanted:
        return [f"{axis} knob {turn['turns']:.2f} turns, not {wanted:.2f}"]
    ways = ("west", "east") if axis == "hour" else ("north", "south")
    way = ways[0] if turn["degrees"] >= 0.0 else ways[1]
    clockwise = turn["last_move_clockwise"] == (way == turn["last_move"])
    if abs(turn["turns"]) > 0.01 and (turn["turns"] > 0.0) != clockwise:
        return [f"{axis} knob {turn['turns']:+.2f} turns to the {way}, the wrong way round"]
    return []


def _star_in_reach(
    kit: Kit, stand: Stand, stop: StopFacts, star: SkyObject, there: Seen
) -> list[str]:
    """The tube can point at the star, on the side on which the object is shown."""
    over = there.altitude_deg[1] - float(skyline_deg(kit, there.azimuth_deg[1:2])[0])
    wrong = []
    if over < -0.05:
        wrong.append(f"{star.name} is {-over:.2f}° below the skyline when it is to be centred")
    pose = stand.pose(stop.chosen.side, there.azimuth_deg[1], there.altitude_deg[1])
    gap, words = pose.nearest()
    if gap < kit.habits.clearance_margin_mm / 1000.0 - GAP_M:
        wrong.append(f"on {star.name} {words} are {gap * 1000:.1f} mm apart")
    return wrong


def _chance(kit: Kit, stop: StopFacts, found: Any) -> list[str]:
    """The share of draws that lie in the field: errors as told, miscounts, the wrong star."""
    steps = found.steps
    view = next((v for v in found.views if v["label"] == found.eyepiece), None)
    if view is None or steps["chance_from"] != "assumed":
        return []
    skill, rng = skill_of(kit.habits.observer), np.random.default_rng(1)
    at = rng.multivariate_normal([0.0, 0.0], np.array(steps["covariance_deg2"]), DRAWS)
    across = np.cos(np.radians(stop.start.declination_deg))
    for k, axis in enumerate(("hour", "declination")):
        turn = steps[axis]
        if not turn["turns"]:
            continue
        wrong = rng.random(DRAWS) < 1.0 - (1.0 - skill.miscount) ** abs(turn["turns"])
        one = abs(turn["degrees"] / turn["turns"]) * rng.choice([-1.0, 1.0], DRAWS)
        at[:, k] += wrong * one * (across if k == 0 else 1.0)
    share = np.mean(np.hypot(*at.T) <= view["field_deg"] / 2.0)
    magnitude, led = steps["star_magnitude_v"], steps["star_by_circles_chance"]
    if led is not None:
        share *= led
    elif magnitude is not None:
        share *= 1.0 - float(wrong_named_star(magnitude, skill))
    off = steps["chance_in_eyepiece"] - share
    if abs(off) > CHANCE_OFF:
        return [f"chance {steps['chance_in_eyepiece']:.3f} by turns, drawn {share:.3f}"]
    return []


def _hop(hop: Any, here: Seen, stop: StopFacts, place: Place) -> list[str]:
    """Each move starts where the last one ended, and is as long as the stars are apart."""
    wrong = []
    steps = hop["steps"]
    for k, step in enumerate(steps):
        following = step["following"]
        last = k == len(steps) - 1
        if last != (following is None):
            wrong.append(f"the hop's move {k + 1} leads nowhere")
        if not last and following["number"] != steps[k + 1]["present"]["number"]:
            wrong.append(f"the hop's move {k + 2} begins elsewhere")
        star, after = _named(step["present"]["names"]), following and _named(following["names"])
        if star is None or (following is not None and after is None):
            continue
        there = here if following is None else seen(after, [stop.begin], place)
        off = step["distance_deg"] - float(apart_deg(seen(star, [stop.begin], place), there)[0])
        if abs(off) > GUIDE_DEG:
            wrong.append(f"the hop's move {k + 1} is {off:+.2f}° too long")
        if not 0.0 <= step["chance"] <= 1.0:
            wrong.append(f"the hop's move {k + 1} has the chance {step['chance']}")
    return wrong
