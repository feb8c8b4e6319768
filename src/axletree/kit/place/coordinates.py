"""Which latitude and longitude does a person mean by these figures?

Public: ``parse_location(text)``.  Decimal and sexagesimal degrees, and geo URIs (RFC 5870).
"""

from __future__ import annotations

import re

from axletree.kit.errors import AxletreeError

Location = tuple[float, float, float | None]

_NUMBER = r"\d+(?:\.\d+)?"
_SIGNS = str.maketrans(
    {"−": "-", "–": "-", "º": "°", "˚": "°", "’": "'", "′": "'", "”": '"', "″": '"'}
)
_ELEVATION = re.compile(rf"([-+]?{_NUMBER})\s*(m|metres?|meters?|ft|feet)?", re.IGNORECASE)
_FOOT_M = 0.3048
_RIGHT = "write '38.57, -7.91', '38°34′15″N 7°54′36″W' or 'geo:38.57,-7.91'"


def parse_location(text: str) -> Location:
    """(latitude_deg, longitude_deg, elevation_m or None), north and east positive.

    Takes '38.57, -7.91', '38.57 -7.91 300 m', '38°34′15″N 7°54′36″W', '38 34 15 N 7 54 36 W',
    'N 38° 34.25′, W 7° 54.6′', '38d34m15s N 7d54m36s W' and a geo URI.  Letters decide the order;
    without them the latitude comes first.  The altitude of a geo URI is a height over the
    ellipsoid, taken here for the elevation (less than 110 m apart).
    Refuses what can't be read, minutes or seconds of 60, latitudes over 90, longitudes over 180.
    """
    clean = text.translate(_SIGNS).replace("''", '"').strip()
    if clean[:4].casefold() == "geo:":
        return _geo_uri(clean)
    clean = _unit_letters_to_signs(clean)
    letters = re.findall(r"[NSEWnsew](?![A-Za-z])", clean)
    if letters:
        latitude, longitude, rest = _split_by_letters(text, clean)
    else:
        latitude, longitude, rest = _split_without_letters(text, clean)
    return _checked(text, latitude, longitude, _elevation(text, rest))


def _geo_uri(uri: str) -> Location:
    """RFC 5870, section 3.3: geo:lat,lon[,altitude][;crs=wgs84][;u=metres][;other=value]."""
    coordinates, *parameters = uri[4:].split(";")
    for at, parameter in enumerate(parameters):
        name, _, value = parameter.partition("=")
        if name.casefold() == "crs" and (at != 0 or value.casefold() != "wgs84"):
            raise AxletreeError(
                f"{uri!r}: crs={value} can't be used: only crs=wgs84, first of the parameters"
            )
        if name.casefold() == "u" and not re.fullmatch(_NUMBER, value):
            raise AxletreeError(f"{uri!r}: u={value} must be a number of metres, 0 or more")
        if not re.fullmatch(r"[A-Za-z0-9-]+", name):
            raise AxletreeError(f"{uri!r}: {parameter!r} is no parameter: ';name=value' is")
    parts = coordinates.split(",")
    if len(parts) not in (2, 3) or not all(re.fullmatch(rf"-?{_NUMBER}", part) for part in parts):
        raise AxletreeError(f"{uri!r} is no geo URI: 'geo:38.57,-7.91' or 'geo:38.57,-7.91,300' is")
    values = [float(part) for part in parts]
    latitude, longitude, elevation = _checked(
        uri, values[0], values[1], values[2] if len(values) == 3 else None
    )
    # Section 3.4.2: at a pole every longitude is the same, and -180 is the same as 180.
    if abs(latitude) == 90:
        longitude = 0.0
    return latitude, 180.0 if longitude == -180 else longitude, elevation


def _unit_letters_to_signs(text: str) -> str:
    """'38d34m15s' and '38 deg 34 min' written with the usual signs."""
    pattern = (
        rf"({_NUMBER})\s*(?:degrees|deg|d)\s*"
        rf"(?:({_NUMBER})\s*(?:min|m)\s*(?:({_NUMBER})\s*(?:sec|s)(?![A-Za-z]))?)?"
    )

    def signs(match: re.Match[str]) -> str:
        return "".join(
            f"{value}{sign} " for value, sign in zip(match.groups(), "°'\"", strict=True) if value
        )

    return re.sub(pattern, signs, text, flags=re.IGNORECASE)


def _split_by_letters(text: str, clean: str) -> tuple[float, float, str]:
    body = r"([-+\d.°'\":,\s]*?)"
    after = re.fullmatch(rf"{body}([NSEW]){body}([NSEW])(?![A-Za-z])(.*)", clean, re.IGNORECASE)
    before = re.fullmatch(
        rf"([NSEW])\s*{body}[\s,;]*([NSEW])\s*([-+\d.°'\":\s]+)(,.*)?", clean, re.IGNORECASE
    )
    if after and after[1].strip(" ,") and after[3].strip(" ,;"):
        pairs = [(after[2], after[1]), (after[4], after[3])]
        rest = after[5]
    elif before:
        pairs = [(before[1], before[2]), (before[3], before[4])]
        rest = before[5] or ""
    else:
        raise AxletreeError(f"location {text!r} can't be read: {_RIGHT}")
    values: dict[str, float] = {}
    for letter, figures in pairs:
        if "-" in figures or "+" in figures:
            raise AxletreeError(f"location {text!r} has both a sign and a letter: keep one of them")
        value = _degrees(text, figures)
        kind = "latitude" if letter in "NSns" else "longitude"
        values[kind] = -value if letter in "SWsw" else value
    if len(values) != 2:
        raise AxletreeError(f"location {text!r} needs one of N, S and one of E, W: {_RIGHT}")
    return values["latitude"], values["longitude"], rest


def _split_without_letters(text: str, clean: str) -> tuple[float, float, str]:
    parts = [part.strip() for part in re.split(r"[,;]", clean)]
    if len(parts) in (2, 3):
        return _degrees(text, parts[0]), _degrees(text, parts[1]), "".join(parts[2:])
    words = clean.split()
    if len(parts) == 1 and len(words) in (4, 6) and not _ELEVATION.fullmatch(" ".join(words[2:])):
        half = len(words) // 2
        first, second = " ".join(words[:half]), " ".join(words[half:])
        return _degrees(text, first), _degrees(text, second), ""
    if len(parts) == 1 and len(words) >= 2:
        return _degrees(text, words[0]), _degrees(text, words[1]), " ".join(words[2:])
    raise AxletreeError(f"location {text!r} can't be read: {_RIGHT}")


def _degrees(text: str, figures: str) -> float:
    """Degrees from one, two or three figures with or without their signs."""
    match = re.fullmatch(
        rf"\s*([-+]?)\s*({_NUMBER})\s*°?(?:[:\s]*({_NUMBER})\s*'?(?:[:\s]*({_NUMBER})\s*\"?)?)?\s*",
        figures.strip(" ,;"),
    )
    if match is None:
        raise AxletreeError(f"location {text!r}: {figures.strip()!r} is no angle; {_RIGHT}")
    whole = [part for part in match.groups()[1:] if part is not None]
    if any("." in part for part in whole[:-1]):
        raise AxletreeError(f"location {text!r}: only the last figure of an angle has decimals")
    degrees, minutes, seconds = ([float(part) for part in whole] + [0.0, 0.0])[:3]
    if minutes >= 60 or seconds >= 60:
        raise AxletreeError(f"location {text!r}: minutes and seconds must be less than 60")
    value = degrees + minutes / 60 + seconds / 3600
    return -value if match[1] == "-" else value


def _elevation(text: str, rest: str) -> float | None:
    rest = rest.strip(" ,;")
    if not rest:
        return None
    match = _ELEVATION.fullmatch(rest)
    if match is None:
        raise AxletreeError(f"location {text!r}: {rest!r} is no elevation; write '300 m'")
    return float(match[1]) * (_FOOT_M if (match[2] or "m")[0].casefold() == "f" else 1.0)


def _checked(text: str, latitude: float, longitude: float, elevation: float | None) -> Location:
    if abs(latitude) > 90:
        raise AxletreeError(
            f"location {text!r}: latitude {latitude:g} is not on the Earth: -90 to 90 is"
        )
    if abs(longitude) > 180:
        raise AxletreeError(
            f"location {text!r}: longitude {longitude:g} must lie within -180 to 180, east positive"
        )
    return latitude, longitude, elevation
