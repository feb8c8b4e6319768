"""What is known of an imperfect mount, how well, since when?

Six figures and one covariance, so that what was measured together stays together: an axis that is
known badly to the east and an index error that makes up for it still point well.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime
from enum import StrEnum

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.axis.unknowns import (
    EAST,
    INDEX_HOUR,
    UNKNOWNS,
    USUAL_CONE_ARCMIN,
    USUAL_INDEX_ARCMIN,
    USUAL_LEAN_ARCMIN,
    ModelPart,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer

Matrix = tuple[tuple[float, ...], ...]
# The steepest pole over which a head that turns about the vertical still carries its axis along.
_STEEPEST_DEG = 89.0


class KnownBy(StrEnum):
    """How a part of the model came to be known."""

    MEASURED = "measured"  # solved from circle readings, drift or frames
    SET = "set"  # as well as it was set: the axis by some method, a circle on a star
    USUAL = "usual"  # nobody looked: what such mounts have
    VOIDED = "voided"  # something moved it since


@dataclass(frozen=True)
class Known:
    """How one part is known, and from when that is; None where it was never looked at."""

    part: ModelPart
    by: KnownBy
    at: datetime | None


@dataclass(frozen=True)
class PointingModel:
    """An imperfect mount: six figures in arcminutes, their covariance, whence each comes.

    `high_arcmin`, `east_arcmin`: great-circle angles of the axis from `pole`. The index errors
    are shown minus right, angles of the circle; the hour circle's counts in hour angle (15 to a
    minute of time) and is the same on both tube sides, the declination circle's is as it shows on
    side east, and as much to the other side on side west. `cone_arcmin`: the tube leans out from
    the square to the declination axis, towards its own end of it; `lean_arcmin`: that end leans
    to the elevated pole. `covariance_arcmin2` (6, 6) in the order of `UNKNOWNS`. `hour_set_on`:
    the tube side, +1 east or -1 west, on which the hour circle was set: on the other it reads 12 h
    off; 0 where it is read for the side that it stands under. `known`: one of each part.
    """

    high_arcmin: float
    east_arcmin: float
    index_hour_arcmin: float
    index_declination_arcmin: float
    cone_arcmin: float
    lean_arcmin: float
    covariance_arcmin2: Matrix
    known: tuple[Known, ...]
    pole: Pole = "refracted"
    hour_set_on: int = 0

    def __post_init__(self) -> None:
        size = len(UNKNOWNS)
        covariance = np.asarray(self.covariance_arcmin2, dtype=np.float64)
        if covariance.shape != (size, size) or not np.isfinite(covariance).all():
            raise AxletreeError(f"a pointing model needs {size} by {size} finite covariances")
        if not np.isfinite(self.values).all():
            raise AxletreeError("a pointing model's six figures must be numbers")
        if not np.allclose(covariance, covariance.T, rtol=1e-9, atol=1e-12):
            raise AxletreeError("a pointing model's covariances must be the same both ways round")
        if float(np.linalg.eigvalsh(covariance)[0]) < -1e-6 * float(np.max(np.abs(covariance))):
            raise AxletreeError("a pointing model's covariances belong to no errors")
        if tuple(one.part for one in self.known) != tuple(ModelPart):
            raise AxletreeError("a pointing model must say of each part how it is known")
        if self.hour_set_on not in (-1, 0, 1):
            raise AxletreeError(f"tube side {self.hour_set_on}: write 1 for east, -1 for west, 0")

    @property
    def values(self) -> Floats:
        """The six figures (6,) in the order of `UNKNOWNS`, arcminutes."""
        return np.array([getattr(self, f"{name}_arcmin") for name in UNKNOWNS], dtype=np.float64)

    @property
    def covariance(self) -> Floats:
        """(6, 6) in square arcminutes."""
        return np.array(self.covariance_arcmin2, dtype=np.float64)

    @property
    def sigmas_arcmin(self) -> Floats:
        """One standard deviation of each of the six."""
        return np.asarray(np.sqrt(np.maximum(np.diag(self.covariance), 0.0)))

    def known_of(self, part: ModelPart) -> Known:
        """How one part is known."""
        return next(one for one in self.known if one.part is part)

    @property
    def looked_at(self) -> bool:
        """Whether anything of it was measured, set or moved; else it is as good as it was set."""
        return any(one.at is not None for one in self.known)

    def with_values(self, values: Floats, covariance: Floats, *known: Known) -> PointingModel:
        """The same mount with other figures; `known` takes the place of what was said of those."""
        fresh = {one.part: one for one in known}
        both = 0.5 * (covariance + covariance.T)
        high, east, hour, declination, cone, lean = (float(v) for v in values)
        return replace(
            self, high_arcmin=high, east_arcmin=east, index_hour_arcmin=hour,
            index_declination_arcmin=declination, cone_arcmin=cone, lean_arcmin=lean,
            covariance_arcmin2=_as_matrix(both),
            known=tuple(fresh.get(one.part, one) for one in self.known),
        )  # fmt: skip

    def set_on(self, side: int) -> PointingModel:
        """The same, its hour circle set on a tube side: +1 east, -1 west, 0 read for each."""
        return replace(self, hour_set_on=side)


def _as_matrix(covariance: Floats) -> Matrix:
    """A covariance as the frozen rows that a model holds."""
    return tuple(tuple(float(x) for x in row) for row in covariance)


def unmeasured(
    high_sigma_arcmin: float,
    east_sigma_arcmin: float,
    set_at: datetime | None = None,
    *,
    pole_altitude_deg: float | None = None,
    pole: Pole = "refracted",
) -> PointingModel:
    """A mount that nobody measured: no errors, as uncertain as the way its axis was set.

    `high_sigma_arcmin`, `east_sigma_arcmin`: of the method by which the axis was set. With
    `pole_altitude_deg` the hour circle is right for a level head: an axis that is off to the east
    since the head is turned about the vertical has turned the circle too (`roll_of_east`).
    """
    if not (0.0 <= high_sigma_arcmin < math.inf and 0.0 <= east_sigma_arcmin < math.inf):
        raise AxletreeError("the errors of a set axis must be numbers of arcminutes, 0 or more")
    spreads = (
        high_sigma_arcmin, east_sigma_arcmin, USUAL_INDEX_ARCMIN, USUAL_INDEX_ARCMIN,
        USUAL_CONE_ARCMIN, USUAL_LEAN_ARCMIN,
    )  # fmt: skip
    turn = np.eye(len(UNKNOWNS))
    turn[INDEX_HOUR, EAST] = 0.0 if pole_altitude_deg is None else roll_of_east(pole_altitude_deg)
    usual = [Known(part, KnownBy.USUAL, None) for part in ModelPart if part is not ModelPart.AXIS]
    return PointingModel(
        high_arcmin=0.0, east_arcmin=0.0, index_hour_arcmin=0.0, index_declination_arcmin=0.0,
        cone_arcmin=0.0, lean_arcmin=0.0,
        covariance_arcmin2=_as_matrix(turn @ np.diag(np.square(spreads)) @ turn.T),
        known=(Known(ModelPart.AXIS, KnownBy.SET, set_at), *usual),
        pole=pole,
    )  # fmt: skip


def roll_of_east(pole_altitude_deg: float) -> float:
    """How much the hour circle's index error changes for each arcminute that the axis goes east.

    A head turned by b about the vertical carries its axis b cos(altitude) to the east, and rolls
    about the axis by b sin(altitude): minus the tangent, in both hemispheres. Refuses the zenith.
    """
    if not 0.0 <= pole_altitude_deg < _STEEPEST_DEG:
        raise AxletreeError(
            f"pole at altitude {pole_altitude_deg:g}°: turned about the vertical, such an axis "
            "goes nowhere; write 0 to 89"
        )
    return -math.tan(math.radians(pole_altitude_deg))


def carried_pole_deg(observer: Observer, pole: Pole = "refracted") -> float | None:
    """The pole's altitude where a head that turns about the vertical carries its axis along; None
    where it doesn't (see `roll_of_east`)."""
    altitude = pole_altitude_deg(observer, pole)
    return altitude if altitude < _STEEPEST_DEG else None


def learned(
    model: PointingModel,
    values: Floats,
    information: Floats,
    parts: tuple[ModelPart, ...],
    at: datetime,
) -> PointingModel:
    """The model with an independent measurement added; everything told by it moves along.

    `values` (6,) and `information` (6, 6), inverse covariance per square arcminute, in the order
    of `UNKNOWNS`; a direction that the measurement leaves open has no information. `parts` are
    those that count as measured from `at` on. The law of adding informations: C. F. Gauss 1823,
    Theoria combinationis; here by the gain, which takes a part known for certain too (R. E. Kalman
    1960, J. Basic Engineering 82, 35).
    """
    sizes, directions = np.linalg.eigh(0.5 * (information + information.T))
    told = sizes > 1e-9 * max(float(sizes[-1]), 0.0)
    rows = directions[:, told].T
    before = model.covariance
    innovation = rows @ before @ rows.T + np.diag(1.0 / sizes[told])
    gain = np.linalg.solve(innovation, rows @ before).T
    keep = np.eye(len(UNKNOWNS)) - gain @ rows
    after = keep @ before @ keep.T + gain @ np.diag(1.0 / sizes[told]) @ gain.T
    moved = model.values + gain @ (rows @ (values - model.values))
    return model.with_values(moved, after, *(Known(p, KnownBy.MEASURED, at) for p in parts))
