"""One answer for any object that shows more than a spot: Moon, planets, double stars."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.time.nights import later

if TYPE_CHECKING:
    from axletree.find.at_eyepiece.answer import AtEyepiece
    from axletree.sky.happenings.kinds import Happening

# Who asks for one moment hears what begins within an hour of it (ours).
AHEAD = timedelta(hours=1)


def at_eyepiece(
    thing: SkyObject,
    at: datetime,
    observer: Observer,
    until: datetime | None = None,
    told: tuple[Happening, ...] | None = None,
) -> AtEyepiece | None:
    """What the object shows at the aware moment `at`; None of the Sun and of what is a mere spot.

    `told` are the happenings to choose from, where somebody reckoned them before; `until` ends the
    span in which what begins is told. Whether it stands high and the Sun far is not asked here.
    """
    # Moons, shadows and features are loaded for who asks for them: most objects are mere spots.
    if thing.kind == "moon":
        from axletree.find.at_eyepiece.lunar import moon_at_eyepiece

        return moon_at_eyepiece(at, observer)
    if thing.kind == "planet":
        from axletree.find.at_eyepiece.planet import planet_at_eyepiece
        from axletree.sky.moons.systems import SYSTEMS

        body = thing.catalogue_id
        end = later(at, AHEAD) if until is None else until
        if told is None:
            told = _between(body, at, end, observer) if body in SYSTEMS else ()
        return planet_at_eyepiece(body, at, end, observer, told)
    if thing.separation_arcsec is not None:
        from axletree.find.at_eyepiece.answer import PairAtEyepiece

        return PairAtEyepiece(
            at=at,
            separation_arcsec=thing.separation_arcsec,
            position_angle_deg=thing.position_angle_deg,
            year=thing.pair_year,
            magnitude_v=thing.magnitude_v,
            companion_magnitude_v=thing.companion_magnitude_v,
        )
    return None


def _between(body: str, at: datetime, end: datetime, observer: Observer) -> tuple[Happening, ...]:
    from axletree.sky.happenings.ask import happenings

    return happenings(body, at, end, observer, at.tzinfo or UTC)
