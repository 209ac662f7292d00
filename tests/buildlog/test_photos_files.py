"""What is read of a picture and shown of it, and what is refused, on real bytes made by Pillow.

Markers of JPEG are those of ITU-T T.81 (09/92), table B.1; tags of EXIF those of CIPA DC-008, table 4 and 5.
"""

import io
import random
import zlib
from datetime import date, datetime

import pytest
from PIL import Image

from buildlog.picture_files import (
    BYTES_LIMIT,
    LARGE,
    SMALL,
    PictureError,
    copies_of,
    day_of,
    read_picture,
)
from tests.picture_files import CAMERA, exif_of, heif_head, noise, picture, segments

#: What a JPEG needs to be seen: JFIF's own head, tables, frame, scan. Of application segments only APP0.
NEEDED = {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
TAKEN = "2024:05:03 14:03:22"


def read(content: bytes):
    return read_picture(io.BytesIO(content), len(content))


def refusal(content: bytes, size: int | None = None) -> str:
    with pytest.raises(PictureError) as refused:
        read_picture(io.BytesIO(content), len(content) if size is None else size)
    return str(refused.value)


def opened(jpeg: bytes) -> Image.Image:
    return Image.open(io.BytesIO(jpeg))


# ---- what is read ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_picture_when_whole_then_its_kind_size_and_moment_are_read(kind):
    found = read(picture(kind, (60, 40), exif=exif_of(taken=TAKEN)))
    assert (found.kind, found.width, found.height) == (kind.lower(), 60, 40)
    assert found.taken == datetime(2024, 5, 3, 14, 3, 22)  # noqa: DTZ001  A camera's clock has no zone.


def test_picture_when_its_name_would_say_otherwise_then_the_bytes_decide():
    # Telephones write two pictures into one file, and call it a JPEG as well.
    written = io.BytesIO()
    Image.new("RGB", (60, 40)).save(written, "MPO", save_all=True, append_images=[Image.new("RGB", (60, 40))])
    assert read(written.getvalue()).kind == "jpeg"


@pytest.mark.parametrize(
    "taken", ["", "0000:00:00 00:00:00", "    :  :     :  :  ", "2024:13:03 10:00:00", "yesterday"]
)
def test_moment_when_the_clock_was_never_set_then_none(taken):
    assert read(picture(exif=exif_of(taken=taken))).taken is None


@pytest.mark.parametrize(
    ("taken", "found"),
    [
        (datetime(2024, 5, 3, 23, 59), date(2024, 5, 3)),  # noqa: DTZ001
        (datetime(2026, 3, 14, 23, 59), date(2026, 3, 14)),  # noqa: DTZ001
        (datetime(2026, 3, 15, 0, 0), None),  # noqa: DTZ001  Still to come.
        (datetime(1904, 1, 1, 0, 0), None),  # noqa: DTZ001  Where some cameras begin to count.
        (None, None),
    ],
)
def test_day_when_it_cannot_be_meant_then_left_aside(taken, found):
    assert day_of(taken, first=date(1950, 1, 1), last=date(2026, 3, 14)) == found


def test_moment_when_the_notes_are_damaged_then_the_picture_is_kept_all_the_same():
    content = bytearray(picture(exif=exif_of(taken=TAKEN)))
    place = content.index(b"2024:05:03")
    content[place - 40 : place] = bytes([0xFF]) * 40
    assert (read(bytes(content)).kind, read(bytes(content)).taken) == ("jpeg", None)


# ---- what is shown ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(4000, 3000), (3000, 4000), (500, 300), (5000, 10)])
def test_copies_when_made_then_within_their_limits_and_never_larger_than_the_picture(size):
    found = read(picture("PNG", size))
    for jpeg, limit in ((found.small, SMALL), (found.large, LARGE)):
        shown = opened(jpeg)
        assert max(shown.size) == min(limit, max(size))
        assert shown.size[0] / shown.size[1] == pytest.approx(size[0] / size[1], rel=0.25)


#: Which corner of the stored picture comes to the top left, by what CIPA DC-008 says of each orientation:
#: of 6 that row 0 is the visual right-hand side and column 0 the visual top, so the stored bottom left.
CORNERS = {1: "red", 2: "green", 3: "blue", 4: "white", 5: "red", 6: "white", 7: "blue", 8: "green"}
COLOURS = {"red": (255, 0, 0), "green": (0, 255, 0), "blue": (0, 0, 255), "white": (255, 255, 255)}


@pytest.mark.parametrize("turned", range(1, 9))
def test_copies_when_the_camera_was_held_otherwise_then_upright(turned):
    image = Image.new("RGB", (80, 40))
    for name, place in (("red", (0, 0)), ("green", (40, 0)), ("blue", (40, 20)), ("white", (0, 20))):
        image.paste(COLOURS[name], (*place, place[0] + 40, place[1] + 20))
    written = io.BytesIO()
    image.save(written, "PNG", exif=exif_of(turned=turned))
    found = read(written.getvalue())
    assert (found.width, found.height) == ((40, 80) if turned > 4 else (80, 40))
    shown = opened(found.large)
    assert shown.size == (found.width, found.height)
    assert shown.getpixel((4, 4)) == pytest.approx(COLOURS[CORNERS[turned]], abs=12)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_copies_when_the_picture_says_where_it_was_taken_then_they_hold_the_picture_and_nothing_else(kind):
    notes = {"exif": exif_of(taken=TAKEN, turned=6, placed=True)}
    if kind != "PNG":
        notes["xmp"] = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">at home</x:xmpmeta>'
    if kind == "JPEG":
        notes["comment"] = b"at home"
    content = noise((900, 700), kind, **notes)
    assert CAMERA.encode() in content
    found = read(content)
    for jpeg in (found.small, found.large):
        assert {marker for marker, _ in segments(jpeg)} == NEEDED
        assert not opened(jpeg).getexif()
        for words in (CAMERA.encode(), b"Exif", b"at home", b"xmp"):
            assert words not in jpeg


def test_copies_when_made_again_from_the_original_then_the_same():
    content = noise((900, 700), exif=exif_of(turned=3))
    found = read(content)
    assert copies_of(io.BytesIO(content)) == (found.small, found.large)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_copies_when_the_picture_is_of_another_kind_of_colour_then_seen_as_it_is(mode):
    grey = {"1": 1, "L": 200, "LA": (200, 255), "P": 0, "RGBA": (200, 200, 200, 255), "I;16": 200 * 256}
    image = Image.new(mode, (30, 20), grey.get(mode, (200, 200, 200)))
    if mode == "P":
        image.putpalette([200, 200, 200])
    written = io.BytesIO()
    image.save(written, "PNG")
    shown = opened(read(written.getvalue()).large).convert("RGB").getpixel((10, 10))
    assert shown == pytest.approx((255,) * 3 if mode == "1" else (200,) * 3, abs=3)


def test_copies_when_the_picture_can_be_seen_through_then_on_white():
    written = io.BytesIO()
    Image.new("RGBA", (30, 20), (0, 0, 0, 0)).save(written, "PNG")
    assert opened(read(written.getvalue()).large).getpixel((10, 10)) == (255, 255, 255)


def test_copies_when_the_picture_is_for_print_then_in_the_colours_of_a_screen():
    written = io.BytesIO()
    Image.new("CMYK", (30, 20), (0, 0, 0, 0)).save(written, "JPEG")
    assert opened(read(written.getvalue()).large).mode == "RGB"


# ---- what is refused -------------------------------------------------------------------------------------


def test_file_when_empty_then_said_so():
    assert "the file is empty" in refusal(b"")


def test_file_when_one_byte_too_large_then_the_limit_is_named_and_at_the_limit_it_is_read():
    content = picture()
    assert "it has 40.0 MB, and a picture may have 40 MB" in refusal(content, BYTES_LIMIT + 1)
    assert read_picture(io.BytesIO(content), BYTES_LIMIT).kind == "jpeg"


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_picture_when_it_has_196_million_pixels_then_not_opened_and_the_limit_is_named(kind):
    written = io.BytesIO()
    Image.new("1", (14000, 14000)).save(written, kind)
    said = refusal(written.getvalue())
    assert "14,000 × 14,000 pixels, 196 million; a picture may have 100 million" in said
    assert "Save it smaller" in said


def test_picture_when_it_is_an_a1_sheet_at_300_dots_then_read():
    # ISO 216: 594 by 841 mm; at 300 to the inch 7,016 by 9,933 pixels.
    written = io.BytesIO()
    Image.new("1", (7016, 9933), 1).save(written, "PNG")
    found = read(written.getvalue())
    assert (found.width, found.height) == (7016, 9933)
    assert opened(found.large).size == (1130, 1600)


def test_webp_when_it_claims_far_too_many_pixels_then_not_opened():
    # Its head gives each side less one in 14 bits (WebP lossless bitstream specification, section 3).
    content = bytearray(picture("WEBP", lossless=True))
    place = content.index(b"VP8L") + 9
    content[place : place + 4] = (15999 | 15999 << 14).to_bytes(4, "little")
    assert "far more pixels than the 100 million" in refusal(bytes(content))


def png_chunk(name: bytes, content: bytes) -> bytes:
    return len(content).to_bytes(4, "big") + name + content + zlib.crc32(name + content).to_bytes(4, "big")


def test_png_when_a_note_in_it_unpacks_to_a_flood_then_refused():
    content = picture("PNG")
    end_of_head = 8 + 25  # signature and IHDR, by ISO/IEC 15948, 5.2 and 11.2.2
    flood = png_chunk(b"zTXt", b"note\0\0" + zlib.compress(bytes(80_000_000)))
    assert len(flood) < 100_000
    assert "cut short or damaged" in refusal(content[:end_of_head] + flood + content[end_of_head:])


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"MZ\x90\x00" + bytes(400), "a program"),
        (b"\x7fELF" + bytes(400), "a program"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"PK\x03\x04" + bytes(40), "a packed file"),
        (b"GIF89a" + bytes(40), "a GIF"),
        (b'<?xml version="1.0"?><!-- drawn --><SVG xmlns="http://www.w3.org/2000/svg"/>', "an SVG drawing"),
        (b"just words", "no picture that is known here"),
        (b"\x89PNG\r\n", "no picture that is known here"),
    ],
)
def test_file_when_it_is_no_picture_then_what_it_is_and_what_to_do_is_said(content, found):
    said = refusal(content)
    assert f"what is in the file is {found}, whatever its name ends in" in said
    assert "JPEG, PNG and WebP pictures are kept" in said
    assert "choose that" in said


def test_file_when_heic_then_the_telephones_setting_is_named():
    assert "it is a HEIC picture, which is not read here" in refusal(heif_head())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("part", [0.05, 0.3, 0.6, 0.95])
def test_picture_when_cut_short_then_said_so(kind, part):
    content = noise((600, 400), kind)
    assert "the picture is cut short or damaged" in refusal(content[: int(len(content) * part)])


def test_picture_when_bytes_are_spoilt_anywhere_then_it_is_read_or_refused_and_nothing_else():
    chance = random.Random(20261125)
    sources = [
        noise((120, 90), kind, exif=exif_of(taken=TAKEN, placed=True)) for kind in ("JPEG", "PNG", "WEBP")
    ]
    ends = {"read": 0, "refused": 0}
    for _ in range(600):
        content = bytearray(chance.choice(sources))
        for _ in range(chance.choice([1, 1, 3, 10])):
            content[chance.randrange(min(len(content), chance.choice([60, 600, 10**6])))] = chance.randrange(
                256
            )
        try:
            read(bytes(content))
            ends["read"] += 1
        except PictureError:
            ends["refused"] += 1
    assert min(ends.values()) > 50
