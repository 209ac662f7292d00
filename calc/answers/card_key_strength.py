"""What a kept sum of a key's strength puts on a work card: how long the key must be."""

from calc.answers.card_shapes import Asked, CardSum, Role, Shown, Typed, codes_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.key_strength import TOO_GREAT
from calc.catalogue.key_strength import key_text, key_unit
from calc.kernel.units import Unit
from calc.models import CalculationRecord

KIND = "key-strength"
WORDS = "a key’s strength"
ROLE: Role = "setting"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit:
    """The unit the key is named in."""
    return "mm" if key_unit(record.inputs) == 1 else "inch"


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept key's strength."""
    shown, key = Shown(unit_of(record), typed.is_mixed), key_text(record.inputs)
    length = shown.size(record.results["length_wanted_mm"])
    made = empty_share(KIND, f"key {key}", f"Cut the key {key}, {length} long or more", ROLE)
    made |= {
        "figures": [
            {
                "label": f"Key {key}, length at least",
                "value": length,
                "unit": shown.beside("without rounded ends"),
                "rank": 83,
            }
        ],
        "notes": [
            {"strong": f"{title} as long as entered.", "text": "See the sum."}
            for code, title in TOO_GREAT.items()
            if code in codes_of(record)
        ],
        "sizes": [{"wanted": f"over {shown.wanted(length)}", "note": "key, what bears of it"}],
        "units": shown.word,
    }
    return made
