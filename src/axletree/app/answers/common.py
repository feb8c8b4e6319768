"""What do all answers share: the desk of the one who asks, the moment, plain JSON?"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, Any

from fastapi import Depends, Request
from fastapi.responses import Response

from axletree.app.people.seats import seat_of
from axletree.app.state import Desk
from axletree.sky.time.parse import moment_from


def _whole_desk(request: Request) -> Desk:
    desk: Desk = request.app.state.desk
    return desk


def _desk(request: Request) -> Desk:
    desk = _whole_desk(request)
    return desk if desk.seats.leads(seat_of(request)) else desk.for_onlookers()


# The desk as far as the one who asks may know it; and all of it, for answers that take care
# themselves of what they tell those who only look (`desk.looking`).
OnDesk = Annotated[Desk, Depends(_desk)]
WholeDesk = Annotated[Desk, Depends(_whole_desk)]


def moment_of(desk: Desk, at: str | None) -> datetime:
    """The moment that a page asks about; None is now."""
    zone = desk.kit.site.zone
    return datetime.now(zone).replace(microsecond=0) if at is None else moment_from(at, zone)


def json_text(value: Any) -> str:
    """Plain data as the text of an answer that is kept."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def json_answer(text: str) -> Response:
    """The answer of such a text."""
    return Response(text, media_type="application/json")


def plain(value: Any) -> Any:
    """The same without infinities and not-a-numbers, which JSON doesn't know: they become None."""
    if isinstance(value, Mapping):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value
