"""`manage.py start`: everything a run needs, then the site itself."""

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.core.management.base import BaseCommand
from django.db import DatabaseError

from buildlog import network, serving
from buildlog.management.refusal import RefusalError

LAN_WARNING = (
    "Everybody on this network can reach the sign-in page, and what is sent is not encrypted: "
    "use it at home, not on a network that strangers share."
)


class Command(BaseCommand):
    help = "Start the site: bring the database up to date, collect the static files, and serve."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--demo", action="store_true", help="load the demo build as well, once")
        parser.add_argument("--port", type=int, default=8000, help="the port to listen on (8000)")
        parser.add_argument(
            "--lan", action="store_true", help="let other machines on the local network in as well"
        )

    def handle(self, *_args: Any, **options: Any) -> None:
        if not 0 <= options["port"] <= 65535:
            raise RefusalError(f"--port is {options['port']}; ports go from 1 to 65535.")
        try:
            listener = network.listen(
                network.EVERYWHERE if options["lan"] else network.LOCAL, options["port"]
            )
        except network.PortError as error:
            raise RefusalError(str(error)) from error
        with listener, serving.ending_cleanly():
            place = self.choose_place(listener.getsockname()[1], lan=options["lan"])
            self.make_ready(place, demo=options["demo"])
            server = serving.make_server(listener)
            self.say("Stop it with Ctrl-C.")
            server.run()
        self.say("Hornplate has stopped.")

    def choose_place(self, port: int, *, lan: bool) -> serving.Place:
        place = serving.network_place(port) if lan else serving.local_place(port)
        if place is None:
            raise RefusalError("This machine has no address on a network; start it without --lan.")
        serving.answer_to(place)
        return place

    def make_ready(self, place: serving.Place, *, demo: bool) -> None:
        try:
            serving.migrate_when_needed()
            serving.collect_static_when_changed()
            owner = self.prepare_owner(demo=demo)
        except (DatabaseError, OSError) as error:
            raise RefusalError(f"The data in {settings.DATA_FOLDER} cannot be used: {error}") from error
        self.say_where(place)
        self.say_link(owner, place)

    def prepare_owner(self, *, demo: bool) -> User:
        from buildlog.actions.owner_account import owner_account

        owner = owner_account()
        if demo:
            from buildlog.actions.demo import load_demo

            self.say(load_demo(owner))
        return owner

    def say_where(self, place: serving.Place) -> None:
        self.say(f"Hornplate is at {place.addresses[0]}/")
        if place.hosts:
            self.say(f"It answers to {', '.join(place.addresses)} and no other name. {LAN_WARNING}")
        if settings.SITE_ADDRESS:
            self.say(f"Links and QR codes on cards point to {settings.SITE_ADDRESS}/")

    def say_link(self, owner: User, place: serving.Place) -> None:
        from buildlog.actions.owner_account import sign_in_link

        if owner.has_usable_password():
            return
        address = settings.SITE_ADDRESS if settings.IS_ENCRYPTED else place.addresses[0]
        self.say(
            f"No password has been chosen yet for {owner.get_username()!r}. "
            "Choose one here, within a day (the link works once):"
        )
        self.say(f"  {sign_in_link(owner, address)}")

    def say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()
