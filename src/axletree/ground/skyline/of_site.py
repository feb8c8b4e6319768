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
from axletree.kit.reading.files import text_of_file
from axletree.kit.reading.table import read_table

LARGEST_FILE_BYTES = 200_000
# What a heading may call the columns.
AZIMUTHS = ("azimuth", "azimuth_deg", "bearing", "bearing_deg")
ALTITUDES = ("altitude", "altitude_deg", "incline", "incline_deg")
COLUMNS = (*AZIMUTHS, *ALTITUDES)
BY_PLACE = ("azimuth", "altitude")


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


def with_file_beside(site: Site, folder: Path, kit_folder: Path | None) -> Site:
    """The site with the points of its skyline file, sought in `folder`; so it names no file.

    Where that is the kit's own folder, the site as it is: there the file is sought anyway.
    """
    skyline = site.skyline
    beside_kit = kit_folder is not None and kit_folder.resolve() == folder.resolve()
    if skyline.file is None or beside_kit:
        return site
    points = (*skyline.points, *zip(*read_points(skyline.file, folder), strict=True))
    kept = skyline.model_copy(update={"points": points, "file": None})
    return site.model_copy(update={"skyline": kept})


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
    source = f"skyline file '{name}'"
    text = text_of_file(inside(name, folder), LARGEST_FILE_BYTES, "a skyline", source)
    return points_of(text, source)


def points_of(text: str, source: str = "skyline") -> tuple[list[float], list[float]]:
    """Azimuths and altitudes from text: two columns in degrees, one point a line.

    See `read_table`: a heading may name the columns, else azimuth comes before altitude. An
    altitude left empty (or '?') means that this direction isn't known. Refuses what is no
    number, azimuths beyond a turn and altitudes beyond 90.
    """
    azimuths: list[float] = []
    altitudes: list[float] = []
    table = read_table(text, source, COLUMNS, ",".join(BY_PLACE), BY_PLACE)
    azimuth, altitude = (
        next((name for name in table.names if name in known), known[0])
        for known in (AZIMUTHS, ALTITUDES)
    )
    for row in table.rows():
        azimuths.append(row.needed(azimuth, -360.0, 360.0))
        unknown = row.text(altitude) in ("", "?")
        altitudes.append(math.nan if unknown else row.needed(altitude, -90.0, 90.0))
    return azimuths, altitudes
