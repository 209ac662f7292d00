"""Which kept sums have a share in a work card, and the module that words it: one line a sum."""

from typing import Protocol

from calc.answers import (
    card_bevel_cutting,
    card_bevel_differential,
    card_bevel_pair,
    card_bolt_circle,
    card_bore_sequence,
    card_broaching,
    card_change_wheels,
    card_fit,
    card_helical_gear,
    card_inch_fit,
    card_indexing,
    card_key_strength,
    card_keyway,
    card_milling_lead,
    card_press_fit,
    card_shop_fit,
    card_spindle_speed,
    card_spur_gear,
    card_taper,
    card_tapping_drill,
    card_thread,
    card_worm_pair,
)
from calc.answers.card_shapes import Asked, CardSum, Role, Typed, Work
from calc.kernel.units import Unit
from calc.models import CalculationRecord


class Share(Protocol):
    """What a module must have to give a sum its share in a card."""

    #: The kind of work; sums of one kind stand in for one another, so that a card takes one of them.
    KIND: Work
    #: The kind as a builder calls it, with its article.
    WORDS: str
    ROLE: Role
    #: What the builder is asked for it before the card is made.
    ASKS: frozenset[Asked]

    def share(self, record: CalculationRecord, typed: Typed, /) -> CardSum:
        """What the sum puts on a card; the figures by rank, as `card_joined` orders them."""

    def unit_of(self, record: CalculationRecord, /) -> Unit | None:
        """The unit its figures are printed in; None for counts and degrees alone."""


#: By the key of the sum. Their order is that in which they are named and their notes stand on a card.
SHARES: dict[str, Share] = {
    "spur-gear": card_spur_gear,
    "helical-gear": card_helical_gear,
    "bevel-pair": card_bevel_pair,
    "bevel-cutting": card_bevel_cutting,
    "worm-pair": card_worm_pair,
    "indexing": card_indexing,
    "indexing-schedule": card_indexing,
    "bore-sequence": card_bore_sequence,
    "taper": card_taper,
    "fit": card_fit,
    "inch-fit": card_inch_fit,
    "shop-fit": card_shop_fit,
    "press-fit": card_press_fit,
    "thread": card_thread,
    "tapping-drill": card_tapping_drill,
    "bolt-circle": card_bolt_circle,
    "keyway": card_keyway,
    "broaching": card_broaching,
    "key-strength": card_key_strength,
    "bevel-differential": card_bevel_differential,
    "change-wheels": card_change_wheels,
    "milling-lead": card_milling_lead,
    "spindle-speed": card_spindle_speed,
}
#: The kinds in the order of the shares, each as a builder calls it.
KIND_WORDS: dict[Work, str] = {one.KIND: one.WORDS for one in SHARES.values()}
