"""Which objects does everybody want to see, and how much?"""

from __future__ import annotations

# What a first look through any telescope should be: common practice, no source.
FIRST_LOOKS = frozenset(
    ("moon", "venus", "mars", "jupiter", "saturn", "M31", "M42", "M45", "M13", "M22", "M57", "M27",
     "M44", "M7", "M8", "M6", "M11", "M35", "M81", "M15", "M2", "M5", "M3", "M4", "M17", "M51",
     "M104", "M92", "M41", "M46", "M37", "M82", "Double Cluster", "NGC 5139", "NGC 104",
     "NGC 3372", "NGC 4755", "NGC 2070", "NGC 7662", "NGC 3242", "NGC 3532", "NGC 253", "NGC 2516",
     "NGC 3766", "NGC 5128", "NGC 6231", "NGC 6397", "NGC 6752", "Albireo", "Mizar", "Almach",
     "Castor", "Algieba", "Cor Caroli", "Acrux", "Rigil Kentaurus", "β Monocerotis",
     "γ² Velorum", "ε² Lyrae", "Izar", "ι Cancri")
)  # fmt: skip
# What people speak of for years: common practice, no source.
SPLENDID_LOOKS = frozenset(
    ("M31", "M42", "M45", "M13", "M22", "M57", "M44", "M7", "M8", "M11", "Double Cluster",
     "NGC 5139", "NGC 104", "NGC 3372", "NGC 4755", "NGC 2070", "Albireo", "Acrux",
     "Rigil Kentaurus")
)  # fmt: skip
# How well known an object is, 0 to 100 (ours).
SPLENDID, SHOWPIECE, OWN, FAMILIAR, LISTED = 100.0, 80.0, 60.0, 48.0, 20.0
