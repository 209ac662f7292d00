"""Pictures as cameras, telephones and mischief make them, by Pillow."""

import io
from itertools import count
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

#: Where the picture says it was taken: 51° 30' N, 0° 7' W, and words that only its own notes hold.
NORTH, WEST = (51.0, 30.0, 26.0), (0.0, 7.0, 39.0)
CAMERA = "Trial Camera 3"
_number = count(1)


def exif_of(*, taken: str = "", turned: int = 0, placed: bool = False) -> Image.Exif:
    """The camera's notes: when, which way up, where; tags of CIPA DC-008."""
    exif = Image.Exif()
    exif[0x0110] = CAMERA
    if turned:
        exif[0x0112] = turned
    if taken:
        exif.get_ifd(0x8769)[0x9003] = taken
    if placed:
        exif.get_ifd(0x8825).update({1: "N", 2: NORTH, 3: "W", 4: WEST})
    return exif


def picture(kind: str = "JPEG", size: tuple[int, int] = (64, 48), **saved: Any) -> bytes:
    """A small picture with a number of its own in black and white squares, so that no two are the same."""
    image = Image.new("RGB", size, (90, 120, 150))
    for place, bit in enumerate(f"{next(_number):016b}"):
        left, top = place % 8 * 8, place // 8 * 8
        image.paste((255, 255, 255) if bit == "1" else (0, 0, 0), (left, top, left + 8, top + 8))
    written = io.BytesIO()
    image.save(written, kind, **saved)
    return written.getvalue()


def noise(size: tuple[int, int], kind: str = "JPEG", **saved: Any) -> bytes:
    """A picture that packs as badly as a photograph."""
    written = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(written, kind, **saved)
    return written.getvalue()


def upload(content: bytes, name: str = "IMG_0001.jpg", sent_as: str = "image/jpeg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content, sent_as)


def segments(jpeg: bytes) -> list[tuple[int, bytes]]:
    """The marker segments of a JPEG up to its scan, as ITU-T T.81 (09/92), annex B, lays them out."""
    assert jpeg[:2] == b"\xff\xd8"
    found, place = [], 2
    while True:
        assert jpeg[place] == 0xFF
        marker, length = jpeg[place + 1], int.from_bytes(jpeg[place + 2 : place + 4], "big")
        found.append((marker, jpeg[place + 4 : place + 2 + length]))
        place += 2 + length
        if marker == 0xDA:
            return found


def heif_head() -> bytes:
    """How a HEIC picture begins: the file type box of ISO/IEC 14496-12 with the brand `heic`."""
    return b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(200)
