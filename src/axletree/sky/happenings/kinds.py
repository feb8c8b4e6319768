"""Which things can happen on the Moon or a planet, and what begins and ends them?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

from axletree.kit.frozen import dataclass


class HappeningKind(Enum):
    """What happens: a moon and its planet, or the light on a feature of our Moon."""

    MOON_BEFORE_DISC = "moon_before_disc"
    SHADOW_ON_DISC = "shadow_on_disc"
    MOON_BEHIND_DISC = "moon_behind_disc"
    MOON_IN_SHADOW = "moon_in_shadow"
    FEATURE_IN_LIGHT = "feature_in_light"


class Mover(Enum):
    """Whose edge moves."""

    MOON = "moon"
    SHADOW_OF_MOON = "shadow_of_moon"
    SUN_OVER_FEATURE = "sun_over_feature"


class Border(Enum):
    """What it meets."""

    DISC_OF_PLANET = "disc_of_planet"
    SHADOW_OF_PLANET = "shadow_of_planet"
    HEIGHT = "height"  # the Sun passes a height over the feature's ground


# Which disc meets which in each kind.
MEETS: dict[HappeningKind, tuple[Mover, Border]] = {
    HappeningKind.MOON_BEFORE_DISC: (Mover.MOON, Border.DISC_OF_PLANET),
    HappeningKind.SHADOW_ON_DISC: (Mover.SHADOW_OF_MOON, Border.DISC_OF_PLANET),
    HappeningKind.MOON_BEHIND_DISC: (Mover.MOON, Border.DISC_OF_PLANET),
    HappeningKind.MOON_IN_SHADOW: (Mover.MOON, Border.SHADOW_OF_PLANET),
    HappeningKind.FEATURE_IN_LIGHT: (Mover.SUN_OVER_FEATURE, Border.HEIGHT),
}


class TurnKind(Enum):
    """Which moment: a contact of edges, in the order of time, or a height of the Sun."""

    FIRST_EDGE_IN = "first_edge_in"
    MIDDLE_IN = "middle_in"
    LAST_EDGE_IN = "last_edge_in"
    FIRST_EDGE_OUT = "first_edge_out"
    MIDDLE_OUT = "middle_out"
    LAST_EDGE_OUT = "last_edge_out"
    SUN_AT_LOWEST = "sun_at_lowest"
    SUN_AT_HIGHEST = "sun_at_highest"


@dataclass(frozen=True)
class Turn:
    """One moment: aware time as seen from here, its error (s, one standard deviation), and
    whether it can be seen at all from the Earth (daylight and horizon are not asked)."""

    kind: TurnKind
    time: datetime
    doubt_s: float
    seen: bool = True


@dataclass(frozen=True)
class Happening:
    """Something that happens on a body: `actor` is the moon or the feature, by its name.

    `turns` in the order of time; those of a feature that lie outside the asked span are left
    out, so that none at all means: throughout. `grazing`: a moon that never lies wholly within;
    its times are poor.
    """

    body: str
    kind: HappeningKind
    actor: str
    turns: tuple[Turn, ...]
    grazing: bool = False

    @property
    def meets(self) -> tuple[Mover, Border]:
        """Which edge meets which."""
        return MEETS[self.kind]

    def turn(self, kind: TurnKind) -> Turn | None:
        """The moment of this kind, if it has one."""
        return next((t for t in self.turns if t.kind is kind), None)

    @property
    def begin(self) -> Turn | None:
        """The first moment that can be seen."""
        return next((t for t in self.turns if t.seen), None)

    @property
    def end(self) -> Turn | None:
        """The last moment that can be seen."""
        return next((t for t in reversed(self.turns) if t.seen), None)
