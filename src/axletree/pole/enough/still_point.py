"""How well is the axis set by the point of the field that stands still while the hour axis swings?

No polar scope and no camera are needed: the tube looks roughly along the axis, the hour axis is
swung by a quarter turn, and all stars go round one point of the field. That point is the axis;
bolts carry it along unmoved in the field, until the pole star stands at its place about it.

Public: ``StillPointView``, ``ThroughTube``, ``still_point_view``, ``shows_pole_star``,
``point_sigma_arcmin``, ``placing_sigma_arcmin``, ``sky_turn_part``.
"""

from __future__ import annotations

import math
from enum import Enum

from axletree.axis.unknowns import USUAL_CONE_ARCMIN, USUAL_LEAN_ARCMIN
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.target import mean_pole_distance_arcmin
from axletree.pole.enough.fields import eyepiece_field_deg

# The hour axis goes from shaft level to weights down.
SWING_DEG = 90.0
# Estimates of ours, no source. A star's place is kept in mind to this part of the field while the
# hand swings the axis; the pole star is put down beside the point to so much of the field, and its
# distance from there is judged to so much of itself.
SEEN_PART_OF_FIELD = 0.02
PLACING_PART_OF_FIELD = 0.01
JUDGED_PART_OF_DISTANCE = 0.1
# How far off the middle the point stays, across, on an ordinary mount: its cone and its lean.
USUAL_ACROSS_ARCMIN = math.hypot(USUAL_CONE_ARCMIN, USUAL_LEAN_ARCMIN)
# For whether a field holds the pole star: its distance changes by 3 arcminutes in ten years.
_J2030 = 2030.0


class ThroughTube(Enum):
    """What of the tube is looked through."""

    FINDER = "finder"
    EYEPIECE = "eyepiece"


@dataclass(frozen=True)
class StillPointView:
    """The finder or the weakest eyepiece, and how well the axis is set by it.

    `eyepiece` is its label in the kit, '' for the finder; `field_deg` from edge to edge. Errors in
    arcminutes each way, one standard deviation: `point_sigma_arcmin` of the point that stands
    still, `placing_sigma_arcmin` of the pole star beside it. `spare_arcmin`: from the star to the
    edge of the field with the point in its middle.
    """

    through: ThroughTube
    eyepiece: str
    field_deg: float
    swing_deg: float
    point_sigma_arcmin: float
    placing_sigma_arcmin: float
    spare_arcmin: float

    @property
    def star_fits(self) -> bool:
        """The star stands in the field with the point in its middle."""
        return self.spare_arcmin > 0.0

    @property
    def cone_fits(self) -> bool:
        """It does so too with the point as far off the middle as on an ordinary mount."""
        return self.spare_arcmin >= USUAL_ACROSS_ARCMIN

    @property
    def sigma_arcmin(self) -> float:
        """Both errors together, each way."""
        return math.hypot(self.point_sigma_arcmin, self.placing_sigma_arcmin)


def still_point_view(
    kit: Kit, pole_distance_arcmin: float, swing_deg: float = SWING_DEG
) -> StillPointView:
    """The better of finder and weakest eyepiece, for a pole star so far from the pole.

    That in whose field the star stands however the cone lies, and of both that with the smaller
    error; where neither has so much room, the wider one. A finder counts if
    the kit says how much sky it shows and which way up; a plain sight shows no field.
    """
    weakest = max(kit.eyepieces, key=lambda eyepiece: eyepiece_field_deg(kit, eyepiece))
    fields = [(ThroughTube.EYEPIECE, weakest.label, eyepiece_field_deg(kit, weakest))]
    finder = kit.tube.finder
    if finder is not None and finder.field_deg is not None and finder.look is not None:
        fields.append((ThroughTube.FINDER, "", finder.field_deg))
    views = [
        StillPointView(
            through=through,
            eyepiece=label,
            field_deg=field_deg,
            swing_deg=swing_deg,
            point_sigma_arcmin=point_sigma_arcmin(field_deg, swing_deg),
            placing_sigma_arcmin=placing_sigma_arcmin(field_deg, pole_distance_arcmin),
            spare_arcmin=field_deg * 30.0 - pole_distance_arcmin,
        )
        for through, label, field_deg in fields
    ]
    roomy = [view for view in views if view.cone_fits]
    if roomy:
        return min(roomy, key=lambda view: view.sigma_arcmin)
    return max(views, key=lambda view: view.field_deg)


def shows_pole_star(kit: Kit) -> bool:
    """Whether the pole star has room in this kit's finder or weakest eyepiece, in these years."""
    distance = float(mean_pole_distance_arcmin(_J2030, kit.site.north))
    return still_point_view(kit, distance).star_fits


def point_sigma_arcmin(field_deg: float, swing_deg: float = SWING_DEG) -> float:
    """How well the point is seen, arcminutes each way, from a swing of so many degrees.

    A star is seen at two places, each to `s` in both directions. The point about which the swing
    `S` carries the one into the other is their middle, aside by half of their distance times
    cot(S/2); both parts' errors add to s / (sqrt 2 sin(S/2)) each way: `s` itself after a quarter
    turn.
    """
    seen = SEEN_PART_OF_FIELD * field_deg * 60.0
    return seen / (math.sqrt(2.0) * math.sin(math.radians(swing_deg) / 2.0))


def placing_sigma_arcmin(field_deg: float, distance_arcmin: float) -> float:
    """How well the pole star is put to its place about the point, arcminutes each way."""
    return math.hypot(
        PLACING_PART_OF_FIELD * field_deg * 60.0, JUDGED_PART_OF_DISTANCE * distance_arcmin
    )


def sky_turn_part(minutes: float, swing_deg: float = SWING_DEG) -> float:
    """By which part of the axis' own offset the sky's turn misplaces the point, meanwhile.

    The stars turn about the pole by `w` while the swing `S` turns them about the axis; both
    together are one turn about a point aside by w / (2 sin(S/2)) of the way from axis to pole.
    """
    turned = math.radians(minutes * 0.25)
    return turned / (2.0 * math.sin(math.radians(swing_deg) / 2.0))
