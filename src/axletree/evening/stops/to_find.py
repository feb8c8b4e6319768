"""What does finding have to know of an object: the sky behind it, whether the finder shows it?"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.grades import Visibility, visibility_of
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.seeing.visibility import (
    Looks,
    extents_of,
    extinction_of,
    finder_margins,
    margins,
    suiting_view,
)
from axletree.find.instruments import InstrumentKind, instruments_of
from axletree.find.turning.seeking import SkyLight
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.contrast import Optics
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import MOVING, object_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.time.instants import Instants

if TYPE_CHECKING:
    from axletree.find.scene import FindingQuestion

# A glow this far above the threshold is noticed in a finder by somebody who doesn't stare (ours).
PLAIN_IN_FINDER_MAG = 0.5


def is_driven(kit: Kit) -> bool:
    """Whether a motor follows the sky on this mount."""
    return kit.mount.motion == "motor"


def sky_light(kit: Kit, observer: Observer, at: Instants, places: Positions) -> SkyLight:
    """The sky behind the first object of some places at the first instant, and the air's share."""
    sky = sky_state(kit, observer, at[:1])
    return SkyLight(float(sky.behind(places)[0, 0]), extinction_of(kit))


def with_looks(question: FindingQuestion, looks: Looks) -> FindingQuestion:
    """The question with the sky behind the object and how it looks at that moment.

    `looks` is the object's one row; a planet's or the Moon's size and light are reckoned.
    """
    kit, target = question.kit, question.target
    places = object_positions([target], question.arrival[:1], question.observer)
    light = sky_light(kit, question.observer, question.arrival, places)
    diameter, magnitude = _body(question)
    if magnitude is None and np.isfinite(looks.magnitude[0]):
        magnitude = float(looks.magnitude[0])
    sky = np.array([[light.sky_mag_arcsec2]])
    shows = _in_finder(kit, looks, sky, places.airmass[:1, :1])
    return replace(
        question, sky=light, diameter_deg=diameter, magnitude_v=magnitude, shows_in_finder=shows
    )


@dataclass(frozen=True)
class BestSight:
    """How an object shows at its best in this tube at one moment.

    In which eyepiece: its place among `instruments.eyepieces_of`, label, power, field behind it in
    degrees; how far above the threshold (magnitudes, nan where its light or size isn't known), how
    well; how wide it looks at the eye (degrees, None for a point or an unknown size; a globular
    cluster's bright middle; a pair's stars stand so far apart).
    """

    eyepiece_index: int
    eyepiece: str
    magnification: float
    field_at_eye_deg: float
    margin_mag: float
    visibility: Visibility
    at_eye_deg: float | None


def sight_of(question: FindingQuestion, looks: Looks) -> BestSight:
    """Through which eyepiece the object is shown best, chosen as an evening does, and how well.

    `question` is one that `with_looks` has seen, `looks` the object's one row.
    """
    kit = question.kit
    views = views_of(kit)
    places = object_positions([question.target], question.arrival[:1], question.observer)
    sky = np.array([[question.sky.sky_mag_arcsec2]])
    margin = margins(kit, looks, views, sky, places.airmass[:1, :1])[:, :, 0]
    index = int(suiting_view(kit, looks, views)[0])
    own, power = float(margin[index, 0]), float(views.magnification[index])
    behind_deg = float(views.true_field_deg[index]) * power
    size = looks.separation_arcsec[0] / 60.0
    if not np.isfinite(size):
        body = question.diameter_deg
        size = extents_of(looks).detail_arcmin[0] if body is None else body * 60.0
    return BestSight(
        index, views.labels[index], power, behind_deg, own, visibility_of(own),
        float(size) / 60.0 * power if np.isfinite(size) and size > 0.0 else None,
    )  # fmt: skip


def _body(question: FindingQuestion) -> tuple[float | None, float | None]:
    """Diameter in degrees and magnitude of the Moon or a planet, else None."""
    target: SkyObject = question.target
    if target.kind not in MOVING:
        return None, None
    body = body_positions(target.catalogue_id, question.arrival[:1], question.observer)
    return float(body.diameter_arcsec[0, 0]) / 3600.0, float(body.magnitude_v[0, 0])


def _in_finder(kit: Kit, looks: Looks, sky_mag: Floats, airmass: Floats) -> bool:
    finders = [i for i in instruments_of(kit) if i.kind is InstrumentKind.FINDER]
    if not finders:
        return False
    [finder] = finders
    optics = Optics(finder.aperture_mm, finder.magnification, finder.transmission)
    margin = float(finder_margins(kit, looks, optics, sky_mag, airmass)[0, 0])
    return margin >= PLAIN_IN_FINDER_MAG  # an unknown one (nan) doesn't show
