"""How well does each object show through the one eyepiece that is meant for it?"""

from __future__ import annotations

import numpy as np

from axletree.evening.seeing.eyepiece import Views
from axletree.evening.seeing.visibility import Looks, margins
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices


def own_margins(
    kit: Kit, looks: Looks, views: Views, eyepiece: Indices, sky_mag: Floats, airmass: Floats
) -> Floats:
    """`margins` (n, m) of objects (n,) each in its own eyepiece (n,), as numbers of `views`.

    `sky_mag` and `airmass` are (n, m).
    """
    found = np.empty(sky_mag.shape)
    for number in range(len(views.labels)):
        rows = np.flatnonzero(eyepiece == number)
        part = looks.take(rows)
        found[rows] = margins(kit, part, views.one(number), sky_mag[rows], airmass[rows])[0]
    return found
