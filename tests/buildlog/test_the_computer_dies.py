"""A whole workshop of records and photos: backed up, lost, restored into an empty folder, and the same."""

import hashlib
import json
import os
import shutil
import sqlite3
import time
import zipfile
from contextlib import closing
from pathlib import Path

import pytest
from django.db import connection

from buildlog.backup import archive
from buildlog.backup.database import files_named
from tests.buildlog.test_backup import manage, rows
from tests.factories import make_arrangement, make_drawing, make_part, make_photo, make_sheet_file
from tests.picture_files import picture

#: The numbers that a builder of some years has: parts, log entries, photos.
PARTS, ENTRIES, PHOTOS = 420, 611, 1_100
WORLD = f"""
import hashlib, io
from pathlib import Path
from django.conf import settings
from PIL import Image
from buildlog import clock
from buildlog.actions.owner_account import owner_account
from buildlog.models import Build, LogEntry, Membership, Part, Photo
owner = owner_account()
build = Build.objects.create(name="Marlpit", scale="4 in")
Membership.objects.create(build=build, user=owner, role="owner")
parts = [Part(build=build, number=f"S-{{n:03}}", name=f"Stud {{n}}") for n in range(1, {PARTS} + 1)]
for part in parts:
    part.derive()
parts = Part.objects.bulk_create(parts)
LogEntry.objects.bulk_create(
    LogEntry(build=build, part=parts[n % len(parts)], on=clock.today(), done=f"Turned {{n}}.",
             written_at=clock.now()) for n in range({ENTRIES})
)
photos = []
for n in range({PHOTOS}):
    held = io.BytesIO()
    Image.new("RGB", (8, 8), (n % 256, n // 256, 7)).save(held, "PNG")
    content = held.getvalue()
    photo = Photo(build=build, sha256=hashlib.sha256(content).hexdigest(), kind="png", size=len(content),
                  width=8, height=8, file_name=f"IMG_{{n}}.png", taken_on=clock.today(), dated_by="arrival",
                  part=parts[n % len(parts)], at=clock.now(), caption=f"Number {{n}}")
    file = Path(settings.MEDIA_ROOT) / photo.file
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content)
    photos.append(photo)
Photo.objects.bulk_create(photos)
"""
PAGES = """
import hashlib, json, re
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse
from buildlog.models import Build, LogEntry, Part, Photo
client = Client(headers={"host": "127.0.0.1"})
client.force_login(User.objects.get(is_superuser=True))
build, part = Build.objects.get(), Part.objects.order_by("pk")[7]
photo, entry = Photo.objects.order_by("pk")[11], LogEntry.objects.order_by("pk")[5]
root = f"/builds/{build.pk}/"
found = {}
for place in (root, root + "parts/", root + "log/", root + "photos/", root + "photos/?page=9",
              part.get_absolute_url(), photo.get_absolute_url(), entry.get_absolute_url()):
    answer = client.get(place)
    assert answer.status_code == 200, (place, answer.status_code)
    text = answer.content.decode()
    text = re.sub(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}", "TOKEN", text)
    text = re.sub(r'(csrfmiddlewaretoken" value="|X-CSRFToken": ")[^"]+', r"\\1TOKEN", text)
    text = re.sub(r"<section[^>]*><h2><span>Backup</span>.*?</section>", "", text, flags=re.S)
    found[place] = text
for size in ("photo_small", "photo_large", "photo_original"):
    answer = client.get(reverse(size, args=[photo.pk]))
    assert answer.status_code == 200, (size, answer.status_code)
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    found[size] = hashlib.sha256(content).hexdigest()
print("PAGES" + json.dumps(found))
"""


def digests(folder):
    root = folder / "files"
    return {
        str(path.relative_to(root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in root.rglob("*")
        if path.is_file()
    }


def run(folder, script):
    code, out, error = manage(folder, "shell", "-c", script)
    assert code == 0, error
    return out


def pages(folder):
    return json.loads(run(folder, PAGES).split("PAGES", 1)[1])


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """A data folder as it is after some years, with previews and a file no row knows, and its backup."""
    folder = tmp_path_factory.mktemp("years") / "data"
    assert manage(folder, "migrate", "-v0")[0] == 0
    run(folder, WORLD)
    assert manage(folder, "collectstatic", "--noinput", "-v0")[0] == 0
    (folder / "files" / "scans").mkdir()
    (folder / "files" / "scans" / "old letter.txt").write_bytes(b"from the foundry")
    (folder / "files" / "photos" / ".half.part").write_bytes(b"cut off on its way in")
    before = pages(folder)
    code, out, error = manage(folder, "backup", "--to", folder.parent / "disk")
    assert code == 0, error
    return folder, Path(out.splitlines()[0]), out, before


@pytest.fixture
def made(site, tmp_path):
    return Path(shutil.copy(site[1], tmp_path / "copy.zip"))


def test_restore_when_into_an_empty_folder_then_counts_checksums_and_pages_are_the_same(site, tmp_path):
    folder, path, told, before = site
    for said in (f"{PARTS} parts", f"{ENTRIES} log entries", f"{PHOTOS} photos", f"{PHOTOS + 1} files"):
        assert said in told
    assert "Take care" not in told
    fresh = tmp_path / "fresh"
    code, out, error = manage(fresh, "restore", path)
    assert code == 0, error
    for said in (f"{PARTS} parts", f"{ENTRIES} log entries", f"{PHOTOS} photos", f"{PHOTOS + 1} files"):
        assert said in out
    stood, stands = rows(folder / "hornplate.sqlite3"), rows(fresh / "hornplate.sqlite3")
    for name in ("buildlog_part", "buildlog_logentry", "buildlog_photo", "auth_user"):
        assert stands[name] == stood[name]
    assert len(stands["buildlog_photo"]) == PHOTOS
    kept = digests(folder)
    del kept["photos/.half.part"]
    assert digests(fresh) == kept
    assert not (fresh / "previews").exists()
    assert manage(fresh, "collectstatic", "--noinput", "-v0")[0] == 0
    after = pages(fresh)
    assert after.keys() == before.keys()
    for place in before:
        assert after[place] == before[place], place


def test_backup_when_made_then_previews_and_half_written_files_are_not_in_it(site):
    names = archive.read_manifest(site[1]).members
    assert (site[0] / "previews").is_dir()
    assert not [name for name in names if "preview" in name or name.endswith(".part")]
    assert "files/scans/old letter.txt" in names


def test_backup_when_a_file_is_gone_or_spoilt_then_made_and_told_by_name_and_part(site, tmp_path):
    folder = tmp_path / "data"
    shutil.copytree(site[0], folder)
    with closing(sqlite3.connect(folder / "hornplate.sqlite3")) as found:
        sums = dict(found.execute("SELECT file_name, sha256 FROM buildlog_photo"))
    (gone,) = (folder / "files" / "photos").rglob(f"{sums['IMG_4.png']}.png")
    (spoilt,) = (folder / "files" / "photos").rglob(f"{sums['IMG_5.png']}.png")
    gone.unlink()
    spoilt.write_bytes(b"x")
    code, out, error = manage(folder, "backup", "--to", tmp_path / "disk")
    assert code == 0, error
    for told in (out, manage(folder, "prove", out.splitlines()[0])[1]):
        assert "1 file not on the disk, and so not in it: photo IMG_4.png of S-005." in told
        assert "photo IMG_5.png of S-006" in told
        assert "no longer what was brought in" in told


def offset_of(path, name):
    """Where the bytes of a member lie: after 30 bytes of header, its name and extra field (APPNOTE 4.3.7)."""
    with zipfile.ZipFile(path) as opened:
        info = opened.getinfo(name)
    with path.open("rb") as file:
        file.seek(info.header_offset + 26)
        lengths = file.read(4)
    head = 30 + int.from_bytes(lengths[:2], "little") + int.from_bytes(lengths[2:], "little")
    return info.header_offset + head, info.compress_size


@pytest.mark.parametrize("part", [0.0, 0.5, 0.999])
@pytest.mark.parametrize("where", ["photo", "database", "list"])
def test_restore_when_one_byte_is_flipped_then_refused_in_plain_words(made, tmp_path, where, part):
    photo = next(name for name in archive.read_manifest(made).members if name.startswith("files/photos/"))
    name = {"photo": photo, "database": archive.DATABASE, "list": archive.MANIFEST}[where]
    start, length = offset_of(made, name)
    with made.open("r+b") as file:
        file.seek(start + int(length * part))
        byte = file.read(1)
        file.seek(-1, 1)
        file.write(bytes([byte[0] ^ 0x10]))
    with pytest.raises(archive.ArchiveError, match="cut short or was altered"):
        archive.read_manifest(made)
    if part == 0.5:
        fresh = tmp_path / "fresh"
        code, _, error = manage(fresh, "restore", made)
        assert code == 1
        assert "Nothing was restored and nothing was touched" in error
        assert not (fresh / "hornplate.sqlite3").exists()
        assert not (fresh / "files").exists()


@pytest.mark.parametrize("lost", [1, 64, 65, 4096])
def test_restore_when_the_end_is_cut_off_then_refused(made, lost):
    with made.open("r+b") as file:
        file.truncate(made.stat().st_size - lost)
    with pytest.raises(archive.ArchiveError, match="cut short"):
        archive.read_manifest(made)


def test_backup_when_an_earlier_one_was_cut_off_then_its_leavings_go_after_a_day(site, tmp_path):
    disk = tmp_path / "disk"
    for name, days in ((".backup-old", 2), (".backup-now", 0)):
        (disk / name).mkdir(parents=True)
        (disk / name / "hornplate-half.zip").write_bytes(b"PK")
        at = time.time() - days * 24 * 60 * 60
        os.utime(disk / name, (at, at))
    code, out, error = manage(site[0], "backup", "--to", disk)
    assert code == 0, error
    assert sorted(one.name for one in disk.iterdir()) == [".backup-now", Path(out.splitlines()[0]).name]


# A copy cannot be taken while the connection itself is in the midst of a transaction.
@pytest.mark.skipif(connection.vendor != "sqlite", reason="such a backup is of an SQLite file")
@pytest.mark.django_db(transaction=True)
def test_backup_when_it_looks_for_files_then_it_knows_where_each_kind_lies_as_the_site_does(tmp_path):
    part = make_part()
    photos = [make_photo(part=part), make_photo(part.build, content=picture("PNG"), name="a.png")]
    sheets = [make_sheet_file(make_drawing(part.build))]
    under = make_arrangement(part.build)
    path = tmp_path / "copy.sqlite3"
    with closing(sqlite3.connect(path)) as copy:
        connection.connection.backup(copy)
    found = {(place, sha256) for place, sha256, _ in files_named(path)}
    assert found == {(one.file, one.sha256) for one in (*photos, *sheets, under)}
    assert {called for _, _, called in files_named(path)} == {
        f"photo IMG_0001.jpg of {part.key}",
        "photo a.png",
        f"file sheet.png of sheet {sheets[0].issue.drawing.number} issue B",
        f"picture {under.file_name} under the balloons",
    }
