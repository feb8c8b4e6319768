"""Where is a measurement of the axis noted down?

Always as a line in a file beside the kit; and in the logbook too, if the person began one for
this evening, since the logbook learns from it what the bolts' turns are worth.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from axletree.kit.parts.site import Site
from axletree.logbook.lines import append_line
from axletree.logbook.store import Logbook, default_logbook
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import evening_of


def note_measurement(
    file: Path, record: Mapping[str, Any], estimate: AxisEstimate, site: Site
) -> str:
    """Note a `pole.measured.measure_record`; words that say where."""
    append_line(file, record)
    covariance = estimate.covariance
    at = datetime.fromisoformat(str(record["at"])).astimezone(site.zone)
    opened = _begun_logbook(at, site) if covariance is not None else None
    if opened is None or covariance is None:
        return str(file)
    book, evening = opened
    with book:
        rows = covariance.tolist()
        book.add_axis_measure(
            evening,
            at,
            str(record["method"]),
            estimate.high_arcmin,
            estimate.east_arcmin,
            ((rows[0][0], rows[0][1]), (rows[1][0], rows[1][1])),
            json.dumps({"source": record["source"], "key": record["key"]}, ensure_ascii=False),
        )
    return f"{file} and the logbook"


def note_turn(file: Path, record: Mapping[str, Any], site: Site) -> str:
    """Note a `pole.measured.turn_record`; words that say where."""
    append_line(file, record)
    at = datetime.fromisoformat(str(record["at"])).astimezone(site.zone)
    turns = float(record["altitude_turns"]), float(record["azimuth_turns"])
    opened = _begun_logbook(at, site) if any(turns) else None
    if opened is None:
        return str(file)
    book, evening = opened
    with book:
        book.add_bolt_turn(evening, at, *turns)
    return f"{file} and the logbook"


def _begun_logbook(at: datetime, site: Site) -> tuple[Logbook, int] | None:
    """The logbook and the number of this moment's evening at this site, if there are such."""
    from axletree.logbook.read import evening_of_date

    path = default_logbook()
    if not path.is_file():
        return None
    book = Logbook(path)
    evening = evening_of_date(book, evening_of(at, site.zone), site)
    if evening is None:
        book.close()
        return None
    return book, evening
