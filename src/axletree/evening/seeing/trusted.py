"""Which of a catalogue's magnitudes is to be trusted?

Public: ``trusted_magnitude``.
"""

from __future__ import annotations

import numpy as np

from axletree.sky.arrays import Floats, Texts

# Kinds for which B less the usual colour is a fair V: their colours scatter by 0.3 mag.
GUESSED_V_KINDS = ("galaxy", "open cluster")
# These shine in lines that V takes in and B does not: V is no fainter than B, so B stands in. Of
# the other nebulae without V, the B is often that of the star which lights them.
NO_FAINTER_KINDS = ("emission nebula",)
# Pairs and groups of galaxies: one size and one light for several glows say nothing of either.
NO_SURFACE_KINDS = ("galaxy pair", "galaxy triplet", "galaxy group", "dark nebula")
# A galaxy's V that contradicts its catalogued surface brightness and size by more than this is
# a slip of the catalogue.
CONTRADICTION_MAG = 1.5


def trusted_magnitude(
    kinds: Texts,
    magnitude_v: Floats,
    guessed_v: Floats,
    magnitude_b: Floats,
    surface_b: Floats | None = None,
    area_arcmin2: Floats | None = None,
) -> Floats:
    """V as catalogued; from B where that is sound for the kind; nan otherwise.

    Galaxies and open clusters: `guessed_v` (B less the usual colour of the kind). Emission
    nebulae: B itself, for V is no fainter. With the catalogued surface brightness (B, galaxies)
    and area, a galaxy's V that contradicts them gives way to its B, or to nan if that does too.
    """
    v = np.where(np.isfinite(magnitude_v), magnitude_v, np.nan)
    v = np.where(np.isnan(v) & np.isin(kinds, GUESSED_V_KINDS), guessed_v, v)
    v = np.where(np.isnan(v) & np.isin(kinds, NO_FAINTER_KINDS), magnitude_b, v)
    if surface_b is not None and area_arcmin2 is not None:
        whole_b = surface_b - 2.5 * np.log10(area_arcmin2 * 3600.0)
        colour = float(np.nanmedian((magnitude_b - magnitude_v)[kinds == "galaxy"]))
        wrong = (kinds == "galaxy") & (np.abs(v - (whole_b - colour)) > CONTRADICTION_MAG)
        fair = np.abs(magnitude_b - whole_b) <= CONTRADICTION_MAG
        v = np.where(wrong, np.where(fair, magnitude_b - colour, np.nan), v)
    return np.where(np.isin(kinds, NO_SURFACE_KINDS), np.nan, v)
