"""How is a run sheet of an earlier version read?

Version 1 wrote one `right_ascension_h` (ICRS, J2000.0) beside one `declination_deg` (of date, at
the stop's begin). Version 2 names the equinox and the epoch of each. Version 3 has codes beside its
sentences.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

import numpy as np

from axletree.sky.directions import wrap_24h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation


def from_older(sheet: dict[str, Any]) -> dict[str, Any]:
    """A document of version 1 or 2 as version 3, without codes; raises as `from_version_1`."""
    return {**(from_version_1(sheet) if sheet["version"] == 1 else sheet), "version": 3}


def from_version_1(sheet: dict[str, Any]) -> dict[str, Any]:
    """A version 1 document as version 2; a new dictionary, what the stops lacked worked out.

    Right ascension of date is the sidereal time less the written hour angle. The J2000.0 place is
    None: version 1 held only half of it. Raises KeyError, TypeError or ValueError where the sheet
    is none.
    """
    place = sheet["place"]
    observer = Observer(place["latitude_deg"], place["longitude_deg"], place["elevation_m"])
    stops = [_stop(stop, observer) for stop in sheet["stops"]]
    return {**sheet, "version": 2, "stops": stops}


def _stop(stop: dict[str, Any], observer: Observer) -> dict[str, Any]:
    start = stop["start"]
    instant = Instants.from_datetime(datetime.fromisoformat(start["at"]))
    sidereal_h = float(np.degrees(orientation(instant, observer).sidereal_time_rad[0])) / 15.0
    kept = {k: v for k, v in stop.items() if k not in ("right_ascension_h", "declination_deg")}
    return kept | {
        "right_ascension_of_date_h": float(wrap_24h(sidereal_h - float(start["hour_angle_h"]))),
        "declination_of_date_deg": stop["declination_deg"],
        "right_ascension_j2000_h": None,
        "declination_j2000_deg": None,
    }
