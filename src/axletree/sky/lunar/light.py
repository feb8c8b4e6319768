"""How high does the Sun stand over each feature of the Moon, and which stand best in its light?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import wrap_180
from axletree.sky.lunar.features import FeatureKind, MoonFeature, feature_vectors, moon_features
from axletree.sky.lunar.nodding import MoonFace

# The Sun's height at which shadows model a feature; lower it drowns in them, higher it is flat
# (common practice, no source).
LOWEST_SUN_DEG, HIGHEST_SUN_DEG = 2.0, 12.0
BEST_SUN_DEG = 5.0
# Nearer than this to the edge of the disc a feature is squeezed to a third (ours).
LOWEST_EYE_DEG = 20.0
# Features nearer to each other than this share a field; the second is left to others (ours).
APART_DEG = 5.0
# These show by their shade, not by their shadows.
_FLAT = (FeatureKind.SEA, FeatureKind.BRIGHT_SPOT)


@dataclass(frozen=True)
class LitFeature:
    """A feature as it stands now. Degrees: heights of the Sun and of the observer over its ground,
    the former's error; `rising`: the Sun comes up there. `right_radii`, `up_radii` its place on the
    disc in radii, north up, right to the Moon's east (Mare Crisium)."""

    feature: MoonFeature
    sun_deg: float
    sun_error_deg: float
    rising: bool
    eye_deg: float
    right_radii: float
    up_radii: float


def shows_by_shadow(feature: MoonFeature) -> bool:
    """Whether low light brings the feature out (seas and bright spots show by their shade)."""
    return feature.kind not in _FLAT


def sun_heights_deg(face: MoonFace) -> Floats:
    """The Sun's height (its middle) over every feature of the list, (n, features), degrees."""
    return _heights_deg(face.to_sun)


def eye_heights_deg(face: MoonFace) -> Floats:
    """The observer's height over every feature, (n, features), degrees: 90 mid-disc, 0 edge."""
    return _heights_deg(face.to_observer)


def _heights_deg(toward: Floats) -> Floats:
    return np.asarray(np.degrees(np.arcsin(np.clip(toward @ feature_vectors().T, -1.0, 1.0))))


def sun_rises(face: MoonFace) -> Mask:
    """Where it is the feature's morning, (n, features)."""
    longitudes = np.array([f.longitude_deg for f in moon_features()])
    return np.asarray(wrap_180(longitudes - face.sun_longitude_deg[:, np.newaxis]) < 0.0)


def best_lit(face: MoonFace, k: int = 0, count: int = 5) -> tuple[LitFeature, ...]:
    """At most `count` features that stand best in the light at instant `k`, the best first.

    The Sun `LOWEST_SUN_DEG` to `HIGHEST_SUN_DEG` high, not near the edge of the disc, each in a
    field of its own; by rank, then by how near the Sun is to `BEST_SUN_DEG` (as a ratio). Around
    full and new Moon there may be none.
    """
    sun, eye, rises = sun_heights_deg(face)[k], eye_heights_deg(face)[k], sun_rises(face)[k]
    features, vectors = moon_features(), feature_vectors()
    good = [
        j
        for j, feature in enumerate(features)
        if LOWEST_SUN_DEG <= sun[j] <= HIGHEST_SUN_DEG
        and eye[j] >= LOWEST_EYE_DEG
        and shows_by_shadow(feature)
    ]
    good.sort(key=lambda j: (features[j].rank, abs(np.log(sun[j] / BEST_SUN_DEG))))
    chosen: list[int] = []
    for j in good:
        if all(vectors[j] @ vectors[other] < np.cos(np.radians(APART_DEG)) for other in chosen):
            chosen.append(j)
    right, up = _on_disc(face, k)
    return tuple(
        LitFeature(
            feature=features[j],
            sun_deg=float(sun[j]),
            sun_error_deg=features[j].error_deg,
            rising=bool(rises[j]),
            eye_deg=float(eye[j]),
            right_radii=float(right[j]),
            up_radii=float(up[j]),
        )
        for j in chosen[:count]
    )


def _on_disc(face: MoonFace, k: int) -> tuple[Floats, Floats]:
    """Places of all features on the disc, radii: to the Moon's east and north (from far)."""
    eye = face.to_observer[k]
    east = np.array([-eye[1], eye[0], 0.0]) / np.hypot(eye[0], eye[1])
    north = np.cross(eye, east)
    return feature_vectors() @ east, feature_vectors() @ north
