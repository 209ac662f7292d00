"""The SQLite file of a backup: copied while in use, counted, checked."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from django.conf import settings

from buildlog.backup.archive import ArchiveError

BUSY_SECONDS = 20
#: What a builder counts, by its table.
NOUNS = {
    "builds": "buildlog_build",
    "parts": "buildlog_part",
    "castings": "buildlog_casting",
    "drawings": "buildlog_drawing",
    "errata": "buildlog_erratum",
    "files of drawings": "buildlog_sheetfile",
    "log entries": "buildlog_logentry",
    "earlier wordings of the log": "buildlog_logversion",
    "readings": "buildlog_reading",
    "concessions": "buildlog_concession",
    "photos": "buildlog_photo",
    "changes": "buildlog_change",
    "scrap book": "buildlog_scrap",
    "threads used": "buildlog_threaduse",
    "arrangements": "buildlog_arrangement",
    "balloons placed": "buildlog_balloonplace",
    "orders": "buildlog_order",
    "kept sums": "calc_calculationrecord",
    "work cards": "buildlog_workcard",
}


#: What a row says of the file that belongs to it: its folder and name, its SHA-256, what a builder calls it.
FILES_NAMED = {
    "buildlog_photo": """
        SELECT 'photos/' || photo.build_id || '/' || photo.sha256 || '.' ||
               CASE photo.kind WHEN 'jpeg' THEN 'jpg' ELSE photo.kind END,
               photo.sha256,
               'photo ' || photo.file_name || COALESCE(' of ' || part.number ||
                   CASE part.hand WHEN '' THEN '' ELSE '-' || part.hand END, '')
        FROM buildlog_photo photo LEFT JOIN buildlog_part part ON part.id = photo.part_id
        ORDER BY photo.taken_on, photo.id
    """,
    "buildlog_sheetfile": """
        SELECT 'drawings/' || drawing.build_id || '/' || file.sha256 || '.' ||
               CASE file.kind WHEN 'jpeg' THEN 'jpg' ELSE file.kind END,
               file.sha256,
               'file ' || file.file_name || ' of sheet ' || drawing.number || ' issue ' || issue.issue
        FROM buildlog_sheetfile file JOIN buildlog_sheetissue issue ON issue.id = file.issue_id
        JOIN buildlog_drawing drawing ON drawing.id = issue.drawing_id ORDER BY file.id
    """,
    "buildlog_arrangement": """
        SELECT 'arrangements/' || build_id || '/' || sha256 || '.' ||
               CASE kind WHEN 'jpeg' THEN 'jpg' ELSE kind END,
               sha256,
               'picture ' || file_name || ' under the balloons'
        FROM buildlog_arrangement WHERE sha256 <> '' ORDER BY id
    """,
}


class OtherDatabaseError(Exception):
    """The site does not keep its records in SQLite; the message says what to use there."""


def sqlite_file() -> Path:
    """Where the site's database lies; raises OtherDatabaseError where it is not SQLite."""
    found = settings.DATABASES["default"]
    if "sqlite3" not in found["ENGINE"]:
        raise OtherDatabaseError(
            "This site keeps its records in PostgreSQL: copy them with that server's own pg_dump and the "
            "files beside them. The backup of Hornplate is for its SQLite file."
        )
    from django.db import connection

    return Path(connection.settings_dict["NAME"])


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(path, timeout=BUSY_SECONDS)) as connection:
        yield connection


def copy_database(source: Path, target: Path) -> None:
    """A copy as it stands at one moment, whoever is writing meanwhile."""
    with opened(source) as live, opened(target) as copy:
        live.backup(copy)
        # One file without a journal beside it, so that the digest is of the whole of it.
        copy.execute("PRAGMA journal_mode=DELETE")


def counts_of(path: Path) -> dict[str, int]:
    """Rows by table."""
    with opened(path) as copy:
        tables = [
            name
            for (name,) in copy.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
            )
        ]
        return {name: copy.execute(f'SELECT COUNT(*) FROM "{name}"').fetchone()[0] for name in sorted(tables)}


def files_named(path: Path) -> Iterator[tuple[str, str, str]]:
    """Every file that a row belongs to: where it lies, its SHA-256, what it is called."""
    with opened(path) as copy:
        known = {name for (name,) in copy.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        for table, question in FILES_NAMED.items():
            if table in known:  # An archive of an earlier year has no such table.
                yield from copy.execute(question)


def migrations_of(path: Path) -> tuple[str, ...]:
    """The migrations the file has had, in order."""
    with opened(path) as copy:
        rows = copy.execute("SELECT app, name FROM django_migrations ORDER BY id").fetchall()
    return tuple(f"{app}.{name}" for app, name in rows)


def check_database(path: Path) -> None:
    """Raises ArchiveError where the file is damaged or a row leads nowhere."""
    try:
        with opened(path) as copy:
            whole = copy.execute("PRAGMA integrity_check").fetchall()
            astray = copy.execute("PRAGMA foreign_key_check").fetchall()
    except sqlite3.DatabaseError as error:
        raise ArchiveError(f"Its database cannot be opened ({error}).") from error
    if whole != [("ok",)]:
        raise ArchiveError(f"Its database is damaged ({whole[0][0]}).")
    if astray:
        raise ArchiveError(f"{len(astray)} rows of its database lead to rows that are not there.")


def is_in_use(path: Path) -> bool:
    """Whether another program holds the file open: its journal cannot then be put away."""
    if not path.exists():
        return False
    try:
        with closing(sqlite3.connect(path, timeout=0)) as connection:
            (mode,) = connection.execute("PRAGMA journal_mode=DELETE").fetchone()
    except sqlite3.OperationalError:
        return True
    return bool(mode != "delete")


def counted(counts: dict[str, int]) -> dict[str, int]:
    """Rows by what a builder calls them."""
    return {noun: counts.get(table, 0) for noun, table in NOUNS.items()}
