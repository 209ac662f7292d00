"""Is a file a picture that can be kept, and what is shown of it: small copies that tell nothing else."""

import io
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import IO, TYPE_CHECKING, Any

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageFile import ImageFile

MB = 1024 * 1024
BYTES_LIMIT = 40 * MB
PIXELS_LIMIT = 100_000_000  # an A1 sheet scanned at 300 dots to the inch has 70 million
#: The longer side of what is shown, in pixels: on a contact sheet, and alone on a page.
SMALL, LARGE = 400, 1600
QUALITY = 82
#: How each kind that is kept begins. WebP has its own sign eight bytes on.
JPEG, PNG, WEBP = "jpeg", "png", "webp"
KINDS_KEPT = "JPEG, PNG and WebP pictures are kept"
#: What other files are by the way they begin, and what to do about each.
_OTHERS: tuple[tuple[bytes, str], ...] = (
    (b"MZ", "a program"),
    (b"\x7fELF", "a program"),
    (b"#!", "a program"),
    (b"\xcf\xfa\xed\xfe", "a program"),
    (b"\xca\xfe\xba\xbe", "a program"),
    (b"%PDF-", "a PDF"),
    (b"PK\x03\x04", "a packed file"),
    (b"\x1f\x8b", "a packed file"),
    (b"GIF8", "a GIF"),
    (b"II*\x00", "a TIFF or a camera's raw file"),
    (b"MM\x00*", "a TIFF or a camera's raw file"),
    (b"BM", "a BMP"),
)
_HEIC = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1")
#: Enough of a file to see what it is; an SVG may have a note before its first word.
_BEGINNING = 1024
#: Tags of EXIF (CIPA DC-008): how the camera was held, when the file was changed, the block of the camera's
#: own, and in it when the picture was taken and when it was made digital.
_ORIENTATION, _CHANGED, _CAMERA, _TAKEN, _DIGITISED = 0x0112, 0x0132, 0x8769, 0x9003, 0x9004
_LYING = (5, 6, 7, 8)
_MEGA = 1_000_000
#: Pictures above this many pixels are worked on one at a time: each may take 400 MB.
_ALONE = 25_000_000
_one_at_a_time = threading.Lock()


class PictureError(ValueError):
    """A file that cannot be kept as a picture; the message says what was found and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """What a file says of itself, and the two copies that are shown."""

    kind: str
    width: int  # as it is looked at, turned the way the camera was held
    height: int
    taken: datetime | None  # by the camera's own clock, which has no zone
    small: bytes
    large: bytes


def read_picture(file: IO[bytes], size: int) -> Picture:
    """Look at a whole file, decode it to its end, and make what is shown of it.

    Raises
    ------
    PictureError
        It is empty, too large, no picture of the kinds kept, or cut short.
    """
    _check_size(size)
    image, kind = _opened(file)
    taken = _taken(image)
    turned = _orientation(image)
    width, height = image.size[::-1] if turned in _LYING else image.size
    small, large = _copies(image, kind, turned)
    return Picture(kind=kind, width=width, height=height, taken=taken, small=small, large=large)


def copies_of(file: IO[bytes]) -> tuple[bytes, bytes]:
    """The small and the large copy of a picture that was kept; raises PictureError where it is spoilt."""
    image, kind = _opened(file)
    return _copies(image, kind, _orientation(image))


def drawn_from(file: IO[bytes], scale: Callable[[int, int], float]) -> "Image":
    """The whole picture, upright and bare of all else, at the scale that is asked for at its size.

    Raises PictureError where it is no picture of the kinds kept, or spoilt.
    """
    image, kind = _opened(file)
    longest = max(1, round(max(image.size) * scale(*image.size)))
    return _guarded(lambda: _shown(image, kind, _orientation(image), longest))  # type: ignore[no-any-return]


def _check_size(size: int) -> None:
    if not size:
        raise PictureError(
            "the file is empty; nothing of the picture has come. Choose it again, or another copy of it."
        )
    if size > BYTES_LIMIT:
        raise PictureError(
            f"it has {size / MB:.1f} MB, and a picture may have {BYTES_LIMIT // MB} MB. "
            "Save it as a JPEG, or smaller, and choose that."
        )


def _opened(file: IO[bytes]) -> "tuple[ImageFile, str]":
    """The picture, its head read and no more, and its kind by its own bytes, whatever its name says."""
    file.seek(0)
    head = file.read(_BEGINNING)
    file.seek(0)
    kind = _kind_of(head)
    image: ImageFile = _guarded(lambda: _reader(kind)(file))
    pixels = image.size[0] * image.size[1]
    if pixels > PIXELS_LIMIT:
        raise PictureError(
            f"it has {image.size[0]:,} × {image.size[1]:,} pixels, {pixels / _MEGA:,.0f} million; a picture "
            f"may have {PIXELS_LIMIT // _MEGA} million. It was not opened. Save it smaller and choose that."
        )
    return image, kind


def _kind_of(head: bytes) -> str:
    if head.startswith(b"\xff\xd8\xff"):
        return JPEG
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return PNG
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP":
        return WEBP
    raise PictureError(_why_not(head))


def _why_not(head: bytes) -> str:
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC:
        return (
            f"it is a HEIC picture, which is not read here; {KINDS_KEPT}. In the telephone’s settings for "
            "the camera choose the most compatible kind, or share the picture as a JPEG, and choose that."
        )
    found = next((what for start, what in _OTHERS if head.startswith(start)), "")
    if not found and b"<svg" in head.lower():
        found = "an SVG drawing"
    return (
        f"what is in the file is {found or 'no picture that is known here'}, whatever its name ends in; "
        f"{KINDS_KEPT}. Choose the picture itself, or save it as a JPEG and choose that."
    )


def _reader(kind: str) -> "Callable[[IO[bytes]], ImageFile]":
    """The reader of one kind: no other is ever tried, and none looks at the size before this module does."""
    if kind == JPEG:
        from PIL.JpegImagePlugin import jpeg_factory

        return jpeg_factory
    if kind == PNG:
        from PIL.PngImagePlugin import PngImageFile

        return PngImageFile
    from PIL.WebPImagePlugin import WebPImageFile

    return WebPImageFile


def _guarded(work: Callable[[], Any]) -> Any:
    """Do it; a file that is cut short or damaged raises PictureError, whatever the reader stumbled over."""
    import struct
    import warnings
    import zlib

    from PIL.Image import DecompressionBombError

    stumbles = (
        OSError, SyntaxError, ValueError, IndexError, KeyError, TypeError, AttributeError, EOFError,
        OverflowError, ZeroDivisionError, struct.error, zlib.error,
    )  # fmt: skip
    # Damaged notes of a camera are warned of by the readers; the picture beside them may still be whole.
    warnings.filterwarnings("ignore", module=r"PIL\.")
    try:
        return work()
    except MemoryError:
        raise PictureError(
            "this machine has not the memory to open it. Save it smaller and choose that."
        ) from None
    except DecompressionBombError:
        raise PictureError(
            f"it has far more pixels than the {PIXELS_LIMIT // _MEGA} million that a picture may have. "
            "It was not opened. Save it smaller and choose that."
        ) from None
    except stumbles:
        raise PictureError(
            "the picture is cut short or damaged: not all of it is there. Copy it from the camera or the "
            "telephone again, and choose the new copy."
        ) from None


# ---- what the camera wrote -------------------------------------------------------------------------------


def _exif(image: "Image") -> Any:
    """What the camera wrote; nothing where that cannot be read: the picture is worth keeping all the same."""
    try:
        return _guarded(image.getexif)
    except PictureError:
        return {}


def _orientation(image: "Image") -> int:
    found = _exif(image).get(_ORIENTATION, 1)
    return found if isinstance(found, int) and 1 <= found <= 8 else 1


def _taken(image: "Image") -> datetime | None:
    exif = _exif(image)
    try:
        camera = _guarded(lambda: exif.get_ifd(_CAMERA)) if exif else {}
    except PictureError:
        camera = {}
    for text in (camera.get(_TAKEN), camera.get(_DIGITISED), exif.get(_CHANGED)):
        found = _moment(text)
        if found:
            return found
    return None


def _moment(text: object) -> datetime | None:
    """`2024:05:03 14:03:22`; a camera whose clock was never set writes noughts or blanks."""
    try:
        return datetime.strptime(str(text).strip("\x00 ")[:19], "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007  No zone.
    except ValueError:
        return None


def day_of(taken: datetime | None, *, first: date, last: date) -> date | None:
    """The day the camera gives, where it can be right."""
    return taken.date() if taken and first <= taken.date() <= last else None


# ---- what is shown ---------------------------------------------------------------------------------------


def _copies(image: "ImageFile", kind: str, turned: int) -> tuple[bytes, bytes]:
    """Small and large, as JPEG with nothing beside the picture."""
    if image.size[0] * image.size[1] > _ALONE:
        with _one_at_a_time:
            shown = _guarded(lambda: _shown(image, kind, turned))
    else:
        shown = _guarded(lambda: _shown(image, kind, turned))
    large = _as_jpeg(shown)
    shown.thumbnail((SMALL, SMALL))
    return _as_jpeg(shown), large


def _shown(image: "ImageFile", kind: str, turned: int, longest: int = LARGE) -> "Image":
    """The picture, decoded to its end, no larger than is shown, upright, on white, and bare of all else."""
    if kind == JPEG:
        # A JPEG is decoded at an eighth to a half of its size where that is enough.
        image.draft(None, (longest, longest))
    image.load()
    if image.mode == "I;16":
        # Sixteen bits of grey: the upper eight are what a screen shows.
        image = image.point(lambda value: value / 256)  # type: ignore[assignment]
    plain: Image = image if image.mode in ("L", "RGB", "RGBA", "LA") else image.convert(_plain_mode(image))
    plain.thumbnail((longest, longest))
    if plain.mode in ("RGBA", "LA"):
        plain = _on_white(plain)
    elif plain.mode == "CMYK":
        plain = plain.convert("RGB")
    return _upright(plain, turned)


def _plain_mode(image: "Image") -> str:
    if image.mode == "P" and "transparency" in image.info:
        return "RGBA"
    return "L" if image.mode in ("1", "I", "F", "I;16") else "RGB"


def _on_white(image: "Image") -> "Image":
    from PIL.Image import new

    seen = image.convert("RGBA")
    ground = new("RGB", seen.size, "white")
    ground.paste(seen, mask=seen.getchannel("A"))
    return ground


def _upright(image: "Image", turned: int) -> "Image":
    from PIL.Image import Transpose

    ways = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return image.transpose(ways[turned]) if turned in ways else image


def _as_jpeg(image: "Image") -> bytes:
    # A writer may take remarks, colour and camera notes over from `info`: there is to be nothing to take.
    image.info.clear()
    written = io.BytesIO()
    image.save(written, "JPEG", quality=QUALITY)
    return written.getvalue()
