"""In which order does a person fill in a kit, and which values are enough to begin?"""

from __future__ import annotations

GROUPS = (
    "site",
    "site.skyline",
    "tube",
    "tube.finder",
    "tube.accessory",
    "eyepiece",
    "barlow",
    "camera",
    "mount",
    "mount.tripod",
    "mount.head",
    "mount.weight",
    "mount.polar_scope",
    "mount.bolts",
    "mount.gears",
    "mount.circles",
    "mount.travel",
    "mount.motor",
    "habits",
    "habits.break",
    "habits.satellite",
)
# Enough to begin with; everything else can be guessed from these.
FIRST = (
    "site.place", "site.latitude_deg", "site.longitude_deg",
    "tube.kind", "tube.aperture_mm", "tube.focal_length_mm", "mount.size",
)  # fmt: skip
