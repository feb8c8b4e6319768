"""What does a program get to know about how sure a room is? Keys carry units."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from typing_extensions import TypedDict

from axletree.mount.sure.room_doubt import RoomDoubt, Telling
from axletree.sky.time.nights import later
from axletree.tell.side.doubt_text import bar_words, touch_sentence


class TellingData(TypedDict):
    """A dimension that measured would tell: the key of the kit, the share of the variance that
    goes, and the half-width of the room's end with it."""

    key: str
    variance_share: float
    end_error_then_s: float


class RoomDoubtData(TypedDict):
    """How sure a room is.

    `end_early` and `end_late`: between them it ends with a chance of 68 %; `end_error_s` is half of
    that, `bar` the same behind a clock time ('' where it is sure). `touch_possible`: from then on
    one in twenty rigs like this one has touched, null where none may; `touch_parts` are the two
    that do, `words` say it. At a stop `touch_chance` is that something touches before the stop
    ends, else before the room does. `tells`: the most telling dimension first.
    """

    end_early: str
    end_late: str
    end_error_s: float
    bar: str
    touch_possible: str | None
    touch_parts: list[str]
    touch_chance: float
    tells: list[TellingData]
    words: str


def room_doubt_data(
    doubt: RoomDoubt, at: datetime, touch_chance: float, *, told: bool = True
) -> RoomDoubtData:
    """How sure a room is that is told from a moment (of the place's zone) on.

    `told` False leaves the words about a touch away, which comes too late to matter.
    """
    zone = at.tzinfo
    assert isinstance(zone, ZoneInfo)

    def when(seconds: float) -> str:
        return later(at, round(seconds)).isoformat()

    return {
        "end_early": when(doubt.early_s),
        "end_late": when(doubt.late_s),
        "end_error_s": round(doubt.half_width_s),
        "bar": bar_words(doubt),
        "touch_possible": None if doubt.touch_s is None else when(doubt.touch_s),
        "touch_parts": list(doubt.parts) if doubt.touch_s is not None else [],
        "touch_chance": round(touch_chance, 4),
        "tells": [_telling(one) for one in doubt.tellings],
        "words": touch_sentence(doubt, at, zone) if told else "",
    }


def _telling(one: Telling) -> TellingData:
    return {
        "key": one.name,
        "variance_share": round(one.share, 3),
        "end_error_then_s": round(one.then_s),
    }
