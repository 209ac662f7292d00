"""A note on a dividing job checked against itself; it reads only what is sure, and is silent otherwise."""

import re
from dataclasses import dataclass

#: `29 of 47 cut`, `29 of the 47 teeth cut`, `29 teeth of 47`, `cut 29 of 47`.
_CUT = re.compile(
    r"(?:\bcut )?\b(?<![\d.,/])(?P<cut>\d{1,4})(?: teeth)?(?: cut)? of (?:the )?(?P<of>\d{1,4})\b(?![.,/]\d)"
    r"(?: (?:teeth|cut)\b)*",
    re.I,
)
_IS_OF_TEETH = re.compile(r"\b(?:cut|teeth)\b", re.I)
#: `pin 32 holes on`, `pin is at hole 32`.
_PIN = re.compile(
    r"\bpin(?: now)?(?: is| stands)?(?: now)? "
    r"(?:(?P<on>\d{1,3}) holes? on\b|(?:at|in) hole (?P<hole>\d{1,3})\b)",
    re.I,
)
#: `head indexed ready for 30,`, `indexed for tooth 30`; not `ready for 5 pm`, nor `ready for 2 more passes`.
_READY = re.compile(
    r"\b(?:ready|indexed) for (?:tooth |number |no\.? ?)?(?P<ready>\d{1,4})(?=\s*(?:[,;:)]|\.(?!\d)|$))", re.I
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One move of the dividing head: whole turns of the crank, and spaces on a circle."""

    divisions: int
    circle: int
    turns: int
    spaces: int

    @property
    def words(self) -> str:
        turned = f"{self.turns} turn{'' if self.turns == 1 else 's'}"
        said = [turned] if self.turns else []
        said += [str(self.spaces)] if self.spaces or not self.turns else []
        return f"{' and '.join(said)} in the {self.circle} circle"

    def hole_after(self, moves: int) -> int:
        """The hole the pin stands at after so many moves, counted from its first hole."""
        return moves * self.spaces % self.circle


@dataclass(frozen=True, slots=True)
class Note:
    """What a note says of a dividing job."""

    cut: int
    of: int
    pin: int
    ready: int | None = None  # the tooth that the head is set for


@dataclass(frozen=True, slots=True)
class Finding:
    """Whether a note agrees with itself, in a sentence."""

    agrees: bool
    words: str


def read_note(text: str) -> Note | None:
    """What a note says; None where it does not say all of it, or says it twice and differently."""
    tidy = " ".join(text.split())
    cuts = {
        (int(match["cut"]), int(match["of"]))
        for match in _CUT.finditer(tidy)
        if _IS_OF_TEETH.search(match[0])
    }
    pins = {int(match["on"] or match["hole"]) for match in _PIN.finditer(tidy)}
    ready = {int(match["ready"]) for match in _READY.finditer(tidy)}
    if len(cuts) != 1 or len(pins) != 1 or len(ready) > 1:
        return None
    cut, of = cuts.pop()
    return Note(cut, of, pins.pop(), ready.pop() if ready else None)


def check_note(text: str, move: Move) -> Finding | None:
    """Whether a note agrees with the move it was divided by.

    After so many moves of so many spaces the pin stands at their product, less whole rounds of the circle.
    Before the head is indexed for the next tooth one move less has been made than teeth are cut; where the
    note does not say which of the two, either will do. None where the note cannot be of this move, or does
    not say enough.
    """
    note = read_note(text)
    if note is None or note.of != move.divisions or note.cut < 1:
        return None
    if note.cut > note.of:
        return Finding(False, f"{note.cut} of {note.of} cannot be cut: count again before the next cut")
    if note.ready is not None and note.ready != note.cut + 1:
        return Finding(
            False,
            f"{note.cut} are cut and the head is set for {note.ready}, but {note.cut + 1} comes next: "
            "look which is right before the next cut",
        )
    return _of_pin(note, move)


def _of_pin(note: Note, move: Move) -> Finding:
    moves = note.cut
    if note.pin == move.hole_after(moves):
        return Finding(True, f"{_left(moves, move)}: the note agrees with itself")
    if note.ready is None and note.pin == move.hole_after(moves - 1):
        left = _left(moves - 1, move)
        return Finding(True, f"{left}: the note agrees, with the move after cut {note.cut} still to make")
    left = _left(moves, move)
    return Finding(False, f"{left}, and the note says {note.pin}: look which is right before the next cut")


def _left(moves: int, move: Move) -> str:
    hole = move.hole_after(moves)
    where = f"at hole {hole}" if hole else "in its first hole"
    verb, many = ("leaves", "1 move") if moves == 1 else ("leave", f"{moves} moves")
    return f"{many} of {move.words} {verb} the pin {where}"
