"""`manage.py prove FILE`: whether a backup can be restored, and what comes out."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from buildlog.management.refusal import RefusalError


class Command(BaseCommand):
    help = (
        "Check every byte of a backup and restore it into a folder of its own; nothing of yours is touched."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *_args: Any, **options: Any) -> None:
        from buildlog.backup.archive import ArchiveError
        from buildlog.backup.making import prove
        from buildlog.backup.words import counted_words, made_words, trouble_words

        try:
            proof = prove(options["file"])
        except (ArchiveError, OSError) as error:
            raise RefusalError(f"{options['file']} is no good. {error}") from error
        self.stdout.write(f"Good: {made_words(proof)}.\n{counted_words(proof.counts, proof.files)}.")
        for words in trouble_words(proof):
            self.stdout.write(words)
