"""Where files are kept: each is written beside, brought to the disk whole, and only then given its name."""

import os
import tempfile
from pathlib import Path
from typing import Any

from django.core.files.base import File
from django.core.files.storage import FileSystemStorage

#: The names of the storages in the settings: what a builder brought, and what was made from that.
ORIGINALS, PREVIEWS = "originals", "previews"
#: How the name of a file ends that is still being written; it begins with a dot.
HALF = ".part"


def is_half_written(name: str) -> bool:
    """Whether a file is on its way in, or was when the power went."""
    return name.startswith(".") and name.endswith(HALF)


class WholeFileStorage(FileSystemStorage):
    """A file is there whole or not at all; a name that is written again holds the new bytes."""

    def get_available_name(self, name: str, max_length: int | None = None) -> str:  # noqa: ARG002
        """The name itself: whoever writes here names a file by its content."""
        return name

    def _save(self, name: str, content: "File[Any]") -> str:
        target = Path(self.path(name))
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(prefix=".", suffix=HALF, dir=target.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                for chunk in content.chunks():
                    file.write(chunk)
                file.flush()
                os.fsync(file.fileno())
            os.replace(beside, target)
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
        return name
