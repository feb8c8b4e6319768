"""What is asked of a hop, and what is answered?

Each step is told twice: as turns of the mount's two axes, and as a direction and distance on the
sky, which `find.view` turns into what the eye sees.
"""

from __future__ import annotations

from enum import Enum

from axletree.find.hopping.pattern import PatternKind
from axletree.find.hopping.way import HopSight
from axletree.find.patch import Patch
from axletree.find.person import Skill
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Mask


class HopOutcome(Enum):
    """How the question ended; the last three offer no hop."""

    SHOWS = "shows"  # the object itself shows in the finder: it is aimed at, no hop
    HOP = "hop"
    UNSURE = "unsure"  # the best hop's chance is below `OFFERED`
    NO_START = "no_start"  # no star near that the bare eye can be asked to name
    NO_CHAIN = "no_chain"  # the stars stand farther apart than the finder's field


class WeakPart(Enum):
    """Which part of a hop is least sure."""

    START = "start"
    STAR = "star"
    ARRIVAL = "arrival"


class HopHelpKind(Enum):
    """What would make a hop surer; the unit of its figure."""

    WIDER_FINDER = "wider_finder"  # true field, degrees
    WIDER_EYEPIECE = "wider_eyepiece"  # true field, degrees
    DARKER_SKY = "darker_sky"  # limit of the bare eye, magnitudes
    OTHER_START = "other_start"  # magnitude of the star to begin with


class MoveAxis(Enum):
    """An axis of the mount that a step turns."""

    HOUR = "hour"
    DECLINATION = "declination"


@dataclass(frozen=True)
class HopQuestion:
    """The stars about an object (the middle of `patch`), and who looks with what.

    `patch` reaches `way_radius_deg` and half a magnitude past the finder's limit, as far as there
    are stars. `object_shows`: the object itself shows in the finder. `start`: the number of the
    star to begin with, None for the best. `open_sky` (n,): stars with nothing before them.
    """

    patch: Patch
    latitude_deg: float
    sight: HopSight
    skill: Skill
    object_shows: bool = False
    start: int | None = None
    open_sky: Mask | None = None


@dataclass(frozen=True)
class Partner:
    """A star of a pattern, from the star that is confirmed: degrees, parts of the finder's field,
    position angle from north through east, and by how many magnitudes it is fainter."""

    row: int
    number: int
    separation_deg: float
    separation_field: float
    position_angle_deg: float
    fainter_mag: float


@dataclass(frozen=True)
class Pattern:
    """What confirms a star. `left`: what may still be mistaken for it, 0-1, at the worst."""

    kind: PatternKind
    partners: tuple[Partner, ...]
    left: float


@dataclass(frozen=True)
class HopStar:
    """A star of the hop: row of the patch, catalogue number, pose of the mount that centres it."""

    row: int
    number: int
    magnitude_v: float
    hour_angle_h: float
    declination_deg: float
    pattern: Pattern


@dataclass(frozen=True)
class HopStep:
    """One move of the finder, from the star in its middle to the next, or to the object (None).

    `hour_deg` turns the hour axis, positive west; `declination_deg` the other, positive north;
    `axes` are those that bring something that counts, the larger move on the sky first.
    `distance_field` is in parts of the finder's field, across; the position angle from north
    through east at `present`. `fainter_mag`: the next star's magnitude less this one's, None at
    the object.
    """

    present: HopStar
    following: HopStar | None
    hour_deg: float
    declination_deg: float
    axes: tuple[MoveAxis, ...]
    distance_deg: float
    distance_field: float
    position_angle_deg: float
    fainter_mag: float | None
    chance: float


@dataclass(frozen=True)
class HopHelp:
    """What would help: its figure, and the chance of the hop it gives."""

    kind: HopHelpKind
    figure: float
    chance: float


@dataclass(frozen=True)
class HopAnswer:
    """The hop, its chance over all, and where there is none, why.

    `chance` is assumed until a log has calibrated it: that the object is in the weakest eyepiece
    at the end; where the object shows, that it is in the finder's field when aimed at; None where
    no chain leads there. `start_chance` belongs to the first star. Steps are empty where none is
    needed or none leads there; an unsure hop's are told all the same. `helps`: what would make one
    sure enough, where somebody asked (`help.hop_with_help`).
    """

    outcome: HopOutcome
    chance: float | None
    start: HopStar | None = None
    start_chance: float | None = None
    steps: tuple[HopStep, ...] = ()
    weakest: WeakPart | None = None
    helps: tuple[HopHelp, ...] = ()
