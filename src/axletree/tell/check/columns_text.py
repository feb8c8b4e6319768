"""In which words are the columns of a file of measurements explained?"""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

from axletree.pole.rows.columns import DEFAULT_SIGMA_ARCSEC

DRIFT_WORDS = {
    "star": "name, such as Vega or HIP 11767 (or give the next two)",
    "hour_angle_h": "hours at the start, west positive",
    "declination_deg": "degrees of date",
    "started": "when the watch began: 21:05, 21:05:30 or ISO 8601",
    "watched_s": "seconds it was watched",
    "drift_arcsec": "drift, north positive (or a plain size with 'towards')",
    "divisions": "drift in divisions of a reticle, with division_arcsec",
    "division_arcsec": "what one division is worth",
    "field_arcmin": "field that the star went through in watched_s, with field_part",
    "field_part": "part of it: 0.5 from the middle to the edge (taken if left out)",
    "towards": "north or south; or up, down, left, right in the eyepiece",
    "north_is": "up, down, left or right: where north is in the eyepiece",
    "west_is": "the same for west: the way a star leaves the field by itself",
    "view": "straight (also upside down) or mirrored (a star diagonal)",
    "tube_side": "east or west",
    "sigma_arcsec": f"standard deviation of the drift ({DEFAULT_SIGMA_ARCSEC:g})",
    "read_at": "instead of a watch: one reading of a series, its time",
    "offset_arcsec": "and where the star stood, north positive",
}

READING_WORDS = {
    "star": "name, such as Vega or HIP 11767 (or give the next two)",
    "hour_angle_h": "hours at the reading, west positive",
    "declination_deg": "degrees of date",
    "read_at": "when: 21:05, 21:05:30 or ISO 8601",
    "tube_side": "east or west: the side the tube hangs on",
    "hour_circle_h": "hour circle, growing to the west; 5.25 or 5:15 (or give the next)",
    "ra_circle_h": "right ascension circle, growing to the east; needs read_at",
    "declination_circle_deg": "declination circle, north positive",
    "hour_circle_setting": "a word or number, another one once the circle was set anew",
    "declination_circle_setting": "the same for the declination circle; an empty cell is as above",
}


def columns_text() -> str:
    """All columns of both kinds of file, in at most 80 columns of text."""
    return "\n\n".join(
        [
            _listed("Columns of a drift file (its first line names them):", DRIFT_WORDS),
            _listed("Columns of a readings file:", READING_WORDS),
        ]
    )


def _listed(title: str, words: Mapping[str, str]) -> str:
    rows = [
        textwrap.fill(said, 80, initial_indent=f"  {name:<24}", subsequent_indent=" " * 26)
        for name, said in words.items()
    ]
    return "\n".join([title, *rows])
