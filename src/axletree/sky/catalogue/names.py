"""Which spellings mean the same name?

Public: ``fold(text)``, ``fold_designation(text)``, ``GREEK``, ``GENITIVES``.
"""

from __future__ import annotations

import re
import unicodedata

from axletree.kit.spelling import fold

__all__ = ["GENITIVES", "GREEK", "fold", "fold_designation"]

# Letters of Bayer's designations: word, sign; the usual three-letter short forms are the word's
# first three letters except for the four listed apart.
GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ",
    "eta": "η", "theta": "θ", "iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν",
    "xi": "ξ", "omicron": "ο", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "upsilon": "υ",
    "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
}  # fmt: skip
_OTHER_SHORT_FORMS = {"ksi": "xi", "tet": "theta", "the": "theta", "ome": "omega", "omi": "omicron"}

# Three-letter constellation names of the IAU (1922) with the Latin genitive.
GENITIVES = {
    "And": "Andromedae", "Ant": "Antliae", "Aps": "Apodis", "Aql": "Aquilae", "Aqr": "Aquarii",
    "Ara": "Arae", "Ari": "Arietis", "Aur": "Aurigae", "Boo": "Bootis", "CMa": "Canis Majoris",
    "CMi": "Canis Minoris", "CVn": "Canum Venaticorum", "Cae": "Caeli", "Cam": "Camelopardalis",
    "Cap": "Capricorni", "Car": "Carinae", "Cas": "Cassiopeiae", "Cen": "Centauri",
    "Cep": "Cephei", "Cet": "Ceti", "Cha": "Chamaeleontis", "Cir": "Circini", "Cnc": "Cancri",
    "Col": "Columbae", "Com": "Comae Berenices", "CrA": "Coronae Australis",
    "CrB": "Coronae Borealis", "Crt": "Crateris", "Cru": "Crucis", "Crv": "Corvi",
    "Cyg": "Cygni", "Del": "Delphini", "Dor": "Doradus", "Dra": "Draconis", "Equ": "Equulei",
    "Eri": "Eridani", "For": "Fornacis", "Gem": "Geminorum", "Gru": "Gruis", "Her": "Herculis",
    "Hor": "Horologii", "Hya": "Hydrae", "Hyi": "Hydri", "Ind": "Indi", "LMi": "Leonis Minoris",
    "Lac": "Lacertae", "Leo": "Leonis", "Lep": "Leporis", "Lib": "Librae", "Lup": "Lupi",
    "Lyn": "Lyncis", "Lyr": "Lyrae", "Men": "Mensae", "Mic": "Microscopii", "Mon": "Monocerotis",
    "Mus": "Muscae", "Nor": "Normae", "Oct": "Octantis", "Oph": "Ophiuchi", "Ori": "Orionis",
    "Pav": "Pavonis", "Peg": "Pegasi", "Per": "Persei", "Phe": "Phoenicis", "Pic": "Pictoris",
    "PsA": "Piscis Austrini", "Psc": "Piscium", "Pup": "Puppis", "Pyx": "Pyxidis",
    "Ret": "Reticuli", "Scl": "Sculptoris", "Sco": "Scorpii", "Sct": "Scuti", "Ser": "Serpentis",
    "Sex": "Sextantis", "Sge": "Sagittae", "Sgr": "Sagittarii", "Tau": "Tauri",
    "Tel": "Telescopii", "TrA": "Trianguli Australis", "Tri": "Trianguli", "Tuc": "Tucanae",
    "UMa": "Ursae Majoris", "UMi": "Ursae Minoris", "Vel": "Velorum", "Vir": "Virginis",
    "Vol": "Volantis", "Vul": "Vulpeculae",
}  # fmt: skip


def fold_designation(text: str) -> str | None:
    """'α Lyrae', 'alp Lyr', 'Alpha Lyrae' -> 'alphalyr'; '61 Cygni' -> '61cyg'; None for others.

    A superscript or digit after the letter stays: 'α² Cap' -> 'alpha2cap'.  A single Latin
    letter keeps its capital, since 'd Cen' and 'D Cen' are two stars.
    """
    words = text.replace(".", " ").strip()
    match = re.fullmatch(r"(?:([^\W\d_]+)[\s-]*(\d*)|(\d+))\s+([^\W\d_][^\d]*)", _plain(words))
    if match is None:
        return None
    constellation = _CONSTELLATION_WORDS.get(fold(match[4]))
    if constellation is None:
        return None
    if match[3]:
        return f"{int(match[3])}{constellation}"
    letter = _LETTER_WORDS.get(match[1].casefold(), match[1])
    if letter not in GREEK and len(letter) != 1:
        return None
    return f"{letter}{match[2].lstrip('0')}{constellation}"


def _plain(text: str) -> str:
    return unicodedata.normalize("NFKC", text)


_LETTER_WORDS = (
    {word: word for word in GREEK}
    | {sign: word for word, sign in GREEK.items()}
    | {word[:3]: word for word in GREEK if word not in ("theta", "omega", "omicron")}
    | _OTHER_SHORT_FORMS
)
_CONSTELLATION_WORDS = {
    fold(word): short.casefold()
    for short, genitive in GENITIVES.items()
    for word in (short, genitive)
}
