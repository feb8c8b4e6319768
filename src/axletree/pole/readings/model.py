"""What would the circles of such a mount show, and from where does a solver set out?

Six unknowns: the axis error `high` and `east`, the index errors of both circles, and two faults
of the mount, `cone` and `lean` (see `circles`). A circle that was set anew between two readings
has one index error more for each setting.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.axis.circles import circle_readings, folded_deg
from axletree.axis.frame import Pole, mount_angles
from axletree.axis.unknowns import UNKNOWNS, Circle
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.observer import Observer

_INDEX_HOUR, _INDEX_DECLINATION = UNKNOWNS.index("index_hour"), UNKNOWNS.index("index_declination")
# From so many readings the start value is plain; trying each against each would take hours.
_MOST_TRIED = 200


@dataclass(frozen=True)
class Settings:
    """Which setting of each circle every reading belongs to.

    `hour_names`, `declination_names`: what the settings are called; the first of each is in force
    at the last reading, and its index error stands in its place in `UNKNOWNS`. Those of the
    others follow after `UNKNOWNS`, first of the hour circle. `hour`, `declination` (stars,):
    which of the names.
    """

    hour: Ints
    declination: Ints
    hour_names: tuple[str, ...]
    declination_names: tuple[str, ...]

    @property
    def unknowns(self) -> int:
        """How many unknowns there are in all."""
        return len(UNKNOWNS) + len(self.hour_names) + len(self.declination_names) - 2

    def place(self, circle: Circle, setting: int) -> int:
        """Where among the unknowns a setting's index error stands."""
        if setting == 0:
            return _INDEX_HOUR if circle == "hour" else _INDEX_DECLINATION
        before = 0 if circle == "hour" else len(self.hour_names) - 1
        return len(UNKNOWNS) + before + setting - 1

    def places(self, circle: Circle) -> Ints:
        """Where among the unknowns the index error of every reading stands (stars,)."""
        own, names = (
            (self.hour, self.hour_names) if circle == "hour"
            else (self.declination, self.declination_names)
        )  # fmt: skip
        return np.array([self.place(circle, k) for k in range(len(names))])[own]

    def of_rows(self, rows: Mask) -> Settings:
        """The same settings for some of the readings."""
        return Settings(
            self.hour[rows], self.declination[rows], self.hour_names, self.declination_names
        )


def settings_of(hour: Sequence[str], declination: Sequence[str]) -> Settings:
    """The settings from each reading's words (stars,), the one at the last reading first."""
    columns = []
    for words in (hour, declination):
        names = tuple(dict.fromkeys(str(w) for w in reversed(words)))
        columns.append((np.array([names.index(str(w)) for w in words]), names))
    return Settings(columns[0][0], columns[1][0], columns[0][1], columns[1][1])


def one_setting(count: int) -> Settings:
    """Circles that were left alone through so many readings."""
    return settings_of([""] * count, [""] * count)


def expected_readings(
    values: Floats, seen: Floats, sides: Floats, observer: Observer, pole: Pole = "refracted",
    settings: Settings | None = None,
) -> tuple[Floats, Floats]:  # fmt: skip
    """Hour circle (h) and declination circle (degrees, -90 to 90), shape (..., stars).

    `values` (..., unknowns) in the order of `UNKNOWNS` and `Settings`; `seen` (stars, 3); `sides`
    (stars,) +1 or -1.
    """
    own = one_setting(len(seen)) if settings is None else settings
    high, east, _, _, cone, lean = (values[..., k, None] for k in range(len(UNKNOWNS)))
    H, dec = mount_angles(seen, high, east, observer, pole)
    to_north = lean if observer.north else -lean
    hour, declination = circle_readings(
        H, dec, sides, cone, to_north,
        values[..., own.places("hour")], values[..., own.places("declination")],
    )  # fmt: skip
    return hour, folded_deg(declination)


def start_values(
    seen: Floats, signs: Floats, shown_h: Floats, shown_deg: Floats, settings: Settings,
    observer: Observer, pole: Pole,
) -> Floats:  # fmt: skip
    """Index errors from what the circles show, everything else nought.

    For each setting the one that most readings agree on, so that one mistaken star can't carry
    the start away.
    """
    values = np.zeros(settings.unknowns)
    h, d = expected_readings(values, seen, signs, observer, pole, settings)
    around = np.exp(2j * np.pi * (shown_h - h) / 12.0)
    hours, declinations = settings.places("hour"), settings.places("declination")
    for at in np.unique(hours):
        own = _some(hours == at)
        spread = np.abs(np.angle(around[own, None] / around[None, own])).sum(axis=0)
        values[at] = np.angle(around[own[np.argmin(spread)]]) / (2.0 * np.pi) * 12.0 * 900.0
    for at in np.unique(declinations):
        own = _some(declinations == at)
        tried = signs[own] * (shown_deg[own] - d[own])
        left = shown_deg[own] - folded_deg(d[own] + signs[own] * tried[:, None])
        values[at] = tried[np.argmin(np.abs(left).sum(axis=1))] * 60.0
    return values


def _some(chosen: Mask) -> Ints:
    """Places of the chosen readings, at most `_MOST_TRIED`, evenly."""
    places = np.flatnonzero(chosen)
    return places[:: max(1, -(-len(places) // _MOST_TRIED))]
