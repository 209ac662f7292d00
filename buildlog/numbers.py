"""Part numbers and hands: the one way to write them, read them and put them in order."""

import re

_KEY = re.compile(r"^(?P<number>.*?)(?:[\s\-_/]*(?<![A-Z0-9])(?P<hand>[LR]|LH|RH|LEFT|RIGHT))?$")
_ALLOWED = re.compile(r"^[A-Z0-9](?:[A-Z0-9./\-]*[A-Z0-9])?$")
_DIGITS = re.compile(r"\d+")
_SPLIT = re.compile(
    r"^\s*(\d{1,5})\s*\(\s*(\d{1,5})\s*([LR])H?\s*[,+ ]\s*(\d{1,5})\s*([LR])H?\s*\)\s*$", re.I
)

HANDS = {"": "", "L": "L", "LH": "L", "LEFT": "L", "R": "R", "RH": "R", "RIGHT": "R"}


def read_hand(text: str) -> str | None:
    """`L`, `R` or no hand from what was typed; None where it is no hand."""
    word = text.strip().upper().strip(".")
    return "" if word in {"-", "–", "NONE", "NO HAND"} else HANDS.get(word)


def read_number(text: str) -> tuple[str, str]:
    """The number and hand meant: `h-021 l` is ("H-021", "L").

    Raises
    ------
    ValueError
        The text cannot be a part number; the message says why and what to write.
    """
    tidy = re.sub(r"\s*-\s*", "-", " ".join(text.upper().replace("–", "-").split()))
    match = _KEY.match(tidy)
    number, hand = (match["number"].rstrip(" -_/"), HANDS[match["hand"] or ""]) if match else (tidy, "")
    number = number.replace(" ", "-")
    if not number:
        raise ValueError("A part needs a number, as S-016.")
    if len(number) > 20:
        raise ValueError(f"A number has at most 20 signs; this has {len(number)}. Put the rest in the name.")
    if not _ALLOWED.match(number):
        raise ValueError(
            "A number is letters A to Z and figures, with - . or / between them, as S-016; "
            "the hand follows as -L or -R."
        )
    return number, hand


def key_of(number: str, hand: str) -> str:
    """The one way a part is written: `H-021-L`."""
    return f"{number}-{hand}" if hand else number


def number_key(number: str) -> str:
    """A text that sorts as a person sorts numbers: S-9 before S-10."""
    return _DIGITS.sub(lambda run: run[0].lstrip("0").rjust(6, "0"), number)


def read_split(text: str) -> dict[str, int] | None:
    """`2 (1L 1R)` typed as a quantity is {"L": 1, "R": 1}; None where it is no such entry.

    Raises
    ------
    ValueError
        The two hands do not add up to the number before them, are the same hand twice, or one of them
        has none or too many.
    """
    match = _SPLIT.match(text)
    if not match:
        return None
    total, first, first_hand, second, second_hand = match.groups()
    if first_hand.upper() == second_hand.upper():
        raise ValueError(
            "Both counts are for the same hand. Write the one with L and the other with R, as 2 (1L 1R)."
        )
    if int(first) + int(second) != int(total):
        raise ValueError(
            f"{first} and {second} do not make {total}. Write them so that they add up, as 2 (1L 1R)."
        )
    if not all(1 <= int(count) <= 9_999 for count in (first, second)):
        raise ValueError("Each hand needs from 1 to 9999. Write them as 2 (1L 1R).")
    return {first_hand.upper(): int(first), second_hand.upper(): int(second)}
