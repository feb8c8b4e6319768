"""In which light does a page open, so that no white page flashes in the dark?

The one that this browser chose; else the leader's; else dusk while the Sun is down at the kit's
site, and day while it is up.
"""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, datetime

from fastapi import Request
from starlette.datastructures import Headers

from axletree.app.state import Cache, Desk
from axletree.app.web.cookies import cookie_of
from axletree.kit.errors import AxletreeError

LIGHTS = ("day", "dusk", "red")
LIGHT_COOKIE = "axletree_light"
MOST_MINUTES = 4


def chosen_light(headers: Headers) -> str:
    """The light that a browser has chosen, '' before it chose one."""
    light = cookie_of(headers.get("cookie", ""), LIGHT_COOKIE)
    return light if light in LIGHTS else ""


def light_of(request: Request) -> str:
    """Which light the page is to open in."""
    desk: Desk = request.app.state.desk
    leader = desk.seats.leader
    return chosen_light(request.headers) or (leader.light if leader else "") or by_the_sun(desk)


def by_the_sun(desk: Desk) -> str:
    """'dusk' from sunset to sunrise at the kit's site, else 'day'; worked out once a minute."""
    minute = now().replace(second=0, microsecond=0)
    known: Cache = desk.cached("sun", lambda: Cache(MOST_MINUTES))
    down: bool = known.get(minute.isoformat(), lambda: _sun_is_down(desk, minute))
    return "dusk" if down else "day"


def now() -> datetime:
    """The clock."""
    return datetime.now(UTC)


def _sun_is_down(desk: Desk, moment: datetime) -> bool:
    from axletree.sky.events.twilight import SUN_HORIZON_DEG
    from axletree.sky.observer import observer_of
    from axletree.sky.positions.bodies import sun_altitude_deg
    from axletree.sky.time.instants import Instants

    with suppress(AxletreeError):  # years that the planets' kernel doesn't hold
        altitude = sun_altitude_deg(Instants.from_datetime(moment), observer_of(desk.kit.site))
        return bool(altitude[0] < SUN_HORIZON_DEG)
    return False
