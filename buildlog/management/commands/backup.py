"""`manage.py backup`: one file with everything in it, proved."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand
from django.db import DatabaseError

from buildlog.management.refusal import RefusalError


class Command(BaseCommand):
    help = "Write one file with the database and every file in it, restore it beside, and say what came out."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--to", type=Path, help="the folder to write to (backups in the data folder)")

    def handle(self, *_args: Any, **options: Any) -> None:
        from buildlog.actions.backups import back_up
        from buildlog.backup.archive import ArchiveError
        from buildlog.backup.database import OtherDatabaseError
        from buildlog.backup.words import counted_words, trouble_words

        try:
            made, proof = back_up(folder=options["to"])
        except (ArchiveError, OtherDatabaseError, DatabaseError, OSError) as error:
            raise RefusalError(f"No backup was made. {error}") from error
        self.stdout.write(
            f"{made.path}\nRestored beside and compared: {counted_words(made.counts, made.files)}."
        )
        for words in trouble_words(proof) if proof else ():
            self.stdout.write(words)
