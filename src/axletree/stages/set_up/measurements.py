"""Which measurement of the axis does somebody bring?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.axis import CLOCK_SIGMA_S
from axletree.pole.photographs.looking import Where
from axletree.pole.photographs.shot import Shot
from axletree.pole.picture.frame_file import Frame
from axletree.pole.readings.observed import CENTRING_ARCMIN
from axletree.pole.rows.drift_file import DriftRows
from axletree.pole.rows.readings_file import CircleRows


@dataclass(frozen=True)
class DriftMeasurement:
    """Stars that were watched for their drift. `source`: what the person calls the list."""

    rows: DriftRows
    source: str


@dataclass(frozen=True)
class ReadingsMeasurement:
    """Stars on which the circles were read, each centred as well as `centring_arcmin`."""

    rows: CircleRows
    source: str
    centring_arcmin: float = CENTRING_ARCMIN


@dataclass(frozen=True)
class FramesMeasurement:
    """Solved frames; `across_sigma_arcsec`: error of one of them, None for the usual one."""

    frames: tuple[Frame, ...]
    across_sigma_arcsec: float | None = None


@dataclass(frozen=True)
class PicturesMeasurement:
    """Plain pictures, to be recognised; `towards`: where to look first, None: about the pole.

    `one_turned`: it is one exposure, in which the hour axis was turned after a while at rest.
    `clock_sigma_s`: how far the camera's clock may be off, one standard deviation.
    """

    shots: tuple[Shot, ...]
    towards: Where | None = None
    one_turned: bool = False
    clock_sigma_s: float = CLOCK_SIGMA_S


Measurement = DriftMeasurement | ReadingsMeasurement | FramesMeasurement | PicturesMeasurement
