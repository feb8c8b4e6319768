"""What does the person own and where do they stand? One TOML file, read and checked as a whole."""

from __future__ import annotations

import difflib
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, Field, ValidationError, model_validator

from axletree.kit.defaults import fill, mount_defaults, tube_defaults
from axletree.kit.errors import AxletreeError
from axletree.kit.habits import Habits
from axletree.kit.lines import key_lines, line_of
from axletree.kit.mount import Mount
from axletree.kit.part import Part
from axletree.kit.site import Site, Yard
from axletree.kit.tube import Barlow, Camera, Eyepiece, Tube

KIT_VERSION = 1
LARGEST_FILE_BYTES = 512_000


class Kit(Part):
    """The person's site, mount, tube, accessories, eyepieces and habits.

    `guessed` holds the dotted names of values that were not given but filled from the mount's
    size or the tube's proportions.
    """

    kit_version: Literal[1] = 1
    name: str = "my kit"
    site: Site
    mount: Mount
    tube: Tube
    eyepieces: Annotated[tuple[Eyepiece, ...], Field(alias="eyepiece", min_length=1)]
    barlows: Annotated[tuple[Barlow, ...], Field(alias="barlow")] = ()
    camera: Camera | None = None
    habits: Habits = Habits()
    yard: Yard | None = None
    guessed: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _eyepieces_fit(self) -> Self:
        for i, eyepiece in enumerate(self.eyepieces):
            power = self.tube.focal_length_mm / eyepiece.focal_length_mm
            if power < 5:
                raise ValueError(
                    f"eyepiece {i + 1} ({eyepiece.focal_length_mm:g} mm) is too long for a focal "
                    f"length of {self.tube.focal_length_mm:g} mm: it would magnify only "
                    f"{power:.1f} times; eyepieces from 2.5 to 55 mm are usual"
                )
        return self


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong with a kit: where it stands and what would be right."""

    key: str
    message: str
    line: int | None = None

    def __str__(self) -> str:
        where = f"line {self.line}, " if self.line else ""
        return f"{where}{self.key}: {self.message}" if self.key else f"{where}{self.message}"


def _known_keys(path: tuple[str | int, ...]) -> list[str]:
    """Names that the table at `path` (without its last part) understands."""
    model: Any = Kit
    for part in path[:-1]:
        if isinstance(part, int):
            continue
        for name, field in model.model_fields.items():
            if part in (name, field.alias):
                model = _model_in(field.annotation)
                break
        else:
            return []
        if model is None:
            return []
    return [f.alias or n for n, f in model.model_fields.items() if n != "guessed"]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = _model_in(inner)
        if found is not None:
            return found
    return None


def _dotted(path: tuple[str | int, ...]) -> str:
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text


def _say(error: Any, path: tuple[str | int, ...]) -> str:
    """The words for one pydantic error."""
    kind, context = error["type"], error.get("ctx", {})
    given = error.get("input")
    if kind == "extra_forbidden":
        known = _known_keys(path)
        close = difflib.get_close_matches(str(path[-1]), known, n=1, cutoff=0.5)
        stem = str(path[-1]).rsplit("_", 1)[0]
        unit = [k for k in known if k.rsplit("_", 1)[0] == stem]
        hint = f"did you mean '{(unit or close)[0]}'?" if unit or close else (
            "known here: " + ", ".join(sorted(known)) if known else "no such table"
        )
        return f"unknown key; {hint}"
    if kind == "missing":
        return "is missing and cannot be guessed"
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        words = {
            "greater_than": ("must be more than", "gt"),
            "greater_than_equal": ("must be at least", "ge"),
            "less_than": ("must be less than", "lt"),
            "less_than_equal": ("must be at most", "le"),
        }
        phrase, name = words[kind]
        return f"{given!r} {phrase} {context[name]:g}{_unit_words(str(path[-1]))}"
    if kind == "value_error":
        return str(context["error"])
    if kind == "literal_error":
        return f"{given!r} is not one of {context['expected']}"
    if kind.startswith(("float", "int", "finite_number")):
        return f"{given!r} is not a number; write a plain number{_in_unit(str(path[-1]))}"
    if kind.startswith("string"):
        return f"{given!r} is not text in quotes"
    message = str(error["msg"])
    return message[:1].lower() + message[1:]


def _unit_words(key: str) -> str:
    for suffix, unit in (
        ("_deg", " degrees"), ("_mm", " millimetres"), ("_m", " metres"), ("_kg", " kilograms"),
        ("_s", " seconds"), ("_hpa", " hectopascal"), ("_c", " degrees Celsius"),
        ("_arcsec", " arcseconds"), ("_arcmin", " arcminutes"), ("_um", " micrometres"),
        ("_min", " minutes"), ("_h", " hours"),
    ):
        if key.endswith(suffix):
            return unit
    return ""


def _in_unit(key: str) -> str:
    unit = _unit_words(key)
    return f" in{unit}" if unit else ""


def _prepared(raw: dict[str, Any], problems: list[Problem]) -> dict[str, Any]:
    """The raw tables with place, zone and guessed dimensions filled in."""
    out = dict(raw)
    guessed: list[str] = []
    out.pop("guessed", None)
    if "guessed" in raw:
        problems.append(Problem("guessed", "unknown key; Axletree fills this in itself"))
    mount = raw.get("mount", {})
    if isinstance(mount, dict):
        out["mount"], names = fill(mount, mount_defaults(mount), "mount")
        guessed += names
    tube = raw.get("tube")
    if isinstance(tube, dict):
        out["tube"], names = fill(tube, tube_defaults(tube), "tube")
        guessed += names
    site = raw.get("site")
    if isinstance(site, dict):
        out["site"], names = _located(site, problems)
        guessed += names
    if "eyepiece" not in raw:
        out["eyepiece"] = [{"focal_length_mm": 25.0}, {"focal_length_mm": 10.0}]
        guessed.append("eyepiece")
    out["guessed"] = tuple(guessed)
    return out


def _located(site: dict[str, Any], problems: list[Problem]) -> tuple[dict[str, Any], list[str]]:
    """Fill coordinates from `place` (a name, coordinates or a geo: URI) and the zone from them."""
    out, guessed = dict(site), []
    place = site.get("place")
    if isinstance(place, str) and not {"latitude_deg", "longitude_deg"} <= site.keys():
        from axletree.kit.places import locate

        try:
            latitude, longitude, elevation, zone = locate(place)
        except AxletreeError as error:
            problems.append(Problem("site.place", str(error)))
            latitude, longitude, elevation, zone = 0.0, 0.0, None, "UTC"
        filled: dict[str, Any] = {"latitude_deg": latitude, "longitude_deg": longitude}
        if zone:
            filled["time_zone"] = zone
        if elevation is not None:
            filled["elevation_m"] = elevation
        out, guessed = fill(site, filled, "site")
    if "time_zone" not in out:
        latitude, longitude = out.get("latitude_deg"), out.get("longitude_deg")
        if (
            isinstance(latitude, (int, float))
            and isinstance(longitude, (int, float))
            and abs(latitude) <= 90
            and abs(longitude) <= 360
        ):
            from axletree.kit.places import time_zone_at

            out["time_zone"] = time_zone_at(float(latitude), float(longitude))
        else:
            out["time_zone"] = "UTC"
        guessed.append("site.time_zone")
    return out, guessed


def check_text(text: str) -> tuple[Kit | None, list[Problem]]:
    """The kit that the text holds, or None, and everything that is wrong with it."""
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, [Problem("", f"this is not TOML: {error}")]
    except RecursionError:
        return None, [Problem("", "this is not a kit: it is nested too deeply")]
    lines = key_lines(text)
    problems: list[Problem] = []
    prepared = _prepared(raw, problems)
    kit: Kit | None = None
    try:
        kit = Kit.model_validate(prepared)
    except ValidationError as error:
        fillable = not isinstance(raw.get("tube"), dict) or not tube_defaults(raw["tube"])
        given_tube = raw.get("tube") if isinstance(raw.get("tube"), dict) else {}
        for item in error.errors(include_url=False):
            path = tuple(p for p in item["loc"])
            if item["type"] == "missing" and fillable and path[:1] == ("tube",) and given_tube:
                # What would have been guessed once kind, aperture and focal length are right.
                if len(path) < 2 or path[1] not in ("kind", "aperture_mm", "focal_length_mm"):
                    continue
            if item["type"] == "missing" and path[:1] == ("mount",):
                if isinstance(raw.get("mount"), dict) and not mount_defaults(raw["mount"]):
                    continue
            problems.append(Problem(_dotted(path), _say(item, path), line_of(path, lines)))
    placed = [
        Problem(p.key, p.message, p.line or line_of(tuple(p.key.split(".")), lines))
        for p in problems
    ]
    return (kit if not placed else None), sorted(placed, key=lambda p: (p.line or 0, p.key))


def read_text(file: Path) -> str:
    """The text of a kit file, refused in one line when it cannot be read."""
    try:
        if file.is_file() and file.stat().st_size > LARGEST_FILE_BYTES:
            raise AxletreeError(f"{file}: larger than {LARGEST_FILE_BYTES // 1000} kB, not a kit")
        return file.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise AxletreeError(
            f"{file}: no such file; 'axletree kit new {file}' writes one to start from"
        ) from None
    except UnicodeDecodeError:
        raise AxletreeError(f"{file}: not a text file in UTF-8") from None
    except OSError as error:
        raise AxletreeError(f"{file}: cannot be read ({error.strerror})") from None


def load_kit(file: Path | str) -> Kit:
    """Read a kit file. The first problem is raised as an AxletreeError that counts the others."""
    path = Path(file)
    kit, problems = check_text(read_text(path))
    if kit is None:
        more = len(problems) - 1
        tail = f" (and {more} more; 'axletree kit check {path}' lists them)" if more else ""
        raise AxletreeError(f"{path}: {problems[0]}{tail}")
    return kit


def demo_text(name: str = "courtyard") -> str:
    """The text of a demo kit: 'courtyard' (Portugal) or 'paddock' (New Zealand)."""
    from importlib.resources import files

    file = files("axletree.kit") / "demo" / f"{name}.toml"
    if name not in DEMO_KITS or not file.is_file():
        raise AxletreeError(f"no demo kit '{name}'; there are: {', '.join(DEMO_KITS)}")
    return file.read_text(encoding="utf-8")


def demo_kit(name: str = "courtyard") -> Kit:
    """A demo kit, read and checked like any other."""
    kit, problems = check_text(demo_text(name))
    if kit is None:
        raise AxletreeError(f"demo kit '{name}': {problems[0]}")
    return kit


DEMO_KITS = ("courtyard", "paddock")
