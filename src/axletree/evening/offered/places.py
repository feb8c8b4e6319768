"""Where do the candidates stand in the sky through the evening?"""

from __future__ import annotations

from dataclasses import fields

import numpy as np

from axletree.evening.offered.candidates import Candidates
from axletree.sky.arrays import Indices
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.orbiting import orbit_positions
from axletree.sky.positions.stars import Positions, Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation


def candidate_positions(
    candidates: Candidates, instants: Instants, observer: Observer
) -> Positions:
    """Places (objects, instants) of candidates whose bodies come first."""
    turned = orientation(instants, observer)
    moving = np.flatnonzero(candidates.source == 0)
    fixed = np.flatnonzero(candidates.source != 0)
    table = {f.name: np.empty((len(candidates), len(instants))) for f in fields(Positions)}
    stars = star_positions(
        Stars.of(candidates.ra_deg[fixed], candidates.dec_deg[fixed]), instants, observer, turned
    )
    parts: list[tuple[Indices, Positions]] = [(fixed, stars)]
    if len(moving):
        names = [candidates.ids[i] for i in moving]
        parts.append((moving, body_positions(names, instants, observer, turned=turned)))
    going = candidates.orbiting()
    if going:
        orbits = orbit_positions(list(going.values()), instants, observer, turned)
        parts.append((np.array(list(going)), orbits))
    for which, found in parts:
        for name, rows in table.items():
            rows[which] = getattr(found, name)
    return Positions(**table)
