"""How a command says that it cannot go on: one line, with the program's name before it."""

from django.core.management.base import CommandError


class RefusalError(CommandError):
    """A command cannot go on; the message says why and what to do."""


# Django prints the name of the class before the message.
RefusalError.__name__ = "Hornplate"
