"""With which file does a person begin? A commented kit that asks for five numbers first."""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.site import RURAL_ZENITH_MAG
from axletree.kit.place.locate import locate
from axletree.kit.writing.template_words import (
    AUDIENCE,
    BARLOW,
    EYEPIECE,
    MOTOR,
    NO_HEIGHT,
    SOMEWHERE,
    TEXT,
    THERE,
    TUBE,
    TUBE_LENGTH,
)

UNNAMED = "my kit"


@dataclass(frozen=True)
class NewKit:
    """What a person answers before anything is measured; lengths in mm.

    `place` is a name or coordinates; without it the latitude and longitude are left for the
    person, as Greenwich's. `barlow` is a factor, `visitors` how many look besides the observer.
    """

    name: str = UNNAMED
    place: str | None = None
    kind: str = "newtonian"
    aperture_mm: float = 130.0
    focal_length_mm: float = 650.0
    size: str = "middle"
    motion: str = "hand"
    eyepieces_mm: tuple[float, ...] = (25.0, 10.0)
    barlow: float | None = None
    observer: str = "practised"
    audience: str | None = None
    visitors: int = 0


def new_kit_text(
    name: str = UNNAMED,
    place: str | None = None,
    kind: str = "newtonian",
    aperture_mm: float = 130.0,
    focal_length_mm: float = 650.0,
    size: str = "middle",
    motion: str = "hand",
) -> str:
    """The text of a new kit file, see `text_of`."""
    return text_of(NewKit(name, place, kind, aperture_mm, focal_length_mm, size, motion))


def text_of(new: NewKit) -> str:
    """The text of a new kit file (TOML), checked by the caller like any other."""
    name, place = new.name, new.place
    if any(ord(c) < 32 for c in name + (place or "")):
        raise AxletreeError("a name or place must be one line of text")
    if name == UNNAMED and place:
        name = place.strip()
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    aperture, focal = new.aperture_mm, new.focal_length_mm
    if not new.eyepieces_mm:
        raise AxletreeError("name at least one eyepiece")
    first, *others = new.eyepieces_mm
    length, balance = TUBE_LENGTH[new.kind]
    return TEXT.format(
        name=quoted, where=_where(place), kind=new.kind, aperture=f"{aperture:g}",
        focal=f"{focal:g}", length=length, balance=balance, size=new.size, motion=new.motion,
        motor=MOTOR if new.motion == "motor" else "", tube_more=TUBE[new.kind],
        sky=RURAL_ZENITH_MAG, eyepiece=f"{first:g}",
        eyepieces="".join(EYEPIECE.format(focal=f"{one:g}") for one in others),
        barlow=BARLOW if new.barlow is None else f"[[barlow]]\nfactor = {new.barlow:g}\n",
        observer=f'"{new.observer}"', visitors=new.visitors,
        audience=AUDIENCE if new.audience is None else f'audience = "{new.audience}"\n',
    )  # fmt: skip


def _where(place: str | None) -> str:
    """The lines of [site] that say where it lies."""
    if not place:
        return SOMEWHERE
    latitude, longitude, elevation, zone = locate(place)
    return THERE.format(
        place=place, latitude=f"{latitude:.4f}", longitude=f"{longitude:.4f}", zone=zone,
        elevation=f"{elevation or 0:.0f}{'' if elevation is not None else NO_HEIGHT}",
    )  # fmt: skip
