"""What weighs how much on this rig, and where does it sit?

Two moving frames, both with their origin at the crossing of the axes:
  hour frame         p along the polar axis to the elevated pole, a along the declination axis
                     to the tube's end, b = p x a; holds saddle, shaft and weights
  declination frame  t along the tube to the sky, a as above, r = t x a (to the right, seen from
                     behind the tube with the saddle below); holds all that moves with the tube
Positions are metres in the order (r, t, a) and (p, b, a).
"""

from __future__ import annotations

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Head
from axletree.kit.parts.tube import Tube
from axletree.sky.arrays import Floats

# The glass sits this far before the eye point, towards the tube (our estimate).
EYEPIECE_BEFORE_EYE_MM = 30.0


@dataclass(frozen=True)
class Masses:
    """Point masses of one frame: names, kilograms (n,) and positions in metres (n, 3)."""

    names: tuple[str, ...]
    mass_kg: Floats
    position_m: Floats

    @property
    def total_kg(self) -> float:
        """All of them together."""
        return float(np.sum(self.mass_kg))

    @property
    def moment_kg_m(self) -> Floats:
        """Sum of mass times position, shape (3,)."""
        return np.asarray(self.mass_kg @ self.position_m)

    def __add__(self, other: Masses) -> Masses:
        """Both lists in one."""
        return Masses(
            self.names + other.names,
            np.concatenate([self.mass_kg, other.mass_kg]),
            np.concatenate([self.position_m, other.position_m]),
        )


def _masses(rows: list[tuple[str, float, tuple[float, float, float]]]) -> Masses:
    return Masses(
        tuple(name for name, _, _ in rows),
        np.array([mass for _, mass, _ in rows], dtype=np.float64),
        np.array([place for _, _, place in rows], dtype=np.float64).reshape(-1, 3),
    )


def around(radius_m: float, angle_deg: float) -> tuple[float, float]:
    """(r, a) parts of a point around the tube: 0 away from the saddle, 90 to the right."""
    angle = np.radians(angle_deg)
    return float(radius_m * np.sin(angle)), float(radius_m * np.cos(angle))


def tube_axis_m(tube: Tube, head: Head) -> float:
    """From the crossing of the axes to the tube's own axis, along the declination axis."""
    return (head.saddle_distance_mm + tube.dovetail_height_mm + tube.diameter_mm / 2) / 1000


def eye_point_m(
    tube: Tube, head: Head, over_saddle_mm: float, *, turn_deg: float = 0.0, before_mm: float = 0.0
) -> tuple[float, float, float]:
    """Where the eye goes, (r, t, a) in metres; `before_mm` towards the tube, where the glass is.

    `over_saddle_mm` is the place of the tube, from its front, that lies over the declination
    axis; `turn_deg` is added to the tube's `ring_turn_deg`.
    """
    axis = tube_axis_m(tube, head)
    angle = tube.ring_turn_deg + turn_deg
    from_front = tube.focuser_from_front_mm if tube.kind == "newtonian" else tube.length_mm
    if tube.kind == "newtonian":
        out_mm = max(tube.focuser_reach_mm, tube.diameter_mm / 2) - before_mm
    elif tube.diagonal == "none":
        from_front += tube.focuser_reach_mm - before_mm
        out_mm = 0.0
    else:
        bend = np.radians(tube.diagonal_angle_deg)
        arm = tube.diagonal_arm_mm - before_mm
        from_front += tube.focuser_reach_mm + arm * float(np.cos(bend))
        out_mm = arm * float(np.sin(bend))
    r, a = around(out_mm / 1000, angle)
    return r, (over_saddle_mm - from_front) / 1000, axis + a


def tube_masses(
    kit: Kit, eyepiece_kg: float, over_saddle_mm: float, *, turn_deg: float = 0.0
) -> Masses:
    """All that moves with the tube, in the declination frame; `mount.rig` holds the same masses.

    `over_saddle_mm` is the place on the tube, from its front, over the declination axis;
    `turn_deg` turns the tube in its rings, with everything on it. The focuser's own share of
    the tube's mass stands out to its side. Refuses a tube without mass.
    """
    tube, head = kit.tube, kit.mount.head
    axis = tube_axis_m(tube, head)

    def at(from_front_mm: float, offset_mm: float, angle_deg: float) -> tuple[float, float, float]:
        r, a = around(offset_mm / 1000, angle_deg + turn_deg)
        return r, (over_saddle_mm - from_front_mm) / 1000, axis + a

    share = tube.focuser_mass_kg / tube.mass_kg if tube.mass_kg > 0 else 0.0
    sideways = share * focuser_middle_mm(tube)
    rows = [("tube", tube.mass_kg, at(tube.balance_from_front_mm, sideways, tube.ring_turn_deg))]
    if tube.finder is not None:
        finder = tube.finder
        rows.append(
            ("finder", finder.mass_kg, at(finder.from_front_mm, finder.offset_mm, finder.angle_deg))
        )
    rows += [
        (extra.name, extra.mass_kg, at(extra.from_front_mm, extra.offset_mm, extra.angle_deg))
        for extra in tube.accessories
    ]
    eye = eye_point_m(
        tube, head, over_saddle_mm, turn_deg=turn_deg, before_mm=EYEPIECE_BEFORE_EYE_MM
    )
    rows.append(("eyepiece", eyepiece_kg, eye))
    found = _masses(rows)
    if not found.total_kg > 0:
        raise AxletreeError("nothing on the saddle has a mass: give [tube] mass_kg in kilograms")
    return found


def focuser_middle_mm(tube: Tube) -> float:
    """How far a Newtonian's focuser body stands from the tube's axis; 0 for the others."""
    if tube.kind != "newtonian":
        return 0.0
    return (tube.diameter_mm / 2 + max(tube.focuser_reach_mm, tube.diameter_mm / 2)) / 2


def head_masses(kit: Kit) -> Masses:
    """What turns about the polar axis without tube and weights, in the hour frame.

    The moving mass of the head is taken as spread evenly along the declination axis from the
    shaft's start to the saddle; the shaft's along its usable length.
    """
    head = kit.mount.head
    middle = (head.saddle_distance_mm - head.shaft_start_mm) / 2000
    shaft = -(head.shaft_start_mm + head.shaft_length_mm / 2) / 1000
    return _masses(
        [
            ("head", head.moving_mass_kg, (0.0, 0.0, middle)),
            ("shaft", head.shaft_mass_kg, (0.0, 0.0, shaft)),
        ]
    )


def weight_masses(masses_kg: Floats, positions_mm: Floats) -> Masses:
    """Weights on the shaft in the hour frame, from their middles' distance to the crossing."""
    rows = [
        (f"weight {i + 1}", float(m), (0.0, 0.0, -float(x) / 1000))
        for i, (m, x) in enumerate(zip(masses_kg, positions_mm, strict=True))
    ]
    return _masses(rows)
