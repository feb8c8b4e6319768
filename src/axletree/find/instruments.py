"""Through what does a person look on the way to an object, and which stars does each of it show?"""

from __future__ import annotations

from enum import Enum

from axletree.axis.model import PointingModel
from axletree.find.person import Skill, skill_of
from axletree.find.turning.knobs import Mounted
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.tube import Finder
from axletree.sky.contrast import Optics, point_limit_mag
from axletree.sky.observer import Observer
from axletree.sky.optics import DARK_PUPIL_MM, magnification, true_field_deg

# What an eye at rest takes in when it looks for a pattern of stars, from edge to edge (common
# practice, no source).
GLANCE_DEG = 40.0
# Around a plain sight's largest ring, in its radii, what is looked at with it; no less than
# `_LEAST_AROUND_DEG`, where the eye finds a pattern at all (ours).
_RADII_AROUND, _LEAST_AROUND_DEG = 10.0, 12.0
# What the lenses of a finder let through (common practice, no source).
FINDER_TRANSMISSION = 0.85


class InstrumentKind(Enum):
    """What the eye looks through, in the order in which they come on the way to an object."""

    BARE_EYE = "bare_eye"
    PLAIN_SIGHT = "plain_sight"
    FINDER = "finder"
    EYEPIECE = "eyepiece"


class Look(Enum):
    """How things stand in it for somebody who looks the way the tube does."""

    UPRIGHT = "upright"
    UPSIDE_DOWN = "upside down"  # turned by half a circle, not mirrored
    MIRRORED = "mirrored"  # left and right exchanged


@dataclass(frozen=True)
class Instrument:
    """One way of looking.

    `aperture_mm` of the bare eye and a plain sight is the eye's own pupil. `true_field_deg` is the
    sky from edge to edge; a plain sight's is what is looked at around its rings. `transmission` is
    the share of light that gets through, the secondary mirror taken off. `look` is None for an
    eyepiece, whose picture turns with the pose. `eyepiece_index` counts the kit's eyepieces, alone
    and with each Barlow lens, longest first, as `eyepieces_of` does; None for what is none.
    `rings_deg` are a plain sight's radii. `label` is the eyepiece's name, else the kind's code.
    """

    kind: InstrumentKind
    label: str
    magnification: float
    aperture_mm: float
    true_field_deg: float
    transmission: float = 1.0
    look: Look | None = Look.UPRIGHT
    eyepiece_index: int | None = None
    rings_deg: tuple[float, ...] = ()

    @property
    def has_power(self) -> bool:
        """True for what magnifies."""
        return self.kind in (InstrumentKind.FINDER, InstrumentKind.EYEPIECE)


def instruments_of(kit: Kit) -> tuple[Instrument, ...]:
    """The bare eye, finder or plain sight where the kit has one, and all eyepieces, weakest first.

    A finder whose optics nobody said (one made by hand without them) is left out.
    """
    finder = kit.tube.finder
    riding = None if finder is None else _finder(finder)
    return (_bare_eye(), *(() if riding is None else (riding,)), *eyepieces_of(kit))


def _bare_eye() -> Instrument:
    kind = InstrumentKind.BARE_EYE
    return Instrument(kind, kind.value, 1.0, DARK_PUPIL_MM, GLANCE_DEG)


def _finder(finder: Finder) -> Instrument | None:
    if finder.plain_sight:
        kind = InstrumentKind.PLAIN_SIGHT
        around_deg = max(_RADII_AROUND * max(finder.rings_deg), _LEAST_AROUND_DEG)
        field_deg = min(around_deg, GLANCE_DEG)
        return Instrument(
            kind, kind.value, 1.0, DARK_PUPIL_MM, field_deg, rings_deg=finder.rings_deg
        )
    if finder.magnification is None or finder.aperture_mm is None:
        return None
    if finder.field_deg is None or finder.look is None:
        return None
    kind = InstrumentKind.FINDER
    return Instrument(
        kind, kind.value, finder.magnification, finder.aperture_mm, finder.field_deg,
        FINDER_TRANSMISSION, Look(finder.look),
    )  # fmt: skip


def eyepieces_of(kit: Kit) -> tuple[Instrument, ...]:
    """Every eyepiece through the kit's tube, alone and with each Barlow lens, longest first."""
    tube = kit.tube
    pairs = [(e, f) for e in kit.eyepieces for f in (1.0, *(b.factor for b in kit.barlows))]
    pairs.sort(key=lambda pair: -pair[0].focal_length_mm / pair[1])
    clear = tube.transmission * (1.0 - (tube.obstruction_mm / tube.aperture_mm) ** 2)
    return tuple(
        Instrument(
            kind=InstrumentKind.EYEPIECE,
            label=eyepiece.label_with(factor),
            magnification=float(
                magnification(tube.focal_length_mm, eyepiece.focal_length_mm, factor)
            ),
            aperture_mm=tube.aperture_mm,
            true_field_deg=float(
                true_field_deg(
                    tube.focal_length_mm, eyepiece.focal_length_mm, eyepiece.apparent_field_deg,
                    eyepiece.field_stop_mm or float("nan"), factor,
                )
            ),
            transmission=clear,
            look=None,
            eyepiece_index=index,
        )
        for index, (eyepiece, factor) in enumerate(pairs)
    )  # fmt: skip


def limit_mag(
    instrument: Instrument,
    sky_mag_arcsec2: float,
    extinction_mag: float,
    skill: Skill,
    seeing_arcsec: float = 0.0,
) -> float:
    """The faintest star that shows in it: V outside the air.

    `sky_mag_arcsec2` is the sky's brightness there, `extinction_mag` what the air takes at that
    altitude. Source: `axletree.sky.contrast` (A. Crumey 2014).
    """
    optics = Optics(instrument.aperture_mm, instrument.magnification, instrument.transmission)
    limit = point_limit_mag(sky_mag_arcsec2, optics, skill.field_factor, seeing_arcsec)
    return float(limit) - extinction_mag


def mounted_of(
    kit: Kit, observer: Observer, model: PointingModel, side: int, *, driven: bool
) -> Mounted:
    """The mount as it stands for a finding on one tube side, with the fields that it is found in:
    the weakest eyepiece's, and the finder's where that magnifies."""
    pieces = instruments_of(kit)
    weakest = next(i for i in pieces if i.kind is InstrumentKind.EYEPIECE)
    finder = next((i for i in pieces if i.kind is InstrumentKind.FINDER and i.has_power), None)
    return Mounted(
        kit=kit, observer=observer, model=model, side=side, driven=driven,
        skill=skill_of(kit.habits.observer), eyepiece_field_deg=weakest.true_field_deg,
        finder_field_deg=None if finder is None else finder.true_field_deg,
    )  # fmt: skip
