"""Which meteor showers come every year?

The established showers of the International Astronomical Union's list that come every year with a
zenith rate of 5 or more and show at night. All from memory, after the working list of the
International Meteor Organization (its calendars of the 2020s) and, for the steepness, P. Jenniskens
1994, A&A 287, 990. A shower may do less or more.
"""

from __future__ import annotations

from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class Shower:
    """One row of the list, by the name that the list has.

    The Sun's longitude at the peak and the radiant then (degrees, J2000.0); the rate of a perfect
    sky with the radiant overhead (ZHR); the population index r; the steepness B, by which the rate
    falls as 10^(-B degrees of longitude) on both sides of the peak.
    """

    code: str
    name: str
    peak_longitude_deg: float
    ra_deg: float
    dec_deg: float
    zenith_rate: float
    population: float
    steepness: float


SHOWERS = (
    Shower("QUA", "Quadrantids", 283.15, 230.0, 49.0, 80.0, 2.1, 1.80),
    Shower("LYR", "Lyrids", 32.32, 272.0, 34.0, 18.0, 2.1, 0.22),
    Shower("ETA", "eta Aquariids", 45.5, 338.0, -1.0, 50.0, 2.4, 0.08),
    Shower("SDA", "Southern delta Aquariids", 127.0, 340.0, -16.0, 25.0, 2.5, 0.09),
    Shower("CAP", "alpha Capricornids", 127.0, 307.0, -10.0, 5.0, 2.5, 0.04),
    Shower("PER", "Perseids", 140.0, 48.0, 58.0, 100.0, 2.2, 0.20),
    Shower("AUR", "Aurigids", 158.6, 91.0, 39.0, 6.0, 2.5, 0.19),
    Shower("SPE", "September epsilon Perseids", 166.7, 48.0, 40.0, 5.0, 3.0, 0.19),
    Shower("DRA", "October Draconids", 195.4, 263.0, 56.0, 5.0, 2.6, 1.00),
    Shower("ORI", "Orionids", 208.0, 95.0, 16.0, 20.0, 2.5, 0.12),
    Shower("STA", "Southern Taurids", 223.0, 54.0, 14.0, 5.0, 2.3, 0.03),
    Shower("NTA", "Northern Taurids", 230.0, 58.0, 22.0, 5.0, 2.3, 0.03),
    Shower("LEO", "Leonids", 235.27, 152.0, 22.0, 10.0, 2.5, 0.39),
    Shower("GEM", "Geminids", 262.2, 112.0, 33.0, 150.0, 2.6, 0.39),
    Shower("URS", "Ursids", 270.7, 217.0, 76.0, 10.0, 2.8, 0.61),
)
