"""Kernel room: what a sum says when it cannot answer."""

from collections.abc import Sequence
from fractions import Fraction

from calc.kernel.wording import decimal_text


class CalculationError(Exception):
    """A sum that cannot be worked out; never raised itself, only its kinds."""


class OutOfRange(CalculationError):
    """An entry breaks a limit.

    Parameters
    ----------
    field : str
        Name of the entry, as in the catalogue.
    limit : str
        The limit it broke, in words with its unit.
    reason : str
        Why there is a limit and what to do.
    """

    def __init__(self, field: str, limit: str, reason: str) -> None:
        # A reason that is a sentence of its own follows a full stop, and one that goes on a colon.
        super().__init__(f"{limit}{'.' if reason[:1].isupper() else ':'} {reason}")
        self.field = field
        self.limit = limit
        self.reason = reason


class NoSolution(CalculationError):
    """The entries are right, and there is no answer for them.

    Parameters
    ----------
    message : str
        What there is no answer to.
    would_do : sequence of str
        What would make an answer, best first.
    """

    def __init__(self, message: str, would_do: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.would_do = tuple(would_do)


class NotInTable(CalculationError):
    """A table has no row for this size or symbol.

    Parameters
    ----------
    field : str
        Name of the entry, as in the catalogue.
    message : str
        Which table, what it covers and what was asked of it.
    """

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


def check_within(
    field: str,
    value: Fraction | int | None,
    limits: tuple[Fraction | int, Fraction | int],
    unit: str,
    reason: str,
) -> None:
    """Refuse a value outside its limits, by name; one that was not given is not looked at.

    The unit stands after each limit as it is given here: " mm", "°".
    """
    low, high = (Fraction(limit) for limit in limits)
    if value is not None and not low <= value <= high:
        raise OutOfRange(field, f"{decimal_text(low, 6)}{unit} to {decimal_text(high, 6)}{unit}", reason)
