"""A site started as a builder starts it, in a process of its own."""

import os
import re
import signal
import subprocess
import sys
import threading
from pathlib import Path

from django.conf import settings

ROOT = Path(settings.BASE_DIR)
PATIENCE = 120  # seconds


def environment(folder: Path) -> dict[str, str]:
    """What such a process is told: its data folder, and nothing of the tests' own."""
    environ = {**os.environ, "HORNPLATE_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "buildlog.settings"}
    environ.pop("DATABASE_URL", None)
    return environ


def _hear_interrupts() -> None:
    """A shell that runs the tests in its background has them deaf to Ctrl-C, and all that they start."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class StartedSite:
    """The process, what it has said so far, and where it answers."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--port", "0", *arguments],
            cwd=ROOT,
            env=environment(folder),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            preexec_fn=None if os.name == "nt" else _hear_interrupts,
        )
        self.alarm = threading.Timer(PATIENCE, self.process.kill)
        self.alarm.start()
        self.said = ""
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.said += line
            if "Ctrl-C" in line:
                break
        found = re.search(r"Hornplate is at (http://\S+?)/\n", self.said)
        assert found, self.said
        self.address = found[1]

    def stop(self, number: int = signal.SIGINT) -> tuple[int, str]:
        """Tell it to end, as Ctrl-C does: how it ended, and what it said then."""
        self.process.send_signal(number)
        rest = self.process.communicate(timeout=PATIENCE)[0]
        self.alarm.cancel()
        return self.process.returncode, rest

    def kill(self) -> None:
        """As when the power goes: nothing is ended, nothing is tidied."""
        self.alarm.cancel()
        if self.process.poll() is None:
            self.process.kill()
            self.process.communicate()
