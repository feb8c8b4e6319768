"""Two-line elements of made-up satellites, written by the exporter of the package sgp4."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class MadeSatellite:
    """Degrees and turns a day; `epoch_jd` a Julian date of UTC."""

    epoch_jd: float
    inclination: float = 51.6
    node: float = 100.0
    anomaly: float = 0.0
    turns: float = 15.5
    eccentricity: float = 0.0005
    number: int = 99001


def satellite_lines(made: MadeSatellite) -> tuple[str, str]:
    """Both lines of one satellite, checksums and all."""
    from sgp4.api import WGS72, Satrec
    from sgp4.exporter import export_tle

    record = Satrec()
    record.classification = "U"
    record.intldesg = "26001A"
    record.ephtype = 0
    record.elnum = 1
    record.revnum = 1
    record.sgp4init(
        WGS72, "i", made.number, made.epoch_jd - 2433281.5, 1e-5, 0.0, 0.0, made.eccentricity,
        math.radians(40.0), math.radians(made.inclination), math.radians(made.anomaly),
        made.turns * 2.0 * math.pi / 1440.0, math.radians(made.node),
    )  # fmt: skip
    first, second = export_tle(record)
    return first, second
