"""What picture files say, and what is refused; no file here is of a real camera."""

from __future__ import annotations

import gzip
import io
import struct
import sys
import zlib
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.pole.picture_files.exif import zone_of
from axletree.pole.picture_files.reading import read_picture
from axletree.pole.picture_files.shots import PictureFacts, shots_of

RAMP = np.linspace(0, 255, 300 * 200).reshape(200, 300)


def saved(file: Path, scene: np.ndarray, **how: object) -> Path:
    Image.fromarray(scene).save(file, **how)  # type: ignore[arg-type]
    return file


def refused(file: Path) -> str:
    with pytest.raises(AxletreeError) as error:
        read_picture(file)
    said = str(error.value)
    assert file.name in said
    assert "\n" not in said
    return said


def test_plain_pictures_come_as_their_light(tmp_path: Path) -> None:
    scene = RAMP.astype(np.uint8)
    for file in (saved(tmp_path / "a.png", scene), saved(tmp_path / "a.tif", scene)):
        found = read_picture(file)
        assert found.reduced == 1
        assert np.array_equal(found.grey, scene)
    colours = np.stack([scene] * 3, axis=-1)
    assert read_picture(saved(tmp_path / "c.png", colours)).grey == pytest.approx(RAMP, abs=1.0)


def test_sixteen_bits_stay_sixteen(tmp_path: Path) -> None:
    deep = (RAMP * 257).astype(np.uint16)
    assert np.array_equal(read_picture(saved(tmp_path / "a.png", deep)).grey, deep)
    assert np.array_equal(read_picture(saved(tmp_path / "a.tif", deep)).grey, deep)
    tifffile = pytest.importorskip("tifffile")
    tifffile.imwrite(tmp_path / "rgb.tif", np.stack([deep] * 3, axis=-1), photometric="rgb")
    assert read_picture(tmp_path / "rgb.tif").grey == pytest.approx(deep.astype(float), abs=1.0)


@pytest.mark.parametrize(
    ("package", "name", "body"),
    [
        ("rawpy", "a.nef", b"MM\0*"),
        ("pi_heif", "a.heic", b"\0\0\0\x18ftypheic"),
    ],
)
def test_without_the_extra_a_sentence_says_how_to_get_a_jpeg(
    package: str, name: str, body: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    (tmp_path / name).write_bytes(body + bytes(60))
    said = refused(tmp_path / name)
    assert "axletree[pictures]" in said
    assert "JPEG" in said


def test_a_deep_tiff_without_the_extra_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tifffile = pytest.importorskip("tifffile")
    deep = np.zeros((200, 300, 3), np.uint16)
    tifffile.imwrite(tmp_path / "rgb.tif", deep, photometric="rgb")
    monkeypatch.setitem(sys.modules, "tifffile", None)
    assert "save it as JPEG" in refused(tmp_path / "rgb.tif")


def test_a_large_jpeg_is_decoded_reduced(tmp_path: Path) -> None:
    scene = np.tile(RAMP.astype(np.uint8), (12, 14))
    found = read_picture(saved(tmp_path / "a.jpg", scene, quality=90))
    assert found.reduced == 2
    assert found.size_px == (2100, 1200)
    halves = scene.reshape(1200, 2, 2100, 2).mean(axis=(1, 3))
    assert np.median(np.abs(found.grey - halves)) < 2.0


def test_a_fits_file_comes_with_its_zero_and_scale(tmp_path: Path) -> None:
    cards = {
        "SIMPLE": "T", "BITPIX": "16", "NAXIS": "2", "NAXIS1": "300", "NAXIS2": "200",
        "BZERO": "32768", "DATE-OBS": "'2026-12-05T20:30:00'", "EXPTIME": "4.0",
        "FOCALLEN": "40.0", "XPIXSZ": "3.76",
    }  # fmt: skip
    header = "".join(f"{k:<8}= {v:>20}".ljust(80) for k, v in cards.items()) + "END".ljust(80)
    light = (RAMP * 200).astype(np.int64)
    body = (light - 32768).astype(">i2").tobytes()
    blocks = header.ljust(2880).encode() + body + bytes(-len(body) % 2880)
    (tmp_path / "a.fits").write_bytes(blocks)
    found = read_picture(tmp_path / "a.fits")
    assert np.array_equal(found.grey, light)
    (shot,) = shots_of([found], PictureFacts(), demo_kit("courtyard"))
    assert shot.middle.to_datetimes()[0] == datetime(2026, 12, 5, 20, 30, 2, tzinfo=UTC)
    assert shot.focal_px == pytest.approx(40_000.0 / 3.76)
    (tmp_path / "b.fits").write_bytes(blocks[:20000])
    assert "cut off" in refused(tmp_path / "b.fits")
    packed = gzip.compress(blocks)
    (tmp_path / "c.fits.gz").write_bytes(packed)
    assert np.array_equal(read_picture(tmp_path / "c.fits.gz").grey, light)
    (tmp_path / "d.fits.gz").write_bytes(packed[: len(packed) // 2])
    assert refused(tmp_path / "d.fits.gz") == "d.fits.gz: the packed file is cut off or damaged"


def test_a_fits_header_that_lies_is_read_or_refused(tmp_path: Path) -> None:
    def file(**cards: object) -> Path:
        held = {"SIMPLE": "T", "BITPIX": 8, "NAXIS": 2, "NAXIS1": 300, "NAXIS2": 200, **cards}
        header = "".join(f"{k:<8}= {v:>20}".ljust(80) for k, v in held.items()) + "END".ljust(80)
        (tmp_path / "a.fits").write_bytes(header.ljust(2880).encode() + bytes([7]) * 63360)
        return tmp_path / "a.fits"

    assert read_picture(file(PCOUNT=100)).grey.shape == (200, 300)
    assert "no picture in this FITS file" in refused(file(NAXIS=10**12))


def test_what_is_no_picture_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_text("no picture")
    assert "no picture that can be read" in refused(tmp_path / "a.jpg")
    assert "no such file" in refused(tmp_path / "none.jpg")
    saved(tmp_path / "b.jpg", np.random.default_rng(1).integers(0, 255, (600, 900), np.uint8))
    body = (tmp_path / "b.jpg").read_bytes()
    (tmp_path / "b.jpg").write_bytes(body[: len(body) // 2])
    assert "cut off or damaged" in refused(tmp_path / "b.jpg")
    assert "too few" in refused(saved(tmp_path / "c.png", np.zeros((20, 30), np.uint8)))


def test_a_bomb_is_refused_before_it_is_unpacked(tmp_path: Path) -> None:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    # 25,000 x 20,000 pixels: 500 million, in a file of under two hundred bytes.
    head = struct.pack(">IIBBBBB", 25_000, 20_000, 8, 0, 0, 0, 0)
    body = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(100)))
    (tmp_path / "a.png").write_bytes(body)
    assert "more than the 100 million" in refused(tmp_path / "a.png")


def exif_jpeg(file: Path, tags: dict[int, object]) -> Path:
    held = Image.Exif()
    block = held.get_ifd(0x8769)
    block.update(tags)
    out = io.BytesIO()
    Image.fromarray(RAMP.astype(np.uint8)).save(out, "JPEG", exif=held)
    file.write_bytes(out.getvalue())
    return file


def test_exif_tells_when_and_through_what(tmp_path: Path) -> None:
    tags = {
        0x9003: "2026:12:05 21:30:00", 0x9011: "+01:00", 0x9291: "25", 0x829A: 8.0,
        0x920A: 50.0, 0xA405: 75,
    }  # fmt: skip
    said = read_picture(exif_jpeg(tmp_path / "a.jpg", tags)).taken
    assert said.begun is not None
    assert said.begun.astimezone(UTC) == datetime(2026, 12, 5, 20, 30, 0, 250_000, tzinfo=UTC)
    assert (said.exposure_s, said.focal_mm, said.focal_35_mm) == (8.0, 50.0, 75.0)
    picture = read_picture(tmp_path / "a.jpg")
    (shot,) = shots_of([picture], PictureFacts(), demo_kit("courtyard"))
    # CIPA DCG-001: 75 mm over 43.27 mm of diagonal, here 360.6 pixels.
    assert shot.focal_px == pytest.approx(75.0 / 43.267 * 360.56, rel=1e-3)
    assert shot.middle.to_datetimes()[0] == datetime(2026, 12, 5, 20, 30, 4, 250_000, tzinfo=UTC)


@pytest.mark.parametrize(
    ("tags", "words"),
    [
        ({}, "no time in it"),
        ({0x9003: "0000:00:00 00:00:00"}, "no time in it"),
        ({0x9003: "2026:12:05 21:30:00"}, "not in which zone"),
        ({0x9003: "0001:01:01 00:00:00", 0x9011: "+14:00"}, "no picture was"),
        ({0x9003: "9999:12:31 23:59:59", 0x9011: "-12:00"}, "no picture was"),
    ],
)
def test_times_that_lack_something_are_asked_for(
    tags: dict[int, object], words: str, tmp_path: Path
) -> None:
    picture = read_picture(exif_jpeg(tmp_path / "a.jpg", tags))
    with pytest.raises(AxletreeError, match=words):
        shots_of([picture], PictureFacts(field_deg=20.0), demo_kit("courtyard"))


def test_zones_of_exif() -> None:
    for text, minutes in (("+05:30", 330), ("-0300", -180), ("Z", 0)):
        zone = zone_of(text)
        assert zone is not None
        assert zone.utcoffset(None).total_seconds() == 60 * minutes
    assert zone_of("   :  ") is None
    assert zone_of("+99:00") is None
