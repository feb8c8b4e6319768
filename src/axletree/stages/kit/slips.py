"""What in this kit is possible but was hardly meant?

Each slip is a warning and refuses nothing. Thresholds are ours unless a source stands beside one.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.defaults import mount_defaults, tube_defaults
from axletree.kit.place.find import find_places, time_zone_at
from axletree.kit.place.near import (
    distance_km,
    hours_apart,
    is_far_inland,
    is_sea,
    nearest_place_km,
)
from axletree.kit.spelling import fold
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.sky.catalogue.objects import find

# Nobody lives nearer than that: the site may lie elsewhere. Or so near that it is meant.
FAR_KM, NEAR_KM = 100.0, 30.0
INLAND_KM = 150.0
# Of its focal length. A catadioptric folds it three times (common practice, no source).
SHORTEST_TUBE = {"newtonian": 0.2, "refractor": 0.2, "catadioptric": 0.1}
# Common practice, no source: more than twice the aperture in mm only makes the image dimmer.
MOST_POWER_PER_MM = 2.0
# A length is told in centimetres where ten times as much would be near to what is usual.
CENTIMETRES = (0.06, 0.16)
IN_CENTIMETRES = (
    "tube.length_mm", "tube.diameter_mm", "mount.tripod.top_height_mm",
    "mount.tripod.foot_radius_mm", "mount.head.shaft_length_mm", "mount.head.saddle_distance_mm",
)  # fmt: skip
LEAST_ZONE_H = 1.0


class KitSlipKind(Enum):
    """In which way is something hardly meant?"""

    LONGITUDE_SIGN = "longitude_sign"  # given, likely: degrees
    LATITUDE_SIGN = "latitude_sign"  # given, likely: degrees
    AT_SEA = "at_sea"  # given: km to the nearest place
    FAR_FROM_NAME = "far_from_name"  # given: km; name: of the place
    TIME_ZONE = "time_zone"  # given: hours; name: the zone there
    ELEVATION_ZERO = "elevation_zero"  # likely: farther than this from the sea, km
    SHORT_TUBE = "short_tube"  # given: mm; likely: focal length, mm
    CENTIMETRES = "centimetres"  # given: mm; likely: ten times that
    TOO_STRONG = "too_strong"  # given: magnification; likely: the most; name: the eyepiece
    NEVER_UP = "never_up"  # given: highest altitude; likely: lowest of the habits; name: the object
    OVERLOADED = "overloaded"  # given: carried, kg; likely: what the mount may carry, kg


@dataclass(frozen=True)
class KitSlip:
    """One of them, with its key; what `given`, `likely` and `name` mean stands beside its kind."""

    kind: KitSlipKind
    key: str
    given: float | None = None
    likely: float | None = None
    name: str = ""


def slips_of(kit: Kit) -> tuple[KitSlip, ...]:
    """Everything in a kit that was hardly meant; none in most."""
    return (
        *_place(kit), *_elevation(kit), *_lengths(kit), *_powers(kit), *_never_up(kit),
        *_load(kit),
    )  # fmt: skip


def _place(kit: Kit) -> Iterator[KitSlip]:
    """One slip of the coordinates at most, for the others would follow from it."""
    site = kit.site
    north, east = site.latitude_deg, (site.longitude_deg + 180.0) % 360.0 - 180.0
    zone_given = "site.time_zone" not in kit.guessed
    # Whoever keeps universal time may do so anywhere.
    universal = site.time_zone in ("UTC", "Etc/UTC")
    apart = 0.0 if universal else hours_apart(site.time_zone, north, east)
    zone_off = zone_given and apart >= LEAST_ZONE_H
    away = nearest_place_km(north, east)
    if zone_off or is_sea(north, east) or away > FAR_KM:
        for kind, key, given, there in (
            (KitSlipKind.LONGITUDE_SIGN, "site.longitude_deg", east, (north, -east)),
            (KitSlipKind.LATITUDE_SIGN, "site.latitude_deg", north, (-north, east)),
        ):
            fits = not zone_given or hours_apart(site.time_zone, *there) < LEAST_ZONE_H
            if abs(given) > 0.5 and fits and nearest_place_km(*there) < NEAR_KM < away:
                yield KitSlip(kind, key, given, -given)
                return
    if is_sea(north, east) and away > NEAR_KM:
        yield KitSlip(KitSlipKind.AT_SEA, "site.longitude_deg", away)
    elif zone_off:
        yield KitSlip(
            KitSlipKind.TIME_ZONE, "site.time_zone", apart, name=time_zone_at(north, east)
        )
    yield from _far_from_name(kit, north, east)


def _far_from_name(kit: Kit, north: float, east: float) -> Iterator[KitSlip]:
    """Only where the whole name of a place stands there, and every place of that name is far."""
    for key, words in (("site.place", kit.site.place or ""), ("site.name", kit.site.name)):
        if "site.latitude_deg" in kit.guessed or not fold(words) or any(map(str.isdigit, words)):
            continue
        same = [p for p in find_places(words, 50) if fold(p.name) == fold(words.split(",")[0])]
        if not same:
            continue
        km, name = min((distance_km(north, east, (p.latitude_deg, p.longitude_deg)), p.name)
                       for p in same)  # fmt: skip
        if km > FAR_KM:
            yield KitSlip(KitSlipKind.FAR_FROM_NAME, key, km, name=name)
            return


def _elevation(kit: Kit) -> Iterator[KitSlip]:
    site = kit.site
    if site.elevation_m == 0.0 and is_far_inland(site.latitude_deg, site.longitude_deg, INLAND_KM):
        yield KitSlip(KitSlipKind.ELEVATION_ZERO, "site.elevation_m", 0.0, INLAND_KM)


def _lengths(kit: Kit) -> Iterator[KitSlip]:
    tube, tripod, head = kit.tube, kit.mount.tripod, kit.mount.head
    usual = tube_defaults({"kind": tube.kind, "aperture_mm": tube.aperture_mm,
                           "focal_length_mm": tube.focal_length_mm})  # fmt: skip
    sized = mount_defaults({"size": kit.mount.size})
    known = {"tube": (tube, usual), "mount.tripod": (tripod, sized["tripod"]),
             "mount.head": (head, sized["head"])}  # fmt: skip
    small = set()
    for key in IN_CENTIMETRES:
        table, _, name = key.rpartition(".")
        part, guesses = known[table]
        given, likely = getattr(part, name), guesses[name]
        if key not in kit.guessed and CENTIMETRES[0] < given / likely < CENTIMETRES[1]:
            small.add(key)
            yield KitSlip(KitSlipKind.CENTIMETRES, key, given, 10.0 * given)
    key = "tube.length_mm"
    short = tube.length_mm < SHORTEST_TUBE[tube.kind] * tube.focal_length_mm
    if short and key not in small and key not in kit.guessed:
        yield KitSlip(KitSlipKind.SHORT_TUBE, key, tube.length_mm, tube.focal_length_mm)


def _powers(kit: Kit) -> Iterator[KitSlip]:
    """Of the eyepieces alone: with a Barlow lens too much is easily had and easily left."""
    most = MOST_POWER_PER_MM * kit.tube.aperture_mm
    for i, eyepiece in enumerate(kit.eyepieces):
        power = kit.tube.focal_length_mm / eyepiece.focal_length_mm
        if power > most:
            key = f"eyepiece[{i + 1}].focal_length_mm"
            yield KitSlip(KitSlipKind.TOO_STRONG, key, power, most, eyepiece.label)


def _never_up(kit: Kit) -> Iterator[KitSlip]:
    """By its culmination; Sun, Moon and planets come up everywhere people observe."""
    for words in kit.habits.must_see:
        try:
            found = find(words)
        except AxletreeError:
            continue  # one of the person's own objects, or refused where it is asked for
        if found.dec_deg is None:
            continue
        highest = 90.0 - abs(kit.site.latitude_deg - found.dec_deg)
        if highest < kit.habits.lowest_altitude_deg:
            yield KitSlip(KitSlipKind.NEVER_UP, "habits.must_see", highest,
                       kit.habits.lowest_altitude_deg, words)  # fmt: skip


def _load(kit: Kit) -> Iterator[KitSlip]:
    try:
        load = solve(kit, middle_eyepiece(eyepieces_of(kit))).load
    except AxletreeError:
        return  # told where the rig is drawn
    if load.fraction > 1.0:
        yield KitSlip(
            KitSlipKind.OVERLOADED, "mount.payload_limit_kg", load.carried_kg, load.limit_kg
        )
