"""`manage.py owner`: a new way in for the owner who has lost the password."""

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand
from django.db import DatabaseError

from buildlog import network
from buildlog.management.refusal import RefusalError


class Command(BaseCommand):
    help = "Take the owner's password away and print a link for choosing a new one."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="the port the site runs on (8000)")

    def handle(self, *_args: Any, **options: Any) -> None:
        from buildlog.actions.owner_account import owner_account, sign_in_link, take_password_away

        try:
            owner = owner_account()
            take_password_away(owner)
        except DatabaseError as error:
            raise RefusalError(f"There is no account yet: start Hornplate first ({error}).") from error
        address = settings.SITE_ADDRESS or f"http://{network.LOCAL}:{options['port']}"
        self.stdout.write(
            f"The old password of {owner.get_username()!r} works no longer and all its sessions have ended. "
            "With Hornplate running, choose a new one here, within a day (the link works once):"
        )
        self.stdout.write(f"  {sign_in_link(owner, address)}")
