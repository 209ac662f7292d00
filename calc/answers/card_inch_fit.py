"""What a kept inch fit puts on a work card: its limits by class."""

from calc.answers.card_inch_limits import ASKS, KIND, ROLE, WORDS, share_of, unit_of
from calc.answers.card_shapes import CardSum, Typed
from calc.models import CalculationRecord

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept inch fit."""
    return share_of(record, typed, str(record.inputs["fit"]))
