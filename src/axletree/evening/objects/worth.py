"""How much is a stop worth to this audience?

Public: ``Worth``, ``ObjectWorth``, ``worth_of``, ``weighed``, ``body_share``,
``fame_share``, ``light_share``, ``any_theme``, ``differs_loss``, ``varied``.

Five parts, each 0 to 100, weighed by the kit: how well it shows in this tube under this sky, how
rewarding it is to these people, what happens on it tonight, how it differs from its better
neighbours on the list, and how comfortably it stands. The parts are ours; they only rank. The
evening and the calendar count with the same ones.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from axletree.evening.offered.candidates import Candidates
from axletree.evening.offered.well_known import FIRST_LOOKS
from axletree.evening.seeing.visibility import BODY, PAIR, POINT
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Audience, audience_of
from axletree.sky.arrays import Floats, Reals, Texts
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import BodyPositions, body_positions
from axletree.sky.time.instants import Instants

SEEN_LATELY = 0.7
LEAST_POINTS = 0.5
# A margin from which more does not please more, in magnitudes.
ENOUGH_MAG = 2.0
# What an object loses of "differs" as the second, third ... of its theme; ours.
DIFFERS_LOSS = (0.0, 25.0, 45.0, 62.0, 76.0, 88.0, 100.0)
# Of two red stars the second is one too many.
DIFFERS_LOSS_OF_COLOURS = (0.0, 80.0, 100.0)
# Moon and planets differ among themselves.
UNGROUPED_THEME = "moon and planets"
# Height from which an object stands in good air, and from which a neck begins to ache.
GOOD_AIR_DEG, STEEP_DEG, STEEP_PART = 45.0, 78.0, 0.85
# What of its fame the Moon keeps, full or thin, beside its quarters, where nights are compared; and
# in a night that is given, before each audience: common practice, no source. Whoever comes once has
# come for the Moon, flat and dazzling as it may be; a class has its shadows in mind; whoever is out
# alone gets along without.
FLAT_MOON_KEPT = 0.3
FULL_MOON_KEPT: dict[Audience, float] = {
    "alone": FLAT_MOON_KEPT, "family": 0.8, "class": 0.6, "public": 0.8,
}  # fmt: skip
# Sizes at which these planets please a newcomer, arcseconds: common practice, no source.
MARS_ARCSEC, VENUS_ARCSEC, RINGS_DEG = 14.0, 25.0, 15.0
# What an object loses of its reward with each magnitude of margin that Moon and twilight take, a
# glow or a cluster and a star, and what it keeps at least (ours).
GLOW_LOSS_PER_MAG, STAR_LOSS_PER_MAG, LEAST_SHARE = 0.25, 0.08, 0.25
# What of its reward an object keeps at the very edge of sight before people who come once: they see
# nothing and say so. From one magnitude of margin on it keeps all (ours).
EDGE_KEPT, SEEN_BY_ALL_MAG = 0.5, 1.0
# What of its reward a theme keeps before each audience: common practice, no source. People who
# come once want what is bright; whoever is out alone wants what is far; a class wants the Moon's
# shadows and the rings, and a smudge teaches it little.
KEPT: dict[Audience, dict[str, float]] = {
    "alone": {"moon and planets": 0.9, "colours": 0.9},
    "family": {"galaxies": 0.75, "colours": 0.85, "nebulae": 0.95},
    "class": {
        "galaxies": 0.35,
        "nebulae": 0.55,
        "clusters": 0.65,
        "doubles": 0.65,
        "colours": 0.5,
    },
    "public": {"galaxies": 0.7, "colours": 0.8, "nebulae": 0.95},
}


@dataclass(frozen=True)
class Worth:
    """The five parts, 0 to 100: arrays (..., objects)."""

    shows: Floats
    rewards: Floats
    tonight: Floats
    differs: Floats
    comfort: Floats


@dataclass(frozen=True)
class ObjectWorth:
    """The same five parts of one object."""

    shows: float
    rewards: float
    tonight: float
    differs: float
    comfort: float


def worth_of(
    kit: Kit,
    candidates: Candidates,
    margin_mag: Reals,
    height_deg: Reals,
    seen_ids: frozenset[str] = frozenset(),
    share: Reals | float = 1.0,
    tonight: Floats | float = 0.0,
) -> Worth:
    """The parts of the candidates' objects; margins, heights and shares are (..., objects).

    `share` is what of its fame an object keeps then (`body_share`, `light_share`), `tonight` what
    happens on it (0 to 100), and no object rewards less than that. `seen_ids` were shown to these
    people on earlier evenings: they lose of their reward, they are not forbidden. All differ as
    yet: `varied` takes that.
    """
    shape = np.broadcast_shapes(np.shape(margin_mag), np.shape(height_deg))
    shows = 100.0 * np.clip(margin_mag, 0.0, ENOUGH_MAG) / ENOUGH_MAG
    if kit.habits.observer == "newcomer":
        # Newcomers see what is bright; faint smudges disappoint.
        shows = np.maximum(shows - 50.0 * np.clip(1.0 - margin_mag, 0.0, 1.0), 0.0)
    kept = KEPT[audience_of(kit.habits)]
    rewards = candidates.fame * share * np.array([kept.get(t, 1.0) for t in candidates.themes])
    if audience_of(kit.habits) != "alone":
        surely = np.clip(np.asarray(margin_mag) / SEEN_BY_ALL_MAG, 0.0, 1.0)
        rewards = rewards * (EDGE_KEPT + (1.0 - EDGE_KEPT) * np.nan_to_num(surely))
    themes = set(kit.habits.themes)
    if "anything" not in themes:
        fits = np.isin(candidates.themes, list(themes))
        if "first looks" in themes:
            fits |= np.array(
                [
                    name in FIRST_LOOKS or key in FIRST_LOOKS
                    for name, key in zip(candidates.names, candidates.ids, strict=True)
                ]
            )
        rewards = np.where(fits, rewards * 1.3, rewards * 0.3)
    if seen_ids:
        seen = np.isin(np.array(candidates.ids, dtype=object), list(seen_ids))
        rewards = np.where(seen, rewards * SEEN_LATELY, rewards)
    # Whatever it is on other nights: an eclipse rewards as an eclipse does.
    rewards = np.maximum(rewards, tonight)
    good_air = np.minimum(
        np.sin(np.radians(np.maximum(height_deg, 0.0))) / np.sin(np.radians(GOOD_AIR_DEG)), 1.0
    )
    comfort = 100.0 * good_air * np.where(np.asarray(height_deg) > STEEP_DEG, STEEP_PART, 1.0)
    return Worth(
        shows=np.broadcast_to(shows, shape),
        rewards=np.broadcast_to(np.clip(rewards, 0.0, 100.0), shape),
        tonight=np.broadcast_to(np.asarray(tonight, dtype=np.float64), shape),
        differs=np.full(shape, 100.0),
        comfort=np.broadcast_to(comfort, shape),
    )


def weighed(kit: Kit, worth: Worth) -> Floats:
    """Points, 0 to 100: the parts by the kit's weights, never below `LEAST_POINTS`."""
    by = kit.habits.weights
    points = (
        by.shows * worth.shows
        + by.rewards * worth.rewards
        + by.tonight * worth.tonight
        + by.differs * worth.differs
        + by.comfort * worth.comfort
    ) / by.total
    return np.asarray(np.maximum(points, LEAST_POINTS))


def body_share(bodies: BodyPositions, full_moon: float = FLAT_MOON_KEPT) -> Floats:
    """What of their fame Moon and planets keep as they look now, (bodies, instants), 0 to 1.

    The Moon is best with long shadows, near the quarters; full it is flat and dazzles and keeps
    `full_moon`. Mars and Venus need size, Saturn open rings (common practice, no source; the
    figures are ours).
    """
    out = np.ones(bodies.diameter_arcsec.shape)
    for k, name in enumerate(bodies.names):
        size = bodies.diameter_arcsec[k]
        if name == "moon":
            phase = bodies.phase_angle_deg[k]
            least = np.where(phase > 90.0, FLAT_MOON_KEPT, full_moon)
            out[k] = least + (1.0 - least) * np.sin(np.radians(phase))
        elif name == "mars":
            out[k] = np.clip(size / MARS_ARCSEC, 0.35, 1.0)
        elif name == "venus":
            out[k] = np.clip(size / VENUS_ARCSEC, 0.5, 1.0)
        elif name == "saturn":
            open_rings = np.clip(np.abs(bodies.ring_tilt_deg[k]) / RINGS_DEG, 0.0, 1.0)
            out[k] = 0.8 + 0.2 * open_rings
    return out


def fame_share(
    candidates: Candidates, instants: Instants, observer: Observer, audience: Audience
) -> Floats:
    """What of their fame the objects (n,) keep before these people: all of it, but for Moon and
    planets.

    Those as they look in the middle of the instants.
    """
    share = np.ones(len(candidates))
    moving = np.flatnonzero(candidates.source == 0)
    if len(moving):
        names = [candidates.ids[i] for i in moving]
        middle = instants[len(instants) // 2]
        share[moving] = body_share(
            body_positions(names, middle, observer), FULL_MOON_KEPT[audience]
        )[:, 0]
    return share


def light_share(sorts: NDArray[np.int8], lost_mag: Reals) -> Reals:
    """What of their fame objects (..., n) keep when light in the sky takes so many magnitudes of
    margin: under a Moon a nebula keeps its name, not its wings; a double star hardly suffers."""
    stars = np.isin(sorts, (POINT, PAIR, BODY))
    per_mag = np.where(stars, STAR_LOSS_PER_MAG, GLOW_LOSS_PER_MAG).astype(np.float32)
    return np.asarray(np.clip(1.0 - per_mag * lost_mag, LEAST_SHARE, 1.0))


def any_theme(kit: Kit) -> bool:
    """True where the person wants a bit of everything."""
    return bool({"anything", "first looks"} & set(kit.habits.themes))


def differs_loss(values: Floats, themes: Texts) -> Floats:
    """What each object (..., objects) loses of "differs" for better ones of its theme, 0 to 100.

    `values` are points; of what doesn't count (minus infinity) nothing is taken, and it takes
    nothing; nor do Moon and planets.
    """
    lost = np.zeros(values.shape)
    for theme in set(themes.tolist()) - {UNGROUPED_THEME}:
        columns = np.flatnonzero(themes == theme)
        part = values[..., columns]
        order = np.argsort(-part, axis=-1, kind="stable")
        steps = DIFFERS_LOSS_OF_COLOURS if theme == "colours" else DIFFERS_LOSS
        taken = np.full(len(columns), steps[-1])
        taken[: len(steps)] = steps[: len(columns)]
        loss = np.empty(part.shape)
        np.put_along_axis(loss, order, np.broadcast_to(taken, part.shape), axis=-1)
        lost[..., columns] = loss
    return np.where(np.isfinite(values), lost, 0.0)


def varied(kit: Kit, values: Floats, themes: Texts) -> Floats:
    """Points (..., objects) less what `differs_loss` takes by the kit's weight; variety pleases."""
    by = kit.habits.weights
    less = values - differs_loss(values, themes) * by.differs / by.total
    return np.where(np.isfinite(values), np.maximum(less, LEAST_POINTS), -np.inf)
