"""Where do catalogue objects of any kind stand: stars, nebulae, planets, Sun and Moon together?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

import numpy as np

from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.orbiting import orbit_positions
from axletree.sky.positions.stars import Positions, Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

MOVING = ("sun", "moon", "planet")


def moves(thing: SkyObject) -> bool:
    """Whether it moves among the stars: Sun, Moon, planets, comets and minor planets."""
    return thing.kind in MOVING or thing.orbit is not None


def stars_of(objects: Sequence[SkyObject]) -> Stars:
    """The fixed objects' catalogue places as arrays; those without coordinates are refused."""

    def column(name: str) -> list[float]:
        return [float(getattr(o, name)) for o in objects]

    return Stars.of(
        ra_deg=column("ra_deg"),
        dec_deg=column("dec_deg"),
        pm_ra_cosdec_mas_yr=column("pm_ra_cosdec_mas_yr"),
        pm_dec_mas_yr=column("pm_dec_mas_yr"),
        parallax_mas=column("parallax_mas"),
        radial_velocity_km_s=column("radial_velocity_km_s"),
        epoch_year=column("epoch_year"),
    )


def object_positions(
    objects: Sequence[SkyObject], instants: Instants, observer: Observer
) -> Positions:
    """Apparent topocentric places, arrays (objects, instants), rows in the order of `objects`."""
    turned = orientation(instants, observer)
    fixed = [i for i, o in enumerate(objects) if not moves(o)]
    orbits = {i: o.orbit for i, o in enumerate(objects) if o.orbit is not None}
    moving = [i for i, o in enumerate(objects) if o.kind in MOVING]
    shape = (len(objects), len(instants))
    table = {f.name: np.empty(shape) for f in fields(Positions)}
    if fixed:
        places = star_positions(stars_of([objects[i] for i in fixed]), instants, observer, turned)
        for name, rows in table.items():
            rows[fixed] = getattr(places, name)
    if moving:
        names = [objects[i].catalogue_id for i in moving]
        bodies = body_positions(names, instants, observer, turned=turned)
        for name, rows in table.items():
            rows[moving] = getattr(bodies, name)
    if orbits:
        going = orbit_positions(list(orbits.values()), instants, observer, turned)
        for name, rows in table.items():
            rows[list(orbits)] = getattr(going, name)
    return Positions(**table)
