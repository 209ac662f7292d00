"""`manage.py restore FILE`: a backup put in the place of what is there."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from buildlog import clock
from buildlog.management.refusal import RefusalError


class Command(BaseCommand):
    help = (
        "Put a backup in the place of what is there, with Hornplate stopped; what was there is kept beside."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *_args: Any, **options: Any) -> None:
        from buildlog import serving
        from buildlog.backup.archive import ArchiveError
        from buildlog.backup.database import OtherDatabaseError
        from buildlog.backup.restoring import restore
        from buildlog.backup.words import counted_words, made_words, trouble_words

        try:
            done = restore(options["file"], now=clock.now())
        except (ArchiveError, OtherDatabaseError, OSError) as error:
            raise RefusalError(f"Nothing was restored and nothing was touched. {error}") from error
        serving.migrate_when_needed()
        self.stdout.write(
            f"Restored {made_words(done.proof)}.\n{counted_words(done.proof.counts, done.proof.files)}."
        )
        for words in trouble_words(done.proof):
            self.stdout.write(words)
        if done.before:
            self.stdout.write(
                f"What was there before is kept in {done.before}; take it away when all is well."
            )
