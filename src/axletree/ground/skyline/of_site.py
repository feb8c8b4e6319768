"""Which skyline do the kit and its CSV file hold?

A kit may come from a stranger, so a skyline file must lie in the kit's own folder.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from axletree.ground.magnetism import magnetic_field
from axletree.ground.skyline.skyline import Horizon, horizon_from_points, horizon_from_walk
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.site import Site, Skyline
from axletree.kit.reading.beside import beside

LARGEST_FILE_BYTES = 200_000


def horizon_of(
    skyline: Skyline, folder: Path | None, declination_deg: float | None = None
) -> Horizon:
    """The skyline of a kit: its points and the points of its file together.

    `folder` is where the kit file stands (None: there is no folder, and a file is refused).
    `declination_deg` is needed where the bearings are magnetic, positive east.
    """
    azimuths = [a for a, _ in skyline.points]
    altitudes = [h for _, h in skyline.points]
    if skyline.file is not None:
        more_azimuths, more_altitudes = read_points(skyline.file, folder)
        azimuths += more_azimuths
        altitudes += more_altitudes
    if skyline.bearings == "magnetic":
        if declination_deg is None:
            raise AxletreeError("magnetic skyline bearings need the declination of the spot")
        return horizon_from_walk(azimuths, altitudes, declination_deg, skyline.open_altitude_deg)
    return horizon_from_points(azimuths, altitudes, skyline.open_altitude_deg)


def site_horizon(site: Site, folder: Path | None, at: datetime) -> Horizon:
    """The skyline of a site at a date, its magnetic bearings corrected for the local field."""
    if site.skyline.bearings == "true":
        return horizon_of(site.skyline, folder)
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    found = horizon_of(site.skyline, folder, field.declination_deg)
    return replace(found, compass_zone=field.zone)


def pole_horizon(site: Site, folder: Path | None, at: datetime) -> Horizon | None:
    """The skyline of a site, or None where nobody measured it towards the elevated pole."""
    horizon = site_horizon(site, folder, at)
    given = bool(site.skyline.points or site.skyline.file)
    known = given and bool(horizon.known_at(0.0 if site.north else 180.0))
    return horizon if known else None


def inside(name: str, folder: Path | None) -> Path:
    """The path of a skyline file named by a kit, if it lies within the kit's folder."""
    return beside(name, folder, "skyline file")


def read_points(name: str, folder: Path | None) -> tuple[list[float], list[float]]:
    """Azimuths and altitudes of a CSV file beside the kit."""
    path = inside(name, folder)
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise AxletreeError(f"skyline file '{name}': larger than 200 kB, not a skyline")
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise AxletreeError(f"skyline file '{name}': not a text file in UTF-8") from None
    except OSError as error:
        raise AxletreeError(f"skyline file '{name}': cannot be read ({error.strerror})") from None
    return points_of(text, f"skyline file '{name}'")


def points_of(text: str, source: str = "skyline") -> tuple[list[float], list[float]]:
    """Azimuths and altitudes from text: two columns in degrees, one point a line.

    Columns are parted by comma, semicolon, tab or spaces; a decimal comma is understood where
    semicolons, tabs or spaces part the columns. Words in the first line are a heading; '#'
    begins a remark; an altitude left empty (or '?') means that this direction isn't known.
    """
    azimuths: list[float] = []
    altitudes: list[float] = []
    first = True
    for count, row in enumerate(text.splitlines(), start=1):
        line = row.split("#", 1)[0].strip()
        if not line:
            continue
        cells = _cells(line)
        numbers = [_number(cell) for cell in cells]
        if first and numbers[0] is None:
            first = False
            continue
        first = False
        azimuth = numbers[0]
        if azimuth is None or len(cells) != 2:
            raise AxletreeError(
                f"{source}, line {count}: '{line[:40]}' is not an azimuth and an altitude;"
                " write two numbers, such as 135, 12.5"
            )
        altitude = math.nan if cells[1] in ("", "?") else numbers[1]
        if altitude is None or abs(altitude) > 90.0 or abs(azimuth) > 360.0:
            raise AxletreeError(
                f"{source}, line {count}: '{line[:40]}': azimuths lie within 0 to 360,"
                " altitudes within -90 to 90 degrees"
            )
        azimuths.append(azimuth)
        altitudes.append(altitude)
    if not azimuths:
        raise AxletreeError(f"{source}: holds no points; write lines such as 135, 12.5")
    return azimuths, altitudes


def _cells(line: str) -> list[str]:
    for mark in (";", "\t"):
        if mark in line:
            return [cell.strip().replace(",", ".") for cell in line.split(mark)]
    if "," in line and (line.count(",") == 1 or " " not in line):
        parts = [cell.strip() for cell in line.split(",")]
        if len(parts) == 2 and " " not in parts[0] and " " not in parts[1]:
            return parts
        if line.count(",") != 1:
            return parts
    cells = line.split()
    return [cell.rstrip(",").replace(",", ".") for cell in cells]


def _number(cell: str) -> float | None:
    try:
        value = float(cell.replace("−", "-").rstrip("°"))
    except ValueError:
        return None
    return value if math.isfinite(value) else None
