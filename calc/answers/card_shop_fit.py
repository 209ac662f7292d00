"""What a kept workshop fit puts on a work card: a hole reamed to size, the limits of the shaft."""

from calc.answers.card_inch_limits import ASKS, KIND, ROLE, WORDS, share_of, unit_of
from calc.answers.card_shapes import CardSum, Typed
from calc.catalogue.shop_fit import fit_words
from calc.models import CalculationRecord

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept workshop fit."""
    return share_of(record, typed, fit_words(record.inputs))
