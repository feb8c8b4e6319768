"""Which columns may a file of measurements have?"""

from __future__ import annotations

DEFAULT_SIGMA_ARCSEC = 2.0  # of a drift (common practice, no source)

DRIFT_COLUMNS = (
    "star",
    "hour_angle_h",
    "declination_deg",
    "started",
    "watched_s",
    "drift_arcsec",
    "divisions",
    "division_arcsec",
    "field_arcmin",
    "field_part",
    "towards",
    "north_is",
    "west_is",
    "view",
    "tube_side",
    "sigma_arcsec",
    "read_at",
    "offset_arcsec",
)

READING_COLUMNS = (
    "star",
    "hour_angle_h",
    "declination_deg",
    "read_at",
    "tube_side",
    "hour_circle_h",
    "ra_circle_h",
    "declination_circle_deg",
    "hour_circle_setting",
    "declination_circle_setting",
)
