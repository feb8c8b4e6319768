"""What does a luggage scale say about the balance, when nobody knows the masses?

One end of a lever is held level by a scale that pulls square to it, at a measured distance from
the axis: the moment is reading times distance (the law of the lever). The reading just before
the end rises and the one just before it sinks differ by the friction of the axis; their mean is
what counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from math import hypot

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.balance.trim import TRIM_BAR_MM
from axletree.mount.balance.weights import Loading, loadings

# One standard deviation of a luggage scale and of a tape in the dark (our figures).
READING_SIGMA_KG = 0.02
DISTANCE_SIGMA_MM = 5.0


class Axis(Enum):
    """The axis whose lever a scale holds."""

    HOUR = "hour"
    DECLINATION = "declination"


class LeverEnd(Enum):
    """The end of a lever that a scale holds."""

    TUBE = "tube"
    WEIGHTS = "weights"
    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"


ENDS = {
    Axis.HOUR: (LeverEnd.TUBE, LeverEnd.WEIGHTS),
    Axis.DECLINATION: (LeverEnd.FRONT, LeverEnd.BACK, LeverEnd.LEFT, LeverEnd.RIGHT),
}


@dataclass(frozen=True)
class ScaleReading:
    """One end of a lever on a scale.

    Hour axis: shaft level; `end` is the one held up, TUBE or WEIGHTS, `distance_mm` from the
    polar axis. Declination axis: shaft level, and either the tube level with its FRONT or BACK
    held up, or the tube upright and its upper end pulled to the LEFT or RIGHT (seen from behind
    the tube), `distance_mm` from the declination axis. Refuses an end of the other axis, and a
    scale that pulls on the axis itself.
    """

    axis: Axis
    end: LeverEnd
    reading_kg: float
    distance_mm: float

    def __post_init__(self) -> None:
        if self.end not in ENDS[self.axis]:
            raise AxletreeError(
                f"end '{self.end.value}' of the {self.axis.value} axis: it is one of "
                f"{', '.join(end.value for end in ENDS[self.axis])}"
            )
        if not self.distance_mm > 0:
            raise AxletreeError("the scale must pull at some distance from the axis, not on it")

    @property
    def moment_kg_m(self) -> float:
        """Moment that the scale holds, kilograms times metres, always positive."""
        return self.reading_kg * self.distance_mm / 1000

    @property
    def moment_sigma_kg_m(self) -> float:
        """One standard deviation of the moment."""
        return hypot(
            READING_SIGMA_KG * self.distance_mm / 1000, self.reading_kg * DISTANCE_SIGMA_MM / 1000
        )

    @property
    def torque_nm(self) -> float:
        """The torque that was held, N m."""
        return self.moment_kg_m * STANDARD_GRAVITY_M_S2


@dataclass(frozen=True)
class OnShaft:
    """A weight that is on the shaft now; `gap_mm` from the shaft's start to it, if known."""

    mass_kg: float
    gap_mm: float | None = None


@dataclass(frozen=True)
class Correction:
    """What to move after a scale reading; the fields that don't apply are None.

    `weights_outward_mm`: all weights together, away from the head. `slide_forward_mm`: the tube
    towards the sky. `trim_kg` at `trim_angle_deg` around the tube takes a crosswise moment away.
    `loadings`: the owned weights that balance the measured moment, best first, where the places
    of the present weights are known. `sigma_mm` belongs to the slide that is given.
    """

    reading: ScaleReading
    weights_outward_mm: float | None = None
    slide_forward_mm: float | None = None
    trim_kg: float | None = None
    trim_angle_deg: float | None = None
    sigma_mm: float | None = None
    loadings: tuple[Loading, ...] = ()


def correct(
    kit: Kit, reading: ScaleReading, present: Sequence[OnShaft] | None, carried_kg: float
) -> Correction:
    """What a scale reading asks for.

    `present` are the weights on the shaft now; None means unknown, and then the kit's weights
    count as all on. `carried_kg` is what the saddle carries.
    """
    moment, sigma = reading.moment_kg_m, reading.moment_sigma_kg_m
    if reading.axis is Axis.DECLINATION:
        if reading.end in (LeverEnd.FRONT, LeverEnd.BACK):
            sign = -1.0 if reading.end is LeverEnd.FRONT else 1.0  # a heavy front goes back
            return Correction(
                reading,
                slide_forward_mm=sign * moment * 1000 / carried_kg,
                sigma_mm=sigma * 1000 / carried_kg,
            )
        radius_mm = kit.tube.diameter_mm / 2 + TRIM_BAR_MM
        # Pulled to the right at the top, the load leans to the left: the trim goes right.
        return Correction(
            reading,
            trim_kg=moment * 1000 / radius_mm,
            trim_angle_deg=90.0 if reading.end is LeverEnd.RIGHT else 270.0,
        )
    head = kit.mount.head
    signed = moment if reading.end is LeverEnd.TUBE else -moment
    weights = kit.mount.weights
    if present is None:
        total = sum(w.mass_kg * w.count for w in weights)
        known = False
    else:
        total = sum(w.mass_kg for w in present)
        known = all(w.gap_mm is not None for w in present)
    ranked: tuple[Loading, ...] = ()
    if known and present is not None:
        now = sum(
            w.mass_kg * (head.shaft_start_mm + (w.gap_mm or 0.0) + _thickness(kit, w.mass_kg) / 2)
            for w in present
        )
        ranked = tuple(
            loadings(weights, head.shaft_start_mm, head.shaft_length_mm, now / 1000 + signed)
        )
    return Correction(
        reading,
        weights_outward_mm=signed * 1000 / total if total else None,
        sigma_mm=sigma * 1000 / total if total else None,
        loadings=ranked,
    )


def _thickness(kit: Kit, mass_kg: float) -> float:
    """Thickness in mm of the owned weight of this mass."""
    for weight in kit.mount.weights:
        if abs(weight.mass_kg - mass_kg) < 0.005:
            return weight.thickness_mm
    owned = ", ".join(f"{w.mass_kg:g}" for w in kit.mount.weights)
    raise AxletreeError(f"no weight of {mass_kg:g} kg in the kit; it has {owned} kg")
