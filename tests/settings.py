"""The site's settings for tests: a data folder of their own, fast hashing, plain static files."""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

folder = Path(tempfile.mkdtemp(prefix="hornplate-tests-"))
atexit.register(shutil.rmtree, folder, ignore_errors=True)
os.environ["HORNPLATE_DATA"] = str(folder)
os.environ["TZ"] = "Europe/London"
for name in ("HORNPLATE_ADDRESS", "HORNPLATE_DEBUG"):
    os.environ.pop(name, None)

from buildlog import settings as real  # noqa: E402  The environment has to be set first.

globals().update({name: getattr(real, name) for name in dir(real) if name.isupper()})

ALLOWED_HOSTS = [*real.ALLOWED_HOSTS, "testserver"]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    **real.STORAGES,
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# Static files come from where they are written, so that nothing has to be collected first.
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True
STATIC_ROOT.mkdir(exist_ok=True)  # noqa: F821  One of the names taken over above.

DATABASES = {"default": {**real.DATABASES["default"]}}
if "sqlite3" in DATABASES["default"]["ENGINE"]:
    # A file as in real use, not memory: the browser's requests come in threads with connections of their own.
    DATABASES["default"]["TEST"] = {"NAME": str(folder / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"] = {
        **real.DATABASES["default"]["OPTIONS"],
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;",
    }
