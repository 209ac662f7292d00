"""What the work of a kept sum is called at the machine, so that like operations are known by a word."""

from collections.abc import Iterable

from calc.answers.card_registry import SHARES
from calc.answers.card_shapes import Work

#: The words of each kind of work: of "teeth" are all gears, and the dividing they are cut by.
_WORDS: dict[Work, tuple[str, ...]] = {
    "dividing": ("dividing", "teeth"),
    "bore-sequence": ("bore",),
    "fit": ("bore", "turning"),
    "press-fit": ("bore", "turning"),
    "bolt-circle": ("holes",),
    "thread": ("thread",),
    "change-wheels": ("thread",),
    "taper": ("taper", "turning"),
    "keyway": ("keyway",),
    "broaching": ("keyway",),
    "key-strength": ("keyway",),
    "milling-lead": ("helix", "teeth"),
    "spindle-speed": ("turning",),
    "bevel-differential": ("teeth",),
}
_OF_A_GEAR = ("teeth", "dividing")
#: Every such word, the commonest work first; a builder may write another.
OPERATIONS = ("teeth", "dividing", "keyway", "bore", "turning", "thread", "taper", "holes", "helix")


def operations_of(keys: Iterable[str]) -> set[str]:
    """The words for the work of sums, by the keys of the sums."""
    shares = [SHARES[key] for key in keys if key in SHARES]
    return {
        word
        for share in shares
        for word in (_OF_A_GEAR if share.ROLE == "gear" else _WORDS.get(share.KIND, (share.KIND,)))
    }
