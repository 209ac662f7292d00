"""The words beside balloons: where there is room for them on a picture, and how many of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

#: Heights of a line and of what is heard of it above its foot; widths of a sign: of a name, and of the rest.
LINE, CAP = 18.0, 13.0
NAME_SIGN, SIGN = 8.3, 7.0
#: From the middle of a balloon to the words at its side, and to those above or below it.
ASIDE, APART = 29.0, 28.0
#: What a balloon with its ring takes up round its middle, and the end of a leader.
RING, DOT = 26.0, 5.0
MARK, AFTER_MARK = 14.0, 20.0
TINY = 0.5


@dataclass(frozen=True)
class Said:
    """One line before it has a place: its words, the class of its ink, and its mark, if any."""

    words: str
    ink: str
    mark: str = ""

    @property
    def width(self) -> float:
        sign = NAME_SIGN if self.ink == "nm" else SIGN
        return sign * len(self.words) + (AFTER_MARK if self.mark else 0)


@dataclass(frozen=True)
class Text:
    """One line where it stands; to the left of `x` where its group says so."""

    said: Said
    x: float
    y: float
    mark_x: float = 0
    mark_y: float = 0


@dataclass(frozen=True)
class Box:
    """What something takes up on the picture."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        across = self.left < other.right - TINY and other.left < self.right - TINY
        return across and self.top < other.bottom - TINY and other.top < self.bottom - TINY

    def within(self, other: "Box") -> bool:
        across = other.left <= self.left and self.right <= other.right
        return across and other.top <= self.top and self.bottom <= other.bottom


@dataclass(frozen=True)
class Words:
    """All the lines beside one balloon."""

    texts: tuple[Text, ...] = ()
    to_left: bool = False


@dataclass
class Room:
    """The picture, and what stands on it already."""

    edge: Box
    taken: list[Box] = field(default_factory=list)

    def take(self, boxes: Iterable[Box]) -> None:
        self.taken += boxes

    def words_beside(self, x: float, y: float, wanted: Sequence[Sequence[Said]]) -> Words:
        """The fullest words that go beside a balloon without meeting anything; none where none do."""
        for said in wanted:
            wide, high = max(one.width for one in said), LINE * len(said)
            places = (
                (x + ASIDE, y - high / 2, False),
                (x - ASIDE, y - high / 2, True),
                (x - RING, y + APART, False),
                (x - RING, y - APART - high, False),
                (x + RING, y + APART, True),
                (x + RING, y - APART - high, True),
            )
            for at, top, to_left in places:
                left = at - wide if to_left else at
                box = Box(left, top, left + wide, top + high)
                if box.within(self.edge) and not any(box.meets(other) for other in self.taken):
                    self.taken.append(box)
                    return set_words(said, at, top + CAP, to_left=to_left)
        return Words()


def ring_box(x: float, y: float) -> Box:
    """What a balloon takes up."""
    return Box(x - RING, y - RING, x + RING, y + RING)


def dot_box(x: float, y: float) -> Box:
    """What the end of a leader takes up."""
    return Box(x - DOT, y - DOT, x + DOT, y + DOT)


def set_words(said: Sequence[Said], x: float, first: float, *, to_left: bool = False) -> Words:
    """Lines one below the other, the foot of the first at `first`."""
    way = -1 if to_left else 1
    texts = []
    for row, one in enumerate(said):
        foot = round(first + LINE * row, 1)
        mark_x = round(x - MARK if to_left else x, 1)
        at = round(x + way * AFTER_MARK, 1) if one.mark else round(x, 1)
        texts.append(Text(one, at, foot, mark_x, round(foot - 12, 1)))
    return Words(tuple(texts), to_left)
