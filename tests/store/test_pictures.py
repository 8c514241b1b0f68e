"""Photographs on their way in: upright, without where and when, as a screen means their colours; or a sentence."""

from __future__ import annotations

import io
import random
from pathlib import Path

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from shopledger.quantities.errors import LedgerError, Trouble, Typed
from shopledger.store.pictures import MOST_BYTES, small_picture, tidy_picture
from shopledger.store.prepared import prepare_picture, read_photograph
from tests.helpers.photographs import (
    BLUE,
    GREEN,
    GREY,
    RED,
    bomb,
    exif,
    file_of,
    held,
    near,
    photograph,
    quarters,
    seen,
)

UPRIGHT = [RED, GREEN, BLUE, GREY]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_however_the_camera_was_held_the_photograph_is_upright(orientation: int, kind: str) -> None:
    stored = file_of(held(orientation), kind, exif=exif(orientation))
    tidy = tidy_picture(stored)
    with Image.open(io.BytesIO(tidy)) as image:
        assert image.size == (48, 32)
        assert 0x0112 not in image.getexif()
    assert all(near(one, other, 20) for one, other in zip(seen(tidy), UPRIGHT, strict=True))


def test_an_orientation_that_there_isnt_is_passed_over() -> None:
    for orientation in (0, 9, 4711):
        kept = seen(tidy_picture(photograph(orientation=orientation)))
        assert all(near(*pair) for pair in zip(kept, UPRIGHT, strict=True))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_where_when_and_by_whom_is_gone(kind: str) -> None:
    telling = b"<x:xmpmeta>54.47 north</x:xmpmeta>"
    how: dict[str, object] = {"exif": exif(position=True), "xmp": telling}
    if kind == "JPEG":
        how["comment"] = b"54.47 north"
    if kind == "PNG":
        told = PngImagePlugin.PngInfo()
        told.add_text("Comment", "54.47 north")
        told.add_itxt("XML:com.adobe.xmp", telling.decode())
        how = {"exif": exif(position=True), "pnginfo": told}
    content = file_of(quarters(), kind, **how)
    with Image.open(io.BytesIO(content)) as image:
        assert image.getexif().get_ifd(0x8825)[1] == "N"
    assert b"54.47 north" in content
    tidy = tidy_picture(content)
    with Image.open(io.BytesIO(tidy)) as image:
        image.load()
        assert dict(image.getexif()) == {}
        assert image.getexif().get_ifd(0x8825) == {}
        assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    for words in (b"54.47", b"Camera of nobody", b"2026:03:04", b"xmp", b"Exif"):
        assert words not in tidy


def _sixteen_bits() -> bytes:
    image = Image.new("I;16", (48, 32))
    for x in range(48):
        for y in range(32):
            image.putpixel((x, y), 20_000 if x < 24 else 50_000)
    return file_of(image, "PNG")


def _palette(transparent: bool) -> bytes:
    image = quarters().quantize(4)
    corner = image.getpixel((40, 28))
    return file_of(image, "PNG", **({"transparency": corner} if transparent else {}))


def _moving(kind: str) -> bytes:
    first, *others = quarters(), Image.new("RGB", (48, 32), "white"), Image.new("RGB", (48, 32), "black")
    return file_of(first, kind, save_all=True, append_images=others, duration=100)


@pytest.mark.parametrize(
    ("content", "kind", "mode"),
    [
        (file_of(quarters()), "JPEG", "RGB"),
        (file_of(quarters(), progressive=True), "JPEG", "RGB"),
        (file_of(quarters().convert("CMYK")), "JPEG", "RGB"),
        (file_of(quarters().convert("L")), "JPEG", "RGB"),
        (file_of(quarters(), "MPO", save_all=True, append_images=[quarters()]), "JPEG", "RGB"),
        (file_of(quarters(), "WEBP"), "JPEG", "RGB"),
        (file_of(quarters(), "WEBP", lossless=True), "JPEG", "RGB"),
        (_moving("WEBP"), "JPEG", "RGB"),
        (file_of(quarters(), "PNG"), "PNG", "RGB"),
        (_moving("PNG"), "PNG", "RGB"),
        (file_of(quarters().convert("RGBA"), "PNG"), "PNG", "RGB"),
        (_palette(False), "PNG", "RGB"),
        (_palette(True), "PNG", "RGBA"),
        (_sixteen_bits(), "PNG", "RGB"),
        (file_of(quarters().convert("1"), "PNG"), "PNG", "RGB"),
    ],
    ids=[
        "jpeg", "progressive", "cmyk", "grey", "two in one", "webp", "lossless webp", "moving webp", "png",
        "moving png", "opaque alpha", "palette", "palette with a hole", "16 bits", "black and white",
    ],
)  # fmt: skip
def test_every_sort_of_photograph_is_kept_at_full_size_as_one_picture(
    content: bytes, kind: str, mode: str
) -> None:
    tidy = tidy_picture(content)
    with Image.open(io.BytesIO(tidy)) as image:
        assert (image.format, image.mode, image.size) == (kind, mode, (48, 32))
        assert getattr(image, "n_frames", 1) == 1
    assert tidy_picture(content) == tidy, "the same photograph is stored once"


def test_colours_stay_what_they_were() -> None:
    for content in (
        file_of(quarters(), "PNG"),
        file_of(quarters().convert("CMYK")),
        file_of(quarters(), "WEBP"),
        _moving("WEBP"),
        _palette(False),
    ):
        assert all(
            near(one, other, 20) for one, other in zip(seen(tidy_picture(content)), UPRIGHT, strict=True)
        )


def test_sixteen_bits_are_turned_to_eight_and_not_cut_off() -> None:
    # 20,000 and 50,000 of 65,535 are 77.8 and 194.6 of 255.
    dark, bright, *_ = seen(tidy_picture(_sixteen_bits()))
    assert near(dark, (78, 78, 78), 1)
    assert near(bright, (195, 195, 195), 1)


def test_what_can_be_seen_through_stays_so() -> None:
    image = quarters().convert("RGBA")
    image.putalpha(Image.linear_gradient("L").resize(image.size))
    with Image.open(io.BytesIO(tidy_picture(file_of(image, "WEBP", lossless=True)))) as kept:
        assert (kept.format, kept.mode) == ("PNG", "RGBA")
        assert kept.getchannel("A").getextrema()[0] < 10


def test_a_cameras_own_colours_are_turned_into_those_of_screens() -> None:
    # A grey between two kinds of white tells whether a profile was heeded: in L*a*b* with D50 there is no doubt.
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB"))
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    plain = file_of(quarters(), "PNG", icc_profile=srgb.tobytes())
    assert all(near(*pair, 1) for pair in zip(seen(tidy_picture(plain)), UPRIGHT, strict=True))
    for profile in (b"no profile", lab.tobytes(), b""):
        kept = seen(tidy_picture(file_of(quarters(), "PNG", icc_profile=profile)))
        assert all(near(*pair, 1) for pair in zip(kept, UPRIGHT, strict=True)), (
            "one that can't be used is passed over"
        )


def test_a_profile_that_swaps_red_and_green_is_heeded() -> None:
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile = bytearray(
        bytes(profile).replace(b"rXYZ", b"tmp_").replace(b"gXYZ", b"rXYZ").replace(b"tmp_", b"gXYZ")
    )
    own = (
        bytes(profile)
        .replace("sRGB".encode("utf-16-be"), "mine".encode("utf-16-be"))
        .replace(b"sRGB", b"mine")
    )
    kept = seen(tidy_picture(file_of(quarters(), "PNG", icc_profile=own)))
    assert kept[0][1] > kept[0][0], "what was red in the file is green"
    assert kept[1][0] > kept[1][1]


SAID = {
    "nothing": (b"", "front.jpg is empty: choose the file again."),
    "words": (b"words", "front.jpg is no photograph the ledger can keep: choose a PNG, JPEG or WebP file."),
    "another sort": (file_of(quarters(), "GIF"), "front.jpg is no photograph the ledger can keep"),
    "a bomb": (bomb(), "front.jpg has over 50 megapixels: choose a smaller photograph."),
    "a smaller bomb": (bomb(8_000, 6_251), "front.jpg has over 50 megapixels: choose a smaller photograph."),
    "one in between": (bomb(10_000, 9_000), "front.jpg has over 50 megapixels: choose a smaller photograph."),
    "a torn png": (file_of(quarters(400, 300), "PNG")[:600], "front.jpg is a broken photograph ("),
    "a torn jpeg": (photograph(width=400, height=300)[:2000], "front.jpg is a broken photograph ("),
    "a torn webp": (photograph("WEBP", 400, 300)[:600], "front.jpg is"),
    "too much": (b"\xff\xd8\xff" + bytes(MOST_BYTES), "front.jpg is over 64 MB: choose a smaller photograph."),
}  # fmt: skip


@pytest.mark.parametrize("what", SAID)
def test_what_is_no_photograph_is_told_in_one_sentence_about_its_file(what: str) -> None:
    content, words = SAID[what]
    with pytest.raises(Typed) as caught:
        tidy_picture(content, field="pictures[3]", name="front.jpg")
    sentence = caught.value.sentence()
    assert sentence.startswith(words)
    assert sentence.endswith(".")
    assert caught.value.field == "pictures[3]"


def test_without_a_name_it_is_the_file() -> None:
    with pytest.raises(Typed, match="The file is empty"):
        tidy_picture(b"")


def test_hostile_files_are_refused_in_words() -> None:
    # 500 files with bytes changed, cut off or put in: none comes to more than a sentence.
    seed = 20261126
    print("seed", seed)
    choose = random.Random(seed)
    whole = [photograph(kind, 60, 40) for kind in ("JPEG", "PNG", "WEBP")]
    kept = 0
    for n in range(500):
        content = bytearray(whole[n % 3])
        for _change in range(choose.randrange(1, 12)):
            at = choose.randrange(len(content))
            match choose.randrange(3):
                case 0:
                    content[at] = choose.randrange(256)
                case 1:
                    del content[at : at + choose.randrange(1, 40)]
                case _:
                    content[at:at] = choose.randbytes(choose.randrange(1, 9))
        try:
            tidy_picture(bytes(content))
        except Typed as error:
            assert error.sentence().endswith(".")
        else:
            kept += 1
    assert 0 < kept < 500


def test_a_small_one_fits_and_is_never_larger_than_the_photograph() -> None:
    content = tidy_picture(file_of(quarters(1200, 800)))
    for width, height, size in ((144, 144, (144, 96)), (400, 100, (150, 100)), (9000, 9000, (1200, 800))):
        small = small_picture(content, width, height)
        assert (small.width, small.height) == size
        assert len(small.colours) == 4 * size[0] * size[1]
    small = small_picture(content, 12, 12)
    assert near(tuple(small.colours[:4]), (*RED, 255))
    with pytest.raises(Typed):
        small_picture(b"no picture", 9, 9)


def test_a_prepared_one_waits_in_a_file_that_only_its_user_reads(tmp_path: Path) -> None:
    file = tmp_path / "front.jpg"
    file.write_bytes(photograph(orientation=6, width=300, height=200))
    folder = tmp_path / "waiting"
    folder.mkdir()
    prepared, small = prepare_picture(file, "front.jpg", folder, side=144)
    assert prepared.path.read_bytes() == tidy_picture(file.read_bytes())
    assert prepared.path.stat().st_mode & 0o777 == 0o600
    assert prepared.name == "front.jpg"
    assert (small.width, small.height) == (96, 144)
    again, _small = prepare_picture(file.read_bytes(), "copy.jpg", folder, side=144)
    assert (again.sha256, again.path != prepared.path) == (prepared.sha256, True)


def test_what_cant_be_read_is_told(tmp_path: Path) -> None:
    folder, empty, large = tmp_path / "Scans", tmp_path / "empty.jpg", tmp_path / "large.jpg"
    folder.mkdir()
    empty.write_bytes(b"")
    with large.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    refused: list[tuple[Path, type[LedgerError], str]] = [
        (folder, Typed, "Scans is a folder: choose the photographs in it."),
        (
            tmp_path / "gone.jpg",
            Trouble,
            "gone.jpg is no longer there: see where it went and choose it again.",
        ),
        (empty / "inside.jpg", Trouble, "inside.jpg can't be read (Not a directory): choose another file."),
        (large, Typed, "large.jpg is over 64 MB: choose a smaller photograph."),
        (Path("/dev/null"), Typed, "null is no file: choose a photograph."),
    ]
    for path, kind, words in refused:
        with pytest.raises(kind) as caught:
            read_photograph(path, field="pictures")
        assert (caught.value.sentence(), caught.value.field) == (words, "pictures")
    with pytest.raises(Typed, match=r"empty\.jpg is empty"):
        prepare_picture(empty, empty.name, tmp_path, side=9)
    fine = tmp_path / "fine.jpg"
    fine.write_bytes(photograph())
    with pytest.raises(Trouble, match=r"fine\.jpg can't be prepared in"):
        prepare_picture(fine, fine.name, tmp_path / "nowhere", side=9)
