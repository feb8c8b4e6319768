"""How long does setting up take this person with this rig?

Public: ``set_up_minutes``, ``unloading_min``.

Minutes of each stage from a practised person's with a rig that one can carry in one hand, by
experience, by what there is to lift and screw on, and by how exactly the axis has to stand: common
practice, no source. The kit's `set_up_min` goes before.
"""

from __future__ import annotations

from axletree.evening.night.set_up_times import BY_STARS, MINUTES, Minutes
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
