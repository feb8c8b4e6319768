"""Why is an object that people would expect not offered?

Public: ``NotShown``, ``Omission``, ``Best``, ``left_out``, ``beyond_the_list``, ``SHOWN_MARGIN``.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum

import numpy as np

from axletree.evening.objects.requested import Requested
from axletree.evening.objects.twins import one_of_a_sight, without_twins
from axletree.evening.offered.candidates import Candidates
from axletree.evening.offered.catalogues import BODIES
from axletree.evening.offered.well_known import SHOWPIECE
from axletree.evening.seeing.shows_from import OTHERS_SUN_DOWN_DEG
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask

SHOWN_MARGIN = 0.0


class NotShown(Enum):
    """Why an object that people would expect is not offered."""

    EXCLUDED = "excluded"
    TOO_LOW = "too_low"
    TOO_CLOSE = "pair_too_close"
    UNKNOWN_LIGHT = "light_unknown_or_unresolved"
    TOO_FAINT = "too_faint"
    NEVER_DARK = "never_dark"  # too faint for a night in which the Sun stays so near
    MANY_BETTER = "many_better"


@dataclass(frozen=True)
class Omission:
    """An object that is not offered; one that is too faint lacks so many magnitudes.

    `by_moon`: without the Moon it would show. `must`: the kit asks for it by name.
    """

    name: str
    why: NotShown
    lacking_mag: float | None = None
    by_moon: bool = False
    must: bool = False


@dataclass(frozen=True)
class Best:
    """Of the objects (n,) that stand high enough, at best: margins, the same on a night without
    the Moon, and how clearly a pair's two stars stand apart (nan for what is no pair)."""

    margin_mag: Floats
    moonless_mag: Floats
    apart_mag: Floats


def left_out(
    requested: Requested, above: Mask, rows: Indices, best: Best, sky: SkyState
) -> tuple[Omission, ...]:
    """Reasons for the bodies, showpieces and must-see objects that cannot be shown.

    `best` of the `rows` that stand high enough.
    """
    candidates, must_rows = requested.candidates, requested.must_rows
    found = []
    margin_of = dict(zip(rows.tolist(), best.margin_mag.tolist(), strict=True))
    moonless = best.moonless_mag >= SHOWN_MARGIN
    by_moon = dict(zip(rows.tolist(), moonless.tolist(), strict=True))
    too_close = dict(zip(rows.tolist(), (best.apart_mag < SHOWN_MARGIN).tolist(), strict=True))
    famous = np.flatnonzero((candidates.fame >= SHOWPIECE) & above.any(axis=1)).tolist()
    bodies = range(len(BODIES))
    dark = bool((sky.sun_altitude_deg <= -OTHERS_SUN_DOWN_DEG).any())
    for row in sorted({*bodies, *famous, *must_rows}):
        name = candidates.names[row]
        if candidates.ids[row] in requested.excluded and row not in must_rows:
            found.append(Omission(name, NotShown.EXCLUDED))
        elif not above[row].any():
            found.append(Omission(name, NotShown.TOO_LOW))
        elif margin_of.get(row, -9.0) < SHOWN_MARGIN:
            why = _unseen(margin_of[row], dark, too_close[row])
            found.append(
                Omission(name, why, -margin_of[row], by_moon[row])
                if why is NotShown.TOO_FAINT
                else Omission(name, why)
            )
        else:
            continue
        found[-1] = replace(found[-1], must=row in must_rows)
    return tuple(found)


def beyond_the_list(part: Candidates, order: Indices, best: Floats) -> tuple[Omission, ...]:
    """Moon, planets and showpieces that show, yet are not among so many better ones.

    What one stop shows with another (a sight, a twin) is none of them.
    """
    alone = without_twins(part, one_of_a_sight(part, np.arange(len(part)), best < -np.inf))
    known = (part.fame >= SHOWPIECE) | (part.source == 0)
    taken = set(order.tolist())
    return tuple(
        Omission(part.names[row], NotShown.MANY_BETTER)
        for row in alone.tolist()
        if known[row] and best[row] >= SHOWN_MARGIN and row not in taken
    )


def _unseen(margin: float, dark: bool, too_close: bool) -> NotShown:
    if too_close:
        return NotShown.TOO_CLOSE
    if not np.isfinite(margin) or margin <= -9.0:
        return NotShown.UNKNOWN_LIGHT
    return NotShown.TOO_FAINT if dark else NotShown.NEVER_DARK
