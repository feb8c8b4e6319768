"""What is a constellation called, from its three letters?

The 88 names and abbreviations of the International Astronomical Union (1922, 1930).
"""

from __future__ import annotations

_TABLE = """
And Andromeda;Ant Antlia;Aps Apus;Aqr Aquarius;Aql Aquila;Ara Ara;Ari Aries;Aur Auriga;
Boo Boötes;Cae Caelum;Cam Camelopardalis;Cnc Cancer;CVn Canes Venatici;CMa Canis Major;
CMi Canis Minor;Cap Capricornus;Car Carina;Cas Cassiopeia;Cen Centaurus;Cep Cepheus;Cet Cetus;
Cha Chamaeleon;Cir Circinus;Col Columba;Com Coma Berenices;CrA Corona Australis;
CrB Corona Borealis;Crv Corvus;Crt Crater;Cru Crux;Cyg Cygnus;Del Delphinus;Dor Dorado;
Dra Draco;Equ Equuleus;Eri Eridanus;For Fornax;Gem Gemini;Gru Grus;Her Hercules;Hor Horologium;
Hya Hydra;Hyi Hydrus;Ind Indus;Lac Lacerta;Leo Leo;LMi Leo Minor;Lep Lepus;Lib Libra;Lup Lupus;
Lyn Lynx;Lyr Lyra;Men Mensa;Mic Microscopium;Mon Monoceros;Mus Musca;Nor Norma;Oct Octans;
Oph Ophiuchus;Ori Orion;Pav Pavo;Peg Pegasus;Per Perseus;Phe Phoenix;Pic Pictor;Psc Pisces;
PsA Piscis Austrinus;Pup Puppis;Pyx Pyxis;Ret Reticulum;Sge Sagitta;Sgr Sagittarius;Sco Scorpius;
Scl Sculptor;Sct Scutum;Ser Serpens;Sex Sextans;Tau Taurus;Tel Telescopium;Tri Triangulum;
TrA Triangulum Australe;Tuc Tucana;UMa Ursa Major;UMi Ursa Minor;Vel Vela;Vir Virgo;Vol Volans;
Vul Vulpecula
"""
NAMES: dict[str, str] = dict(
    entry.strip().split(" ", 1) for entry in _TABLE.strip().split(";") if entry.strip()
)


def constellation_name(abbreviation: str | None) -> str | None:
    """The name in full; what is not an abbreviation comes back as it is."""
    return None if abbreviation is None else NAMES.get(abbreviation, abbreviation)
