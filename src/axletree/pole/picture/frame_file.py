"""What does one camera frame say: which way did it look, and when?

Source for times: A. H. Rots et al. 2015, A&A 574, A36 (paper IV): DATE-AVG, DATE-OBS, DATE-BEG,
DATE-END, MJD-..., XPOSURE, TIMESYS; and the older habits that files still have (EXPTIME,
TIME-OBS, a zone letter Z).
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from pathlib import Path

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.picture.fits_header import Header, number, read_headers, words
from axletree.pole.picture.wcs import Wcs, directions, read_wcs
from axletree.sky.directions import angle_between_deg
from axletree.sky.time.instants import Instants

_TT_LIKE = ("TT", "TDT", "ET", "TDB", "TCB", "TCG")
_GPS_MINUS_TAI_S = -19.0
_TT_MINUS_TAI_S = 32.184
_MJD = 2400000.5
YEARS = (1800.0, 2200.0)  # longer than there have been photographs, far within the calendar


class FrameNote(StrEnum):
    """What had to be taken for granted of a frame."""

    NO_EXPOSURE_TIME = "no exposure time"  # DATE-OBS was taken as the middle


@dataclass(frozen=True)
class Frame:
    """One frame: its file name, its WCS, and the middle of its exposure (`Instants` of length 1).

    `scale_arcsec` is the pixel scale in the middle. `camera` holds what the header says of the
    camera, '' where it says nothing. `notes`: what had to be taken for granted.
    """

    name: str
    wcs: Wcs
    middle: Instants
    exposure_s: float
    scale_arcsec: float
    camera: str
    notes: tuple[FrameNote, ...] = ()


def read_frame(path: Path | str) -> Frame:
    """One frame from a FITS file; every refusal names the file and what is missing in it."""
    headers = read_headers(path)
    name = Path(path).name
    try:
        return frame_from_headers(headers, name)
    except AxletreeError as error:
        raise AxletreeError(f"{name}: {error}") from None


def frame_from_headers(headers: list[Header], name: str) -> Frame:
    """One frame from the headers of a file: the first that has a celestial WCS."""
    for header in headers:
        wcs = read_wcs(header)
        if wcs is None:
            continue
        # Words that stand in the first header only hold for all parts.
        merged = {**headers[0], **header}
        middle, exposure, notes = exposure_middle(merged)
        return Frame(
            name=name,
            wcs=wcs,
            middle=middle,
            exposure_s=exposure,
            scale_arcsec=pixel_scale_arcsec(wcs),
            camera=words(merged, "INSTRUME"),
            notes=notes,
        )
    raise AxletreeError(
        "no WCS in its header (CTYPE1, CRVAL1, CD1_1 ...): the frame has not been solved yet"
    )


def pixel_scale_arcsec(wcs: Wcs) -> float:
    """Arcseconds a pixel in the middle of a frame, mean of both ways."""
    x, y = wcs.centre_px
    corner = directions(wcs, [x, x + 1.0, x], [y, y, y + 1.0])
    return float(np.mean(angle_between_deg(corner[1:], corner[0])) * 3600.0)


def exposure_middle(header: Header) -> tuple[Instants, float, tuple[FrameNote, ...]]:
    """The middle of the exposure, its length in seconds, and what was taken for granted."""
    notes: list[FrameNote] = []
    exposure = next(
        (v for k in ("XPOSURE", "EXPTIME", "EXPOSURE") if (v := number(header, k)) is not None),
        None,
    )
    scale = words(header, "TIMESYS").upper() or "UTC"
    average = _moment(header, "DATE-AVG", "MJD-AVG", scale)
    if average is not None:
        return average, exposure or 0.0, ()
    begin = _moment(header, "DATE-BEG", "MJD-BEG", scale)
    if begin is None:
        begin = _moment(header, "DATE-OBS", "MJD-OBS", scale)
    end = _moment(header, "DATE-END", "MJD-END", scale)
    if begin is None:
        raise AxletreeError(
            "no time in its header: it needs DATE-OBS (or DATE-AVG), such as 2026-12-05T20:30:00"
        )
    if exposure is None and end is not None:
        exposure = float(end.seconds_since(begin)[0])
    if exposure is None:
        notes.append(FrameNote.NO_EXPOSURE_TIME)
        exposure = 0.0
    if not 0.0 <= exposure < 86400.0:
        raise AxletreeError(f"its exposure time of {exposure:g} s makes no sense")
    return begin.plus(exposure / 2.0), exposure, tuple(notes)


def _moment(header: Header, date_word: str, mjd_word: str, scale: str) -> Instants | None:
    text, mjd = words(header, date_word), number(header, mjd_word)
    if text:
        word, moment = date_word, _from_text(text, header, date_word, scale)
    elif mjd is not None:
        day = float(np.floor(mjd))
        word, moment = mjd_word, _in_scale(_MJD + day, mjd - day, scale)
    else:
        return None
    year = float(moment.julian_year[0])
    if not YEARS[0] <= year < YEARS[1]:
        raise AxletreeError(f"{word} lies in the year {year:.0f}: no frame was taken then")
    return moment


def _from_text(text: str, header: Header, word: str, scale: str) -> Instants:
    cleaned = text.strip().rstrip("Zz")
    old = re.fullmatch(r"(\d{2})/(\d{2})/(\d{2})", cleaned)
    if old:
        # The form of before 2000: day/month/year of the twentieth century.
        cleaned = f"19{old[3]}-{old[2]}-{old[1]}"
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", cleaned):
        clock = next((t for k in ("TIME-OBS", "UT", "UTC") if (t := words(header, k))), "")
        if not clock:
            raise AxletreeError(f"{word} '{text}' has a date but no time of day")
        cleaned = f"{cleaned}T{clock}"
    try:
        parsed = datetime.fromisoformat(_microseconds(cleaned))
    except ValueError:
        raise AxletreeError(
            f"{word} '{text}' is not a date and time like 2026-12-05T20:30:00"
        ) from None
    if parsed.tzinfo is None:
        parsed = parsed.replace(tzinfo=UTC)
    if scale == "UTC":
        return Instants.from_datetime(parsed)
    since = parsed - datetime(2000, 1, 1, 12, tzinfo=UTC)
    days, rest = since // timedelta(days=1), since % timedelta(days=1)
    return _in_scale(2451545.0 + days, rest.total_seconds() / 86400.0, scale)


def _microseconds(text: str) -> str:
    """ISO 8601 with at most six decimals of a second."""
    return re.sub(r"(\.\d{6})\d+", r"\1", text)


def _in_scale(jd1: float, jd2: float, scale: str) -> Instants:
    if scale == "UTC":
        return Instants.from_utc_jd(jd1, jd2)
    if scale in _TT_LIKE:
        # TDB and its kin differ from TT by less than 2 ms (TCB, TCG by seconds: see below).
        if scale in ("TCB", "TCG"):
            raise AxletreeError(f"its TIMESYS {scale} is not read; UTC, TAI, TT, TDB, GPS, UT1 are")
        return Instants.from_tt_jd(jd1, jd2)
    if scale in ("TAI", "IAT"):
        return Instants.from_tt_jd(jd1, jd2 + _TT_MINUS_TAI_S / 86400.0)
    if scale == "GPS":
        return Instants.from_tt_jd(jd1, jd2 + (_TT_MINUS_TAI_S - _GPS_MINUS_TAI_S) / 86400.0)
    if scale in ("UT1", "UT", "GMT"):
        near = Instants.from_utc_jd(jd1, jd2)
        return near if scale != "UT1" else near.plus(-float(near.dut1_s[0]))
    raise AxletreeError(f"its TIMESYS '{scale}' is not one of UTC, TAI, TT, TDB, GPS, UT1")
