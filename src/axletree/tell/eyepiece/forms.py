"""Which form has a body at the eyepiece for a program? Keys carry units."""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict


class TurnData(TypedDict):
    """One moment of a happening, as seen from here: `sigma_s` its error, `seen` whether anybody
    can see it."""

    kind: str
    at: str
    sigma_s: float
    seen: bool


class HappeningData(TypedDict):
    """Something that happens: whose edge (`mover`) meets what (`border`); `actor` the moon or the
    feature. `grazing`: it never lies wholly within, so that times are poor."""

    body: str
    kind: str
    actor: str
    mover: str
    border: str
    turns: list[TurnData]
    grazing: bool


class MoonBesideData(TypedDict):
    """A planet's moon, from the middle of the disc: position angle from north through east,
    distance with its error, the same in equatorial radii to the planet's west and north;
    `shadow_radii` its shadow's middle on the disc (west, north), None where none is seen."""

    name: str
    state: str
    position_angle_deg: float
    apart_arcsec: float
    apart_sigma_arcsec: float
    west_radii: float
    north_radii: float
    size_arcsec: float
    magnitude_v: float
    shadow_radii: list[float] | None


class RingsData(TypedDict):
    """Saturn's rings: the observer's and the Sun's heights over them (north positive), the face
    seen, long diameters, how flat they look."""

    opening_deg: float
    opening_sigma_deg: float
    sun_deg: float
    face: str
    outer_arcsec: float
    inner_arcsec: float
    gap_arcsec: float
    short_over_long: float


class DiscData(TypedDict):
    """The disc of the Moon or a planet; position angles from celestial north through east."""

    diameter_arcsec: float
    diameter_sigma_arcsec: float
    polar_diameter_arcsec: float
    phase_angle_deg: float
    lit_fraction: float
    bright_limb_deg: float
    axis_deg: float
    angle_sigma_deg: float


class LitFeatureData(TypedDict):
    """A feature of the Moon that stands well in the light: its place (east positive), the Sun's
    height there with its error, its place on the disc in radii (right to the Moon's east), and
    what may be said of it ('' of the lesser known; older sheets lack it)."""

    name: str
    words: NotRequired[str]
    kind: str
    latitude_deg: float
    longitude_deg: float
    size_km: float
    sun_deg: float
    sun_sigma_deg: float
    morning: bool
    right_radii: float
    up_radii: float


class EarthShadowData(TypedDict):
    """The Earth's shadow on the Moon (Danjon's rule): parts of the Moon's diameter within umbra (0
    or less: none) and penumbra; where its middle lies, in the Moon's radii."""

    umbral_magnitude: float
    penumbral_magnitude: float
    toward_deg: float
    apart_radii: float
    umbra_radii: float


class MoonFaceData(TypedDict):
    """How the Moon is turned and lit, selenographic degrees, east positive."""

    waxing: bool
    libration_longitude_deg: float
    libration_latitude_deg: float
    libration_sigma_deg: float
    terminator_longitude_deg: float
    features: list[LitFeatureData]
    shadow: NotRequired[EarthShadowData | None]


class PairData(TypedDict):
    """A double star: the fainter star from the brighter one, as of `year`."""

    separation_arcsec: float
    position_angle_deg: float | None
    year: float | None
    magnitude_v: float | None
    companion_magnitude_v: float | None


class AtEyepieceData(TypedDict):
    """What Moon, planet or double star show at one moment; parts are None or [] where it has none.

    `elongation_deg` from the Sun. `words`: all of it in sentences; `short`: the one thing to look
    for. Left and right in them are those of the eyepiece, where it is known how that turns.
    """

    kind: Literal["moon", "planet", "pair"]
    at: str
    disc: DiscData | None
    magnitude_v: float | None
    elongation_deg: float | None
    rings: RingsData | None
    moons: list[MoonBesideData]
    face: MoonFaceData | None
    pair: PairData | None
    happenings: list[HappeningData]
    short: str
    words: list[str]
