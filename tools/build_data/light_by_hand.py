"""Which figures of light are entered by hand, because no open package carries them?

All from memory, rounded: good to a fifth. They tell how the light of an object gathers, not how
much of it there is.

``GALAXIES``: half-light radius along the long axis, arcminutes: effective apertures of G. de
Vaucouleurs et al. 1991, Third Reference Catalogue of Bright Galaxies, and disc scales of printed
surface photometry.
``GLOBULARS``: half-light radius, arcminutes, after W. E. Harris, A Catalog of Parameters for
Globular Clusters in the Milky Way, AJ 112, 1487 (1996), edition of December 2010.
``NEBULAE``: V of the light that the eye meets, lines and stars within it together; long and short
diameter of the part that holds half of it, arcminutes; profile index; whether it shines in lines.
The last two are ours, from descriptions of how these nebulae look.
"""

from __future__ import annotations

GALAXIES = {
    "NGC 55": 5.5, "NGC 147": 3.2, "NGC 185": 1.8, "NGC 205": 2.5, "NGC 221": 0.55,
    "NGC 224": 26.0, "NGC 247": 5.0, "NGC 253": 4.5, "NGC 300": 5.2, "NGC 598": 15.0,
    "NGC 628": 1.8, "NGC 891": 2.2, "NGC 1023": 1.0, "NGC 1068": 0.9, "NGC 1097": 2.0,
    "NGC 1232": 1.7, "NGC 1313": 2.0, "NGC 1316": 1.5, "NGC 1365": 2.4,
    "NGC 1399": 0.9, "NGC 2403": 4.0, "NGC 2683": 1.5, "NGC 2841": 1.5, "NGC 2903": 2.0,
    "NGC 3031": 3.1, "NGC 3034": 1.6, "NGC 3115": 0.9, "NGC 3184": 1.9, "NGC 3344": 1.6,
    "NGC 3351": 1.4, "NGC 3368": 1.3, "NGC 3379": 0.9, "NGC 3521": 1.9, "NGC 3556": 1.8,
    "NGC 3623": 1.4, "NGC 3627": 1.6, "NGC 3628": 2.5, "NGC 3953": 1.6, "NGC 3992": 1.9,
    "NGC 4125": 1.0, "NGC 4192": 2.3, "NGC 4214": 1.6, "NGC 4236": 5.0, "NGC 4244": 3.4,
    "NGC 4254": 1.3, "NGC 4258": 3.0, "NGC 4303": 1.4, "NGC 4321": 1.9, "NGC 4374": 0.9,
    "NGC 4382": 1.1, "NGC 4395": 3.8, "NGC 4406": 1.7, "NGC 4449": 1.2, "NGC 4472": 1.7,
    "NGC 4486": 1.6, "NGC 4490": 1.2, "NGC 4501": 1.55, "NGC 4548": 1.45, "NGC 4552": 0.65,
    "NGC 4559": 2.4, "NGC 4565": 2.6, "NGC 4569": 2.1, "NGC 4579": 1.4, "NGC 4594": 1.2,
    "NGC 4621": 0.7, "NGC 4631": 2.4, "NGC 4649": 1.2, "NGC 4656": 2.5, "NGC 4725": 2.5,
    "NGC 4736": 1.2, "NGC 4826": 1.6, "NGC 4945": 4.6, "NGC 5055": 2.2, "NGC 5128": 4.5,
    "NGC 5194": 2.4, "NGC 5195": 0.8, "NGC 5236": 2.6, "NGC 5457": 4.6, "NGC 5866": 0.9,
    "NGC 5907": 2.7, "NGC 6822": 4.5, "NGC 6946": 3.0, "NGC 7331": 1.7, "NGC 7793": 2.1,
    "IC 342": 6.0,
}  # fmt: skip

GLOBULARS = {
    "NGC 104": 3.17, "NGC 288": 2.23, "NGC 362": 0.82, "NGC 1261": 0.68, "NGC 1851": 0.51,
    "NGC 1904": 0.65, "NGC 2298": 0.98, "NGC 2419": 0.89, "NGC 2808": 0.80, "NGC 3201": 3.10,
    "NGC 4147": 0.48, "NGC 4372": 3.91, "NGC 4590": 1.51, "NGC 4833": 2.41, "NGC 5024": 1.31,
    "NGC 5053": 2.61, "NGC 5139": 5.00, "NGC 5272": 2.31, "NGC 5286": 0.73, "NGC 5466": 2.30,
    "NGC 5634": 0.86, "NGC 5694": 0.40, "NGC 5824": 0.45, "NGC 5897": 2.06, "NGC 5904": 1.77,
    "NGC 5927": 1.10, "NGC 5946": 0.89, "NGC 5986": 0.98, "NGC 6093": 0.61, "NGC 6101": 1.05,
    "NGC 6121": 4.33, "NGC 6139": 0.85, "NGC 6144": 1.63, "NGC 6171": 1.73, "NGC 6205": 1.69,
    "NGC 6218": 1.77, "NGC 6229": 0.36, "NGC 6235": 1.00, "NGC 6254": 1.95, "NGC 6266": 0.92,
    "NGC 6273": 1.32, "NGC 6284": 0.66, "NGC 6287": 0.74, "NGC 6293": 0.89, "NGC 6304": 1.42,
    "NGC 6316": 0.65, "NGC 6325": 0.63, "NGC 6333": 0.96, "NGC 6341": 1.02, "NGC 6342": 0.73,
    "NGC 6352": 2.05, "NGC 6355": 0.88, "NGC 6356": 0.81, "NGC 6362": 2.05, "NGC 6366": 2.92,
    "NGC 6388": 0.52, "NGC 6397": 2.90, "NGC 6401": 1.91, "NGC 6402": 1.30, "NGC 6426": 0.92,
    "NGC 6440": 0.48, "NGC 6441": 0.57, "NGC 6453": 0.44, "NGC 6496": 1.02, "NGC 6517": 0.50,
    "NGC 6522": 1.00, "NGC 6528": 0.38, "NGC 6535": 0.85, "NGC 6539": 1.70, "NGC 6541": 1.06,
    "NGC 6544": 1.21, "NGC 6553": 1.03, "NGC 6558": 2.15, "NGC 6569": 0.80, "NGC 6584": 0.73,
    "NGC 6624": 0.82, "NGC 6626": 1.97, "NGC 6637": 0.84, "NGC 6638": 0.51, "NGC 6642": 0.73,
    "NGC 6652": 0.48, "NGC 6656": 3.36, "NGC 6681": 0.71, "NGC 6712": 1.33, "NGC 6715": 0.82,
    "NGC 6717": 0.68, "NGC 6723": 1.53, "NGC 6752": 1.91, "NGC 6760": 1.27, "NGC 6779": 1.10,
    "NGC 6809": 2.83, "NGC 6838": 1.67, "NGC 6864": 0.46, "NGC 6934": 0.69, "NGC 6981": 0.93,
    "NGC 7006": 0.44, "NGC 7078": 1.00, "NGC 7089": 1.06, "NGC 7099": 1.03, "NGC 7492": 1.15,
}  # fmt: skip

# identifier: V, long and short diameter of the half, profile index, in lines
NEBULAE: dict[str, tuple[float, float, float, float, bool]] = {
    "NGC 1976": (4.0, 8.0, 7.0, 2.0, True),  # with the stars within, as the bare eye adds them
    "NGC 1982": (7.0, 4.0, 3.5, 1.5, True),
    "NGC 1977": (6.6, 16.0, 8.0, 1.0, False),
    "NGC 2024": (8.0, 13.0, 11.0, 1.0, True),
    "NGC 2068": (8.0, 4.0, 3.0, 1.0, False),
    "NGC 2071": (9.3, 3.5, 3.0, 1.0, False),
    "NGC 1788": (9.2, 2.5, 2.0, 1.0, False),
    "NGC 1952": (8.4, 3.6, 2.4, 0.5, True),
    "NGC 1499": (5.5, 100.0, 24.0, 0.5, True),
    "NGC 1333": (9.3, 3.5, 3.0, 1.0, False),
    "NGC 1491": (9.5, 4.0, 3.0, 1.0, True),
    "NGC 1931": (9.8, 2.0, 2.0, 1.0, True),
    "IC 405": (8.0, 18.0, 10.0, 1.0, True),
    "IC 410": (8.5, 22.0, 18.0, 0.5, True),
    "NGC 2174": (7.5, 18.0, 14.0, 1.0, True),
    "NGC 2237": (5.5, 56.0, 52.0, 0.5, True),
    "NGC 2261": (9.5, 0.9, 0.6, 1.0, False),
    "NGC 2264": (3.9, 12.0, 8.0, 1.0, True),
    "NGC 2359": (8.7, 6.0, 4.0, 0.8, True),
    "IC 2177": (7.5, 70.0, 14.0, 0.5, True),
    "NGC 2467": (7.1, 5.0, 4.0, 1.0, True),
    "NGC 281": (7.6, 17.0, 14.0, 0.8, True),
    "IC 1805": (6.8, 44.0, 40.0, 0.5, True),
    "IC 1848": (7.0, 50.0, 28.0, 0.5, True),
    "NGC 896": (9.0, 8.0, 5.0, 1.0, True),
    "NGC 7635": (9.5, 5.0, 3.0, 1.0, True),
    "NGC 7380": (7.2, 13.0, 12.0, 0.8, True),
    "NGC 7023": (7.0, 4.0, 3.5, 1.5, False),
    "IC 5146": (9.3, 7.0, 6.0, 0.8, True),
    "IC 5070": (6.8, 34.0, 28.0, 0.5, True),
    "NGC 7000": (4.5, 66.0, 48.0, 0.5, True),
    "NGC 6888": (8.4, 11.0, 7.0, 0.5, True),
    "NGC 6960": (7.4, 38.0, 3.5, 0.5, True),
    "NGC 6992": (7.0, 36.0, 5.0, 0.5, True),
    "NGC 6995": (7.4, 9.0, 7.0, 0.5, True),
    "NGC 6514": (6.3, 9.0, 8.0, 1.0, True),
    "NGC 6523": (4.3, 18.0, 12.0, 1.5, True),
    "NGC 6611": (6.0, 12.0, 10.0, 0.8, True),
    "NGC 6618": (6.0, 8.0, 3.5, 1.2, True),
    "NGC 6334": (7.8, 20.0, 14.0, 0.5, True),
    "NGC 6357": (8.0, 16.0, 10.0, 0.8, True),
    "NGC 6559": (8.8, 5.0, 3.0, 1.0, True),
    "NGC 6188": (6.5, 14.0, 8.0, 1.0, True),
    "NGC 6193": (5.2, 8.0, 7.0, 1.0, True),
    "NGC 3372": (3.0, 34.0, 28.0, 1.0, True),
    "NGC 3324": (6.7, 8.0, 7.0, 1.0, True),
    "NGC 3576": (8.8, 2.5, 2.0, 1.0, True),
    "NGC 3581": (8.8, 3.0, 2.5, 1.0, True),
    "NGC 3603": (9.0, 2.0, 2.0, 1.2, True),
    "IC 2944": (4.5, 36.0, 24.0, 0.5, True),
    "NGC 2070": (5.0, 8.0, 7.0, 1.2, True),
    "NGC 2080": (9.5, 1.2, 1.0, 1.0, True),
    "NGC 1763": (8.3, 3.5, 3.0, 1.0, True),
    "NGC 1966": (8.5, 5.0, 4.0, 1.0, True),
    "NGC 346": (9.5, 3.0, 2.5, 1.2, True),
    "NGC 604": (11.0, 0.9, 0.7, 1.0, True),
    "NGC 6853": (7.4, 5.0, 3.8, 0.5, True),
    "NGC 7293": (7.3, 10.0, 8.0, 0.5, True),
    "NGC 650": (10.1, 1.3, 0.7, 0.5, True),
    "NGC 246": (10.4, 2.6, 2.4, 0.5, True),
    "IC 4604": (7.0, 20.0, 14.0, 1.0, False),
    "NGC 1435": (6.8, 14.0, 12.0, 1.0, False),
}  # fmt: skip

# The same of clouds of stars. Of the Milky Way's from their surface brightness, 20.3 in V above the
# sky; the double cluster from its stars to V 10 (4.25), the fainter ones guessed.
CLOUDS: dict[str, tuple[float, float, float, float]] = {
    "IC 4715": (2.9, 62.0, 30.0, 0.5),
    "Double Cluster": (4.0, 28.0, 14.0, 0.5),
}
