"""What does a line filter before the eyepiece leave of a nebula's light, and what of the sky's?

Public: ``LinePass``, ``FILTERS``, ``LINES_OF_KIND``, ``line_parts``.

Gas shines in few lines, the sky at every wavelength: a filter that passes the lines takes most of
the sky and little of the nebula. Seen by the dark-adapted eye, whose band is as wide as the
integral of its relative efficiency (CIE 1951, V'(lambda): 97 nm). How much of a nebula's light
stands in the lines follows from how strong they are against H-beta in planetary nebulae (about 12)
and in clouds of hydrogen (about 4): D. E. Osterbrock and G. J. Ferland 2006, Astrophysics of
Gaseous Nebulae and Active Galactic Nuclei, from memory; the share of other lines, gas and stars is
ours, and so are the filters' bands: those of good ones, common practice. Clouds whose gas is little
excited, for which H-beta filters are made, aren't told from the others.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Texts

EYE_BAND_NM = 97.0


@dataclass(frozen=True)
class LinePass:
    """A filter's band, nanometres, what it passes there (0 to 1), and which lines lie in it."""

    band_nm: float
    transmission: float
    oxygen: bool
    hydrogen: bool

    @property
    def sky_passed(self) -> float:
        """The part of an even sky's light that comes through to the eye."""
        return self.transmission * self.band_nm / EYE_BAND_NM

    def passed(self, oxygen: Floats, hydrogen: Floats) -> Floats:
        """The part of a nebula's light that comes through: of its lines, and of all the rest."""
        lines = oxygen * self.oxygen + hydrogen * self.hydrogen
        rest = np.maximum(1.0 - oxygen - hydrogen, 0.0)
        return self.transmission * (lines + rest * self.band_nm / EYE_BAND_NM)


FILTERS: Mapping[str, LinePass] = {
    "narrow band": LinePass(25.0, 0.92, oxygen=True, hydrogen=True),
    "O III": LinePass(12.0, 0.9, oxygen=True, hydrogen=False),
    "H-beta": LinePass(9.0, 0.9, oxygen=False, hydrogen=True),
}

# Parts of the light in O III and in H-beta. Where somebody looked whether a nebula shines in lines
# (`object_light`), that goes before the kind.
LINES_OF_KIND: Mapping[str, tuple[float, float]] = {
    "planetary nebula": (0.8, 0.07),
    "emission nebula": (0.5, 0.15),
    "supernova remnant": (0.55, 0.12),
}
_LINES_OF_OTHERS = LINES_OF_KIND["emission nebula"]


def line_parts(kinds: Texts, in_lines: Floats) -> tuple[Floats, Floats]:
    """The parts of the light of objects (n,) in O III and in H-beta; nan where there is no line.

    `in_lines`: 1 where a nebula shines in lines, 0 where it doesn't, nan where only its kind tells.
    """
    nothing = (np.nan, np.nan)
    found = np.array([LINES_OF_KIND.get(str(kind), nothing) for kind in kinds]).reshape(-1, 2)
    found[(in_lines == 1.0) & np.isnan(found[:, 0])] = _LINES_OF_OTHERS
    found[in_lines == 0.0] = np.nan
    return found[:, 0], found[:, 1]
