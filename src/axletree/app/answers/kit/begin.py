"""How does a newcomer's kit come about from five answers?"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.kit.kit import checked, drawing_of
from axletree.kit.place.find import Place
from axletree.stages.kit.place import PlaceRequest, place

router = APIRouter(prefix="/answer/kit")
MOST_PLACES = 6
Millimetres = Annotated[float, Field(gt=0, le=10_000)]


class New(BaseModel):
    """The few values that a new kit begins with."""

    name: Annotated[str, Field(max_length=80)] = "my kit"
    place: Annotated[str, Field(max_length=120)] = ""
    kind: Literal["newtonian", "refractor", "catadioptric"] = "newtonian"
    aperture_mm: Millimetres = 130.0
    focal_length_mm: Millimetres = 650.0
    size: Literal["small", "middle", "large"] = "middle"
    motion: Literal["hand", "motor"] = "hand"
    eyepieces_mm: Annotated[list[Millimetres], Field(min_length=1, max_length=12)] = [25.0, 10.0]
    barlow: Annotated[float, Field(gt=1, le=5)] | None = None
    observer: Literal["newcomer", "practised", "expert"] = "practised"
    audience: Literal["alone", "family", "class", "public"] | None = None
    visitors: Annotated[int, Field(ge=0, le=500)] = 0


@router.post("/new")
def new(new: New) -> dict[str, Any]:
    """A new kit's text, what is wrong with it, how its rig looks and how much of it is guessed."""
    from axletree.kit.writing.template import NewKit, text_of

    given = new.model_dump()
    text = text_of(NewKit(**{
        **given, "name": new.name or "my kit", "place": new.place or None,
        "eyepieces_mm": tuple(new.eyepieces_mm),
    }))  # fmt: skip
    found = checked(text)
    return {
        "text": text,
        "problems": [{"key": p.key, "message": p.message} for p in found.problems],
        **drawing_of(found.kit),
        "guessed": len(found.guesses) if found.kit else None,
    }


@router.get("/places")
def places(q: Annotated[str, Field(max_length=120)]) -> dict[str, Any]:
    """The places that a name may mean, best first; `place` is what a new kit is given."""
    found = place(PlaceRequest(q, MOST_PLACES))
    point = found.point
    if point is not None:
        return {"places": [], "point": {
            "latitude_deg": point.latitude_deg, "longitude_deg": point.longitude_deg,
            "place": q,
        }}  # fmt: skip
    return {"places": [_row(p) for p in found.places], "point": None}


def _row(found: Place) -> dict[str, Any]:
    height = "" if found.elevation_m is None else f",{found.elevation_m:.0f}"
    return {
        "name": found.name, "region": found.region, "country": found.country,
        "latitude_deg": found.latitude_deg, "longitude_deg": found.longitude_deg,
        "place": f"geo:{found.latitude_deg:.4f},{found.longitude_deg:.4f}{height}",
    }  # fmt: skip


@router.get("/mounts")
def mounts(desk: OnDesk) -> dict[str, Any]:
    """The three sizes of mount: how each looks, what it weighs and may carry (kilograms)."""
    rows: list[dict[str, Any]] = desk.cached("mounts", _mounts)
    return {"mounts": rows}


def _mounts() -> list[dict[str, Any]]:
    from axletree.kit.parts.defaults import SIZES
    from axletree.tell.kit.mounts_drawing import MOUNT_SIZES, mount_drawing

    rows = []
    for size in MOUNT_SIZES:
        own = SIZES[size]
        head = own["head"]
        masses = ("fixed_mass_kg", "moving_mass_kg", "shaft_mass_kg")
        rows.append(
            {
                "size": size,
                "drawing": mount_drawing(size),
                "head_kg": sum(head[key] for key in masses),
                "tripod_kg": own["tripod"]["mass_kg"],
                "payload_kg": own["payload_limit_kg"],
            }
        )
    return rows
