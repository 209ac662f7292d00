"""What is shown of drawings: drawn one after another beside the requests, each kept under its own name."""

import logging
from dataclasses import dataclass
from pathlib import Path
from threading import Lock, Thread

from django.core.files.base import ContentFile
from django.core.files.storage import Storage, storages

from buildlog.models import SheetFile
from buildlog.sheet_limits import SheetError
from buildlog.sheet_pages import draw_page
from buildlog.storage import ORIGINALS, PREVIEWS

READY, DRAWING, FAILED = "ready", "drawing", "failed"
#: Failures that are remembered; an older one is tried again when it is asked for.
REMEMBERED = 200
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One page to draw; it holds no row, so that whoever draws asks no database."""

    name: str
    path: Path
    kind: str
    page: int
    size: str
    previews: Storage


class Drawer:
    """One thread that draws what was asked for, the last first, and ends when nothing is left."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._jobs: dict[str, Job] = {}
        self._failed: dict[str, str] = {}
        self._thread: Thread | None = None

    def ask(self, job: Job) -> None:
        """Have it drawn, if it is not waiting already."""
        with self._lock:
            self._jobs.setdefault(job.name, job)
            if self._thread is None:
                self._thread = Thread(target=self._work, name="draws sheets", daemon=True)
                self._thread.start()

    def failure(self, name: str) -> str:
        """Why it could not be drawn; empty where it was not tried, or could."""
        with self._lock:
            return self._failed.get(name, "")

    def settle(self, seconds: float = 60) -> None:
        """Wait until all is drawn."""
        thread = self._thread
        if thread is not None:
            thread.join(seconds)

    def _work(self) -> None:
        while True:
            with self._lock:
                if not self._jobs:
                    self._thread = None
                    return
                # What was asked for last is what somebody looks at now.
                job = self._jobs[next(reversed(self._jobs))]
            wrong = _drawn(job)
            with self._lock:
                del self._jobs[job.name]
                if wrong:
                    self._remember(job.name, wrong)

    def _remember(self, name: str, wrong: str) -> None:
        self._failed[name] = wrong
        if len(self._failed) > REMEMBERED:
            del self._failed[next(iter(self._failed))]


drawer = Drawer()


def _drawn(job: Job) -> str:
    """Draw it and keep it; the reason where that cannot be."""
    try:
        job.previews.save(job.name, ContentFile(draw_page(job.path, job.kind, job.page, job.size)))
    except SheetError as wrong:
        log.warning("A page cannot be drawn: %s", wrong)
        return str(wrong)
    except Exception:  # The thread goes on with the others, and the next who asks sees that this one failed.
        log.exception("A page could not be drawn")
        return "it could not be drawn, or not be written. Is the disk full?"
    return ""


def preview_name(file: SheetFile, page: int, size: str) -> str:
    """Named by the bytes it was made from, so that it is never another drawing's."""
    return f"drawings/{file.sha256[:2]}/{file.sha256}-{page}-{size}.jpg"


def keep_small(file: SheetFile, small: bytes) -> None:
    """What was seen of a picture while it was checked need not be drawn again."""
    try:
        storages[PREVIEWS].save(preview_name(file, 1, "small"), ContentFile(small))
    except OSError:
        log.warning("What is shown of %s could not be written; it is made when asked for", file.sha256)


def state_of(file: SheetFile, page: int, size: str) -> str:
    """Whether it is ready, being drawn, or cannot be; one that is not there is asked for."""
    name, originals, previews = preview_name(file, page, size), storages[ORIGINALS], storages[PREVIEWS]
    if previews.exists(name):
        return READY
    if why_failed(file, page, size):
        return FAILED
    path = Path(originals.path(file.file))
    drawer.ask(Job(name=name, path=path, kind=file.kind, page=page, size=size, previews=previews))
    return DRAWING


def why_failed(file: SheetFile, page: int, size: str) -> str:
    """Why it cannot be shown; empty where it can be, as far as is known."""
    if not storages[ORIGINALS].exists(file.file):
        return "its file is no longer in its folder."
    return drawer.failure(preview_name(file, page, size))


def preview_size(file: SheetFile, page: int, size: str) -> tuple[int, int] | None:
    """How wide and high the picture is, where it is there. [pixels]"""
    from PIL import Image

    try:
        with storages[PREVIEWS].open(preview_name(file, page, size)) as kept, Image.open(kept) as picture:
            return picture.size
    except OSError:
        return None


def preview_bytes(file: SheetFile, page: int, size: str) -> bytes | None:
    """The picture, where it is there."""
    try:
        with storages[PREVIEWS].open(preview_name(file, page, size)) as kept:
            return bytes(kept.read())
    except OSError:
        return None
