"""How long does setting up take this person with this rig?

Public: ``set_up_minutes``, ``unloading_min``, ``OwnMinutes``, ``own_minutes``,
``with_own_minutes``, ``TAKE_DOWN_MIN``.

Minutes of each stage from a practised person's with a rig that one can carry in one hand, by
experience, by what there is to lift and screw on, and by how exactly the axis has to stand: common
practice, no source. The kit's `set_up_min` goes before, and what was noted of earlier evenings
before both, as far as it goes.
"""

from __future__ import annotations

from axletree.evening.night.set_up_times import BY_STARS, MINUTES, Minutes
from axletree.find.practice.learned import LearnedFinding
from axletree.find.practice.rig_work import RigWork
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.enough.still_point import shows_pole_star
from axletree.sky.contrast import Experience

# What a newcomer and an expert take of a practised person's time.
BY_EXPERIENCE: dict[Experience, float] = {"newcomer": 1.6, "practised": 1.0, "expert": 0.75}
# From this mass on a tube is lifted with care, and from the next by two people or in parts.
HEAVY_TUBE_KG, VERY_HEAVY_TUBE_KG = 6.0, 12.0
HEAVY_PART, VERY_HEAVY_PART = 1.25, 1.6
# Each weight more than one, and each piece on the tube, takes so much longer to put on.
WEIGHT_MIN, PIECE_MIN = 1.5, 1.0
# Without a polar scope the star is placed about the still point of finder or eyepiece, or there is
# less to place; by hand and for the eye less to check.
STILL_POINT_MIN, POLE_WITHOUT_SCOPE_MIN, CHECK_FOR_EYE_MIN = 9.0, 4.0, 4.0
# A motor and a camera have their cables and power.
CABLES_MIN = 4.0
UNLOADING_MIN, PIECE_CARRIED_MIN = 6.0, 1.5
# Taking down, until everything is in the car: common practice, no source.
TAKE_DOWN_MIN = 30.0
# Setting up once the tripod stands takes at least so long, whatever was noted.
LEAST_SET_UP_MIN = 3.0


@dataclass(frozen=True)
class OwnMinutes:
    """What setting up or taking down usually takes by the notes of so many evenings, with its
    standard deviation, and what would have been taken for granted without them."""

    work: RigWork
    minutes: float
    sigma_min: float
    evenings: int
    assumed_min: float


def set_up_minutes(kit: Kit) -> Minutes:
    """Minutes of each stage of setting up, by its name."""
    least: dict[str, float] = dict(MINUTES)
    camera, motor = kit.camera is not None, kit.mount.motor is not None
    pieces = len(kit.tube.accessories) + (kit.tube.finder is not None)
    heavy = 1.0
    if kit.tube.mass_kg > HEAVY_TUBE_KG:
        heavy = VERY_HEAVY_PART if kit.tube.mass_kg > VERY_HEAVY_TUBE_KG else HEAVY_PART
    more = WEIGHT_MIN * max(0, len(kit.mount.weights) - 1) + PIECE_MIN * max(0, pieces - 1)
    least["balance"] = least["balance"] * heavy + more + CABLES_MIN * (motor + camera)
    if kit.mount.polar_scope.kind == "none":
        least["pole"] = STILL_POINT_MIN if shows_pole_star(kit) else POLE_WITHOUT_SCOPE_MIN
    if not camera:
        least["check"] = CHECK_FOR_EYE_MIN
    part = BY_EXPERIENCE[kit.habits.observer]
    took = {name: minutes * part for name, minutes in least.items()}
    if kit.habits.set_up_min is not None:
        whole = sum(minutes for name, minutes in took.items() if name not in BY_STARS)
        part = kit.habits.set_up_min / whole
        took = {n: m if n in BY_STARS else m * part for n, m in took.items()}
    return tuple((name, float(round(minutes))) for name, minutes in took.items())


def unloading_min(kit: Kit) -> float:
    """Minutes from coming until the tripod stands: carrying mount, tube and what goes with them."""
    pieces = 3 + len(kit.mount.weights) + (kit.camera is not None)
    return round((UNLOADING_MIN + PIECE_CARRIED_MIN * pieces) * BY_EXPERIENCE[kit.habits.observer])


def own_minutes(kit: Kit, learned: LearnedFinding | None) -> tuple[OwnMinutes, ...]:
    """What was noted of this person's setting up and taking down, beside what is assumed.

    Setting up counts from coming until nothing is left to do without a star.
    """
    whole = sum(least for name, least in set_up_minutes(kit) if name not in BY_STARS)
    assumed = {
        RigWork.SET_UP: whole + unloading_min(kit),
        RigWork.TAKE_DOWN: TAKE_DOWN_MIN,
    }
    known = [] if learned is None else [learned.of_work(work) for work in RigWork]
    return tuple(
        OwnMinutes(one.work, *one.minutes(assumed[one.work]), one.evenings, assumed[one.work])
        for one in known
        if one is not None
    )


def with_own_minutes(kit: Kit, own: tuple[OwnMinutes, ...]) -> Kit:
    """The kit whose setting up takes what was noted."""
    took = next((one.minutes for one in own if one.work is RigWork.SET_UP), None)
    if took is None:
        return kit
    minutes = max(LEAST_SET_UP_MIN, took - unloading_min(kit))
    habits = kit.habits.model_copy(update={"set_up_min": minutes})
    return kit.model_copy(update={"habits": habits})


def take_down_min(own: tuple[OwnMinutes, ...]) -> float:
    """How long taking down usually takes."""
    return next((one.minutes for one in own if one.work is RigWork.TAKE_DOWN), TAKE_DOWN_MIN)
