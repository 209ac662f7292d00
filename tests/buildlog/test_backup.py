"""Backups on real files: made while in use, proved, restored into an empty folder, refused when altered."""

import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from buildlog.actions import backups
from buildlog.backup import archive
from buildlog.backup.database import copy_database
from buildlog.models import Backup
from tests.cast import make_cast
from tests.factories import make_part

ROOT = Path(settings.BASE_DIR)
LOAD = """
from buildlog.actions.demo import load_demo
from buildlog.actions.owner_account import owner_account
load_demo(owner_account())
"""
PICTURE = b"not really a picture, but bytes all the same " * 4000


def manage(folder, *arguments):
    """A command as a builder gives it, on a data folder of its own."""
    environ = {**os.environ, "HORNPLATE_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "buildlog.settings"}
    environ.pop("DATABASE_URL", None)
    done = subprocess.run(
        [sys.executable, "manage.py", *map(str, arguments)],
        cwd=ROOT, env=environ, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    return done.returncode, done.stdout, done.stderr


def rows(path):
    """Every row of every table, as the file has it."""
    with sqlite3.connect(path) as found:
        tables = [name for (name,) in found.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {name: sorted(map(repr, found.execute(f'SELECT * FROM "{name}"'))) for name in tables}


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """A data folder with the demo in it and one file, and a backup of both."""
    folder = tmp_path_factory.mktemp("site") / "data"
    assert manage(folder, "migrate", "-v0")[0] == 0
    code, _, error = manage(folder, "shell", "-c", LOAD)
    assert code == 0, error
    (folder / "files" / "sheets").mkdir(parents=True)
    (folder / "files" / "sheets" / "12 A.png").write_bytes(PICTURE)
    code, out, error = manage(folder, "backup", "--to", folder.parent / "disk")
    assert code == 0, error
    return folder, Path(out.splitlines()[0]), out


@pytest.fixture
def made(site, tmp_path):
    """A copy of the backup that a test may spoil."""
    return Path(shutil.copy(site[1], tmp_path / "copy.zip"))


def test_backup_when_made_then_it_says_what_came_out_and_nobody_else_may_read_it(site):
    folder, path, out = site
    live = rows(folder / "hornplate.sqlite3")
    assert f"{len(live['buildlog_part'])} parts" in out
    assert f"{len(live['buildlog_logentry'])} log entries" in out
    assert "and 3 files." in out
    assert path.stat().st_mode & 0o777 == 0o600
    assert [one.name for one in path.parent.iterdir()] == [path.name]


def test_restore_when_into_an_empty_folder_then_rows_and_bytes_are_the_same(site, tmp_path):
    folder, path, _ = site
    fresh = tmp_path / "fresh"
    code, out, error = manage(fresh, "restore", path)
    assert code == 0, error
    before, after = rows(folder / "hornplate.sqlite3"), rows(fresh / "hornplate.sqlite3")
    # The line that this backup was made is written after the copy was taken.
    del before["buildlog_backup"], before["sqlite_sequence"]
    assert {name: after[name] for name in before} == before
    assert (fresh / "files" / "sheets" / "12 A.png").read_bytes() == PICTURE
    assert f"{len(after['buildlog_part'])} parts" in out
    assert f"{len(after['buildlog_sheetfile'])} files of drawings" in out
    drawn = sorted(path.relative_to(folder / "files") for path in (folder / "files").glob("drawings/*/*.pdf"))
    assert len(drawn) == len(after["buildlog_sheetfile"]) == 2
    for name in drawn:
        content = (fresh / "files" / name).read_bytes()
        assert content == (folder / "files" / name).read_bytes()
        assert hashlib.sha256(content).hexdigest() == name.stem
    # What is shown of them is made again; it is no part of a backup.
    assert not [member for member in archive.read_manifest(path).members if "preview" in member]


def test_restore_when_something_is_there_then_it_is_kept_beside(site, tmp_path):
    folder = tmp_path / "data"
    shutil.copytree(site[0], folder)
    (folder / "files" / "sheets" / "12 A.png").write_bytes(b"spoilt")
    code, out, error = manage(folder, "restore", site[1])
    assert code == 0, error
    kept = Path(out.split("is kept in ")[1].split(";")[0])
    assert (kept / "files" / "sheets" / "12 A.png").read_bytes() == b"spoilt"
    assert (kept / "hornplate.sqlite3").is_file()
    assert (folder / "files" / "sheets" / "12 A.png").read_bytes() == PICTURE


def test_restore_when_the_site_runs_then_refused_and_nothing_moves(site, tmp_path):
    folder = tmp_path / "data"
    shutil.copytree(site[0], folder)
    live = sqlite3.connect(folder / "hornplate.sqlite3")
    live.execute("PRAGMA journal_mode=WAL")
    live.execute("SELECT COUNT(*) FROM buildlog_part").fetchone()
    before = sorted(one.name for one in folder.iterdir())
    code, _, error = manage(folder, "restore", site[1])
    assert code == 1
    assert "stop it first" in error
    assert sorted(one.name for one in folder.iterdir()) == before
    live.close()


def test_backup_when_somebody_is_writing_then_the_copy_is_of_one_moment(site, tmp_path):
    folder = tmp_path / "data"
    shutil.copytree(site[0], folder)
    live = sqlite3.connect(folder / "hornplate.sqlite3")
    live.execute("PRAGMA journal_mode=WAL")
    live.execute("BEGIN IMMEDIATE")
    live.execute("DELETE FROM buildlog_historyline")
    path = tmp_path / "beside.sqlite3"
    copy_database(folder / "hornplate.sqlite3", path)
    before = rows(site[0] / "hornplate.sqlite3")["buildlog_historyline"]
    assert rows(path)["buildlog_historyline"] == before
    assert before
    live.rollback()
    live.close()


@pytest.mark.parametrize("place", [0.0, 0.02, 0.3, 0.5, 0.8, 0.97, 0.9999])
def test_prove_when_one_byte_is_flipped_then_refused_in_plain_words(made, place):
    with made.open("r+b") as file:
        file.seek(int(made.stat().st_size * place))
        byte = file.read(1)
        file.seek(-1, 1)
        file.write(bytes([byte[0] ^ 1]))
    with pytest.raises(archive.ArchiveError):
        archive.read_manifest(made)


@pytest.mark.parametrize("left", [0, 1, 100, 0.5, 0.999])
def test_prove_when_cut_short_then_refused(made, left):
    size = made.stat().st_size
    os.truncate(made, left if isinstance(left, int) else int(size * left))
    with pytest.raises(archive.ArchiveError, match="cut short"):
        archive.read_manifest(made)


def test_restore_when_altered_then_what_is_there_stays(site, made, tmp_path):
    folder = tmp_path / "data"
    shutil.copytree(site[0], folder)
    with made.open("r+b") as file:
        file.seek(made.stat().st_size // 2)
        file.write(b"\0\0\0\0")
    before = rows(folder / "hornplate.sqlite3")
    code, _, error = manage(folder, "restore", made)
    assert code == 1
    assert "nothing was touched" in error
    assert rows(folder / "hornplate.sqlite3") == before


def test_prove_when_it_is_some_other_zip_then_refused(tmp_path):
    path = tmp_path / "other.zip"
    with zipfile.ZipFile(path, "w") as other:
        other.writestr("readme.txt", "words " * 100)
    with pytest.raises(archive.ArchiveError):
        archive.read_manifest(path)


def resealed(source, target, change):
    """An archive with its manifest or members changed and the seal put right, as only malice would."""
    work = target.parent / "members"
    with zipfile.ZipFile(source) as old:
        old.extractall(work)
    manifest = archive.read_manifest(source)
    found = json.loads((work / archive.MANIFEST).read_text())
    sources = {name: work / name for name in manifest.members}
    change(found, sources, work)

    class Changed:
        def as_json(self):
            return json.dumps(found).encode()

    archive.write_archive(target, Changed(), sources)
    return target


def later(found, _sources, _work):
    found["migrations"].append("buildlog.9999_of_a_later_year")


def lost_row(found, _sources, _work):
    found["counts"]["buildlog_part"] += 1


def other_bytes(_found, sources, work):
    (work / "other").write_bytes(b"other")
    sources["files/sheets/12 A.png"] = work / "other"


def leads_out(found, sources, work):
    (work / "other").write_bytes(b"other")
    sources["../escaped"] = work / "other"
    with (work / "other").open("rb") as file:
        one = archive.digest_of(file)
    found["members"]["../escaped"] = {"size": one.size, "sha256": one.sha256}


def other_form(found, _sources, _work):
    found["form"] = 2


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (later, "later Hornplate"),
        (lost_row, "does not hold what its list says"),
        (other_bytes, "is not as it was"),
        (leads_out, "has no place in a backup"),
        (other_form, "reads form 1"),
    ],
)
def test_restore_when_sealed_anew_with_something_wrong_inside_then_refused(site, tmp_path, change, said):
    path = resealed(site[1], tmp_path / "changed.zip", change)
    fresh = tmp_path / "fresh"
    code, _, error = manage(fresh, "restore", path)
    assert code == 1
    assert said in error
    assert not (fresh / "hornplate.sqlite3").exists()
    assert not (tmp_path / "escaped").exists()


# ---- the pages -------------------------------------------------------------------------------------------


@pytest.fixture
def cast(tmp_path, monkeypatch):
    monkeypatch.setattr(backups, "default_folder", lambda: tmp_path / "backups")
    people = make_cast()
    people.owner.is_superuser = True
    people.owner.save()
    return people


@pytest.mark.skipif(connection.vendor != "sqlite", reason="such a backup is of an SQLite file")
@pytest.mark.django_db(transaction=True)
def test_page_when_the_button_is_pressed_twice_then_one_backup_and_it_can_be_taken_away(cast):
    client, token = cast.client("owner"), "7f8f6d9e-2f8a-4f49-9d0a-6c2f9f6f6a11"
    for _ in range(2):
        page = client.post(reverse("backup_make"), {"token": token}, follow=True)
    made = Backup.objects.get()
    assert made.name in page.text
    assert "restored beside and compared" in page.text
    taken = b"".join(client.get(reverse("backup_file", args=[made.pk])).streaming_content)
    assert taken == Path(made.path).read_bytes()
    Path(made.path).unlink()
    assert "no longer there" in client.get(reverse("backup_list")).text
    assert client.get(reverse("backup_file", args=[made.pk])).status_code == 404


@pytest.mark.django_db
@pytest.mark.parametrize("who", ["builder", "stranger"])
def test_pages_when_somebody_else_asks_then_nothing_is_found(cast, who):
    client = cast.client(who)
    assert client.get(reverse("backup_list")).status_code == 404
    assert client.post(reverse("backup_make")).status_code == 404
    assert client.get(reverse("backup_file", args=[1])).status_code == 404
    assert not Backup.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("days", "said", "warns"),
    [(None, "None is made yet", True), (0, "is of today", False), (29, "is 29 days old", False),
     (30, "is 30 days old", True)],
    ids=["none", "today", "29 days", "30 days"],
)  # fmt: skip
def test_home_when_the_last_good_backup_is_so_old_then_it_says_so_and_warns_at_thirty(
    cast, tmp_path, days, said, warns
):
    if days is not None:
        path = tmp_path / "some.zip"
        path.write_bytes(b"x")
        at = timezone.now() - timezone.timedelta(days=days)
        Backup.objects.create(made_at=at, path=str(path), size=1, files=0, counts={})
    make_part(cast.build)
    page = cast.client("owner").get(cast.build.get_absolute_url())
    section = page.text.split("<span>Backup</span>")[1].split("</section>")[0]
    assert said in section
    assert ("#care" in section) is warns
    assert "<span>Backup</span>" not in cast.client("builder").get(cast.build.get_absolute_url()).text
