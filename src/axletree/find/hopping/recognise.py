"""Is the star that a person takes at the place they were told the one that is meant?

A person who is told 'so far, that way, so bright' errs in place and in brightness, and takes the
star that fits best: nearest, where place is measured in its error and brightness in its own.
Another star is taken when the error reaches past half the way to it, so its chance is a normal's
tail (the boundary between two classes of equal spread: any book on classification, such as
C. M. Bishop 2006, Pattern Recognition and Machine Learning, section 1.5). While a way is searched,
several others count as independent, which is too careful where many stand close together; what is
told in the end comes from drawn errors, the same ones every time.
"""

from __future__ import annotations

import math
from functools import cache, cached_property

import numpy as np
from numpy.typing import ArrayLike

from axletree.find.chance import normal_tail
from axletree.find.person import (
    NAMED_FAINTEST_MAG,
    NAMED_MARGIN_MAG,
    NOTICE_MAG,
    Skill,
    wrong_named_star,
)
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices

_DEG = math.pi / 180.0
_APART = 6.2  # errors between two stars beyond which one is taken for the other once in 1,000
SURELY = 0.95  # a star is told to somebody who sees it so surely
_DRAWS = 2048
_DRAWN_RIVALS = 48  # the likeliest; the others hardly ever count


@dataclass(frozen=True)
class Showing:
    """The stars that a finder may show, arrays (n,): what a person has before the eye.

    `vector` (n, 3): unit vectors in any frame; `noticed`: chance 0-1 that each is seen at all.
    `radius_deg` is half the finder's true field.
    """

    vector: Floats
    magnitude_v: Floats
    noticed: Floats
    radius_deg: float

    def __len__(self) -> int:
        return len(self.magnitude_v)

    @cached_property
    def likely(self) -> tuple[Indices, Floats, Floats]:
        """Rows, vectors and magnitudes of the stars that are seen sooner than not."""
        rows = np.flatnonzero(self.noticed > 0.5)
        return rows, self.vector[rows], self.magnitude_v[rows]

    @cached_property
    def plain(self) -> tuple[Indices, Floats]:
        """Rows, the brightest first, and vectors of the stars that are seen surely (`SURELY`)."""
        rows = np.flatnonzero(self.noticed >= SURELY)
        rows = rows[np.argsort(self.magnitude_v[rows], kind="stable")]
        return rows, self.vector[rows]


@dataclass(frozen=True)
class Rivals:
    """The stars (k,) that may be taken for one that is meant, `target`; rows of `Showing`.

    `apart_deg`: their distance from it. `brightness`: difference from it, in errors of a judged
    brightness. `pattern`: how badly the stars around each fit those around the target, a sum of
    squares of such errors; 0 where nobody looks.
    """

    target: int
    star: Indices
    apart_deg: Floats
    brightness: Floats
    pattern: Floats


def noticed(magnitude_v: ArrayLike, limit_mag: float) -> Floats:
    """Chance that a star is seen where the limit is this one: half at the limit itself."""
    beyond = (np.asarray(magnitude_v, dtype=np.float64) - limit_mag) / NOTICE_MAG
    tail = normal_tail(np.abs(beyond))
    return np.asarray(np.where(beyond > 0.0, tail, 1.0 - tail))


def showing(vector: Floats, magnitude_v: Floats, limit_mag: float, radius_deg: float) -> Showing:
    """The stars before the eye in a finder of this limit and field."""
    return Showing(vector, magnitude_v, noticed(magnitude_v, limit_mag), radius_deg)


def place_sigma_deg(distance_deg: ArrayLike, radius_deg: float, skill: Skill) -> Floats:
    """Error of a judged place in each of two directions, so far from a star in the middle."""
    return np.hypot(
        skill.distance_part * np.asarray(distance_deg), skill.distance_field * radius_deg
    )


def rivals_of(field: Showing, target: int, sigma_deg: float, skill: Skill) -> Rivals:
    """The stars that may be taken for `target` where places are judged no worse than this.

    Stars nearer to the target than a person can centre it count as the target.
    """
    along = field.vector @ field.vector[target]
    reach_deg = min(_APART * sigma_deg, 2.0 * field.radius_deg)
    centred = math.cos(skill.centre_field * field.radius_deg * _DEG)
    unlike = np.abs(field.magnitude_v - field.magnitude_v[target]) / skill.brightness_mag
    near = (along > math.cos(reach_deg * _DEG)) & (along < centred) & (unlike < _APART)
    star = np.flatnonzero(near)
    apart_deg = np.sqrt(2.0 - 2.0 * along[star]) / _DEG
    return Rivals(target, star, apart_deg, unlike[star], np.zeros(len(star)))


def mistaken(
    field: Showing, among: Rivals, sigma_deg: ArrayLike, middle: Floats | None = None
) -> Floats:
    """Chance (m, k) that each of k rivals is taken, for errors of place (m,) in each direction.

    `middle` (m, 3): what stands in the middle of the finder when the place is judged; only what
    shows about it can be taken.
    """
    sigma = np.asarray(sigma_deg, dtype=np.float64)[..., np.newaxis]
    apart2 = (among.apart_deg / sigma) ** 2 + among.brightness**2 + among.pattern
    taken = normal_tail(0.5 * np.sqrt(apart2)) * field.noticed[among.star]
    if middle is None:
        return taken
    shows = middle @ field.vector[among.star].T > math.cos(field.radius_deg * _DEG)
    return np.asarray(taken * shows)


def chance_of_right(
    field: Showing, among: Rivals, present: Indices, distance_deg: Floats, skill: Skill
) -> Floats:
    """Chance 0-1 that the target is taken when told from each of the stars `present` (m,).

    Each present star stands in the middle of the finder, in its turn, so far from the target.
    """
    sigma = place_sigma_deg(distance_deg, field.radius_deg, skill)
    taken = mistaken(field, among, sigma, field.vector[present])
    return np.asarray(field.noticed[among.target] * np.prod(1.0 - taken, axis=-1))


def chance_told(field: Showing, among: Rivals, present: int | None, skill: Skill) -> float:
    """Chance 0-1 that the target is taken, from drawn errors: good to 0.01.

    Told from the star `present` in the middle, or, None, aimed at along the tube.
    """
    target = field.vector[among.target]
    sigma, middle = skill.sight_deg, None
    if present is not None:
        middle = field.vector[[present]]
        chord = float(np.linalg.norm(middle[0] - target))
        sigma = float(place_sigma_deg(chord / _DEG, field.radius_deg, skill))
    taken = mistaken(field, among, np.array([sigma]), middle)[0]
    which = np.argsort(-taken, kind="stable")[:_DRAWN_RIVALS]
    which = which[taken[which] > 0.0]
    star = among.star[which]
    place = (field.vector[star] - target) / (_DEG * sigma)
    bright = (field.magnitude_v[star] - field.magnitude_v[among.target]) / skill.brightness_mag
    apart2 = np.sum(place**2, axis=1) + bright**2 + among.pattern[which]
    errors, own, eye = _draws()
    along = errors[:, :3] @ place.T + errors[:, 3:] * bright
    along += own[:, : len(star)] * np.sqrt(among.pattern[which])
    wrong = (along > 0.5 * apart2) & (eye[:, : len(star)] < field.noticed[star])
    return float(field.noticed[among.target] * (1.0 - wrong.any(axis=1).mean()))


@cache
def _draws() -> tuple[Floats, Floats, Floats]:
    """Errors of place (three, square to each other) and brightness, of each rival's own pattern,
    and of what the eye notices: always the same."""
    random = np.random.default_rng(1959)
    half = random.standard_normal((_DRAWS // 2, 4))
    own = random.standard_normal((_DRAWS, _DRAWN_RIVALS))
    return np.concatenate([half, -half]), own, random.uniform(size=(_DRAWS, _DRAWN_RIVALS))


def chance_of_start(field: Showing, among: Rivals, skill: Skill) -> float:
    """Chance 0-1 that a star named for the bare eye is brought into the finder's middle.

    The bare eye knows it, and in the finder, aimed along the tube, it is told from its rivals.
    Somebody who sees no star so bright in the field aims once more: missing it is no failure.
    """
    named = 1.0 - float(wrong_named_star(field.magnitude_v[among.target], skill))
    return named * chance_told(field, among, None, skill)


def faintest_start_mag(bare_eye_limit_mag: float) -> float:
    """The faintest star that the bare eye is asked to name under this sky."""
    return min(NAMED_FAINTEST_MAG, bare_eye_limit_mag - NAMED_MARGIN_MAG)
