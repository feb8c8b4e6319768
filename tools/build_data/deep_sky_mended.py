"""Which figures of the source are mended or filled, and with what?

``V``: integrated V magnitudes.  Globular clusters after W. E. Harris, A Catalog of Parameters for
Globular Clusters in the Milky Way, AJ 112, 1487 (1996), edition of December 2010, written down
from memory: the source's values are up to 2 mag off for them (Omega Centauri 5.33, M10 4.98).
The others are the usual figures of handbooks, from memory, where the source has none, or a V
fainter than B.
``OTHER``: facts of another column, from memory.
"""

from __future__ import annotations

GLOBULARS = {
    104: 3.95, 288: 8.09, 362: 6.40, 1261: 8.29, 1851: 7.14, 1904: 7.73, 2298: 9.29, 2419: 10.41,
    2808: 6.20, 3201: 6.75, 4147: 10.32, 4372: 7.24, 4590: 7.84, 4833: 6.91, 5024: 7.61,
    5053: 9.47, 5139: 3.68, 5272: 6.19, 5286: 7.34, 5466: 9.04, 5634: 9.47, 5694: 10.17,
    5824: 9.09, 5897: 8.53, 5904: 5.65, 5927: 8.01, 5946: 9.61, 5986: 7.52, 6093: 7.33,
    6101: 9.16, 6121: 5.63, 6139: 8.99, 6144: 9.01, 6171: 7.93, 6205: 5.78, 6218: 6.70,
    6229: 9.39, 6235: 9.97, 6254: 6.60, 6266: 6.45, 6273: 6.77, 6284: 8.83, 6287: 9.35,
    6293: 8.22, 6304: 8.22, 6316: 8.43, 6325: 10.33, 6333: 7.72, 6341: 6.44, 6342: 9.66,
    6352: 7.96, 6355: 9.14, 6356: 8.25, 6362: 7.73, 6366: 9.20, 6388: 6.72, 6397: 5.73,
    6401: 9.45, 6402: 7.59, 6426: 11.01, 6440: 9.20, 6441: 7.15, 6453: 10.08, 6496: 8.54,
    6517: 10.23, 6522: 8.27, 6528: 9.60, 6535: 10.47, 6539: 9.33, 6541: 6.30, 6544: 7.77,
    6553: 8.06, 6558: 9.26, 6569: 8.55, 6584: 8.27, 6624: 7.87, 6626: 6.79, 6637: 7.64,
    6638: 9.02, 6642: 9.13, 6652: 8.62, 6656: 5.10, 6681: 7.87, 6712: 8.10, 6715: 7.60,
    6717: 9.28, 6723: 7.01, 6752: 5.40, 6760: 8.88, 6779: 8.27, 6809: 6.32, 6838: 8.19,
    6864: 8.52, 6934: 8.83, 6981: 9.27, 7006: 10.56, 7078: 6.20, 7089: 6.47, 7099: 7.19,
    7492: 11.29,
}  # fmt: skip

V = {f"NGC {number}": magnitude for number, magnitude in GLOBULARS.items()} | {
    "Double Cluster": 4.3, "Mel 25": 0.5, "Mel 111": 1.8, "IC 1396": 3.5, "IC 2602": 1.9,
    "NGC 253": 7.2, "NGC 281": 7.4, "NGC 869": 5.3, "NGC 884": 6.1, "NGC 1977": 7.0,
    "NGC 2146": 10.6, "NGC 2841": 9.2, "NGC 4051": 10.2, "NGC 4258": 8.4, "NGC 4374": 9.1,
    "NGC 4192": 10.1, "NGC 4303": 9.7, "NGC 4450": 10.1, "NGC 4501": 9.6, "NGC 4548": 10.2,
    "NGC 4565": 9.6, "NGC 4579": 9.7, "NGC 4636": 9.5, "NGC 4945": 8.8, "NGC 5005": 9.8,
    "NGC 4755": 4.2, "NGC 6193": 5.2, "NGC 6416": 5.7, "NGC 6514": 6.3, "NGC 6618": 6.0,
    "NGC 6694": 8.0, "NGC 6744": 8.6, "NGC 6774": 5.0, "NGC 6822": 8.8,
}  # fmt: skip

OTHER: dict[str, dict[str, str]] = {
    # The source gives the whole nebula complex; the Eagle itself is 35' by 28'.
    "NGC 6611": {"major_arcmin": "35", "minor_arcmin": "28"},
    # A region of ionised hydrogen, not the remnant of a supernova.
    "NGC 6334": {"kind": "emission nebula"},
}
