"""What the general arrangement shows: the ground under the balloons, where each stands, what it says."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from math import hypot

from buildlog.balloon_words import CAP, LINE, Box, Room, Said, Words, dot_box, ring_box, set_words
from buildlog.models import Arrangement, Assembly, Build, Spot
from buildlog.queries import Branch
from buildlog.side_views import SIDE_VIEWS, Place
from buildlog.waiting.standing import Standing
from buildlog.waiting.words import missing_in

#: A picture of one's own is drawn within this many units, so that words and balloons keep their size on it.
WIDEST, TALLEST = 800, 640
#: The ring of a balloon on a wide screen and on a phone, where a finger has to find it. [units]
RING, RING_SMALL, RING_SMALL_DRAWN = 19.0, 32.0, 40.0
#: Room that a balloon keeps from the edge. [units]
EDGE = 25.0
ROUNDS = 24


@dataclass(frozen=True)
class Ground:
    """What lies under the balloons, and its size in the units it is drawn in."""

    left: float
    top: float
    width: float
    height: float
    template: str = ""
    drawn: Mapping[str, Place] = field(default_factory=dict)
    picture: Arrangement | None = None
    spots: Mapping[int, Spot] = field(default_factory=dict)

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    @property
    def box(self) -> str:
        return f"{self.left:g} {self.top:g} {self.width:g} {self.height:g}"

    @property
    def small(self) -> float:
        """The ring of a balloon on a phone."""
        return RING_SMALL if self.picture else RING_SMALL_DRAWN

    @property
    def spot_wide(self) -> tuple[int, int]:
        """Its size where it is clicked without a script, on a wide screen. [px]"""
        return self._fitted(960, 720)

    @property
    def spot_small(self) -> tuple[int, int]:
        return self._fitted(320, 480)

    def _fitted(self, width: int, height: int) -> tuple[int, int]:
        by = min(width / self.width, height / self.height)
        return max(1, round(self.width * by)), max(1, round(self.height * by))

    def spot_of(self, assembly: Assembly) -> Spot | None:
        """Where the balloon stands, by hand or as drawn, in shares of the picture."""
        if assembly.pk in self.spots:
            return self.spots[assembly.pk]
        place = self.drawn.get(assembly.balloon)
        return self.drawn_spot(place) if place else None

    def drawn_spot(self, place: Place) -> Spot:
        return (
            _share((place.end_x - self.left) / self.width),
            _share((place.end_y - self.top) / self.height),
            _share((place.x - self.left) / self.width),
            _share((place.y - self.top) / self.height),
        )


def _share(value: float) -> Decimal:
    """A share of the picture to a tenth of a per cent, as it is typed."""
    return Decimal(f"{min(1.0, max(0.0, value)):.3f}")


def ground_of(build: Build) -> Ground | None:
    """The builder's own picture, or the side view the site draws; None where there is neither."""
    rows = list(build.arrangements.filter(binned_at=None).prefetch_related("places"))
    own = next((row for row in rows if not row.is_drawn), None)
    if own:
        by = min(WIDEST / own.width, TALLEST / own.height)
        return Ground(0, 0, own.width * by, own.height * by, picture=own, spots=_spots(own))
    return drawn_ground(build, next((_spots(row) for row in rows), {}))


def drawn_ground(build: Build, moved: Mapping[int, Spot] | None = None) -> Ground | None:
    """The side view the site draws for a build, where it draws one; `moved` are its balloons put by hand."""
    view = SIDE_VIEWS.get(build.side_view)
    if view is None:
        return None
    return Ground(*view.box, template=view.template, drawn=view.places, spots=moved or {})


def _spots(arrangement: Arrangement) -> dict[int, Spot]:
    return {place.assembly_id: place.spot for place in arrangement.places.all()}


@dataclass(frozen=True)
class Balloon:
    """An assembly on the arrangement: where its balloon stands, and what it says."""

    branch: Branch
    place: Place
    lines: tuple[Said, ...]
    is_by_hand: bool
    words: Words = field(default_factory=Words)

    @property
    def number(self) -> str:
        return label_of(self.branch.assembly)

    @property
    def is_long(self) -> bool:
        return len(self.number) > 2

    @property
    def small_number_y(self) -> float:
        return self.place.small_y + (9 if self.is_long else 15)

    @property
    def in_hand_arc(self) -> str:
        """The share in hand as a dash of a ring of 100 units."""
        tally = self.branch.tally
        return f"{100 * tally.in_hand / tally.total:.1f}" if tally.total else "0"

    @property
    def in_hand_turn(self) -> str:
        """Where that dash begins: after the share that is made. [degrees]"""
        tally = self.branch.tally
        return f"{360 * tally.made / tally.total - 90:.1f}" if tally.total else "-90"

    @property
    def said(self) -> list[Said]:
        """Its name, its counts and what stands in its way."""
        tally = self.branch.tally
        in_hand = f", {tally.in_hand} in hand" if tally.in_hand else ""
        made = Said(f"{tally.made} of {tally.total} made{in_hand}", "cn")
        return [Said(self.branch.assembly.name, "nm"), made, *self.lines]

    @property
    def told(self) -> str:
        """All of it in words, for those who cannot see it."""
        tally = self.branch.tally
        said = [f"{tally.made} of {tally.total} made", f"{tally.in_hand} in hand"]
        said += [f"{tally.not_started} not started", *(line.words for line in self.lines if line.mark)]
        return f"{self.number} {self.branch.assembly.name}: {', '.join(said)}"


def label_of(assembly: Assembly) -> str:
    """What stands in the balloon: its number, or the letters of an assembly that has none."""
    return assembly.balloon or assembly.code[:6]


def balloons_of(
    ground: Ground, branches: Iterable[Branch], standing: Standing, errata: set[int]
) -> list[Balloon]:
    """The balloons that have a place, in the order of the key."""
    found = []
    for branch in branches:
        place = _place_of(ground, branch.assembly)
        if place:
            lines = tuple(lines_of(branch, standing, errata))
            found.append(Balloon(branch, place, lines, branch.assembly.pk in ground.spots))
    return _with_words(ground, _on_a_phone(ground, found))


def _with_words(ground: Ground, balloons: Sequence[Balloon]) -> list[Balloon]:
    """Words where the drawing was laid out for them; beside balloons put by hand where there is room."""
    room = Room(Box(ground.left, ground.top, ground.right, ground.bottom))
    for one in balloons:
        room.take([ring_box(one.place.x, one.place.y), dot_box(one.place.end_x, one.place.end_y)])
    for one in balloons:
        if not one.is_by_hand:
            left, top = one.place.words_x, one.place.words_y - CAP
            wide, high = max(said.width for said in one.said), LINE * len(one.said)
            room.take([Box(left, top, left + wide, top + high)])
    found = []
    for one in balloons:
        if one.is_by_hand:
            wanted = (one.said, one.said[1:], one.said[2:])
            words = room.words_beside(one.place.x, one.place.y, wanted)
        else:
            words = set_words(one.said, one.place.words_x, one.place.words_y)
        found.append(replace(one, words=words))
    return found


def lines_of(branch: Branch, standing: Standing, errata: set[int]) -> list[Said]:
    """What stands in the way of an assembly, in a few words; or that nothing does."""
    tally, wrong = branch.tally, len(branch.parts & errata)
    lines: list[Said] = []
    if tally.all_made:
        lines.append(Said(f"all made{' and painted' if tally.all_finished else ''}", "is-done", "ok"))
    elif tally.waiting:
        missing = missing_in(standing, branch.parts)[:1]
        for casting, how, held in missing:
            lines.append(Said(f"{_wait(held)} for {casting.number}", how.ink, how.mark))
        if not missing:
            lines.append(Said(_wait(tally.waiting), "is-wait", "wait"))
    if wrong:
        lines.append(Said(errata_words(wrong), "is-stop", "err"))
    return lines or [Said(f"{tally.not_started} not started", "cn")]


def _wait(count: int) -> str:
    return f"{count} wait{'s' if count == 1 else ''}"


def errata_words(count: int) -> str:
    return f"errata on {count} part{'' if count == 1 else 's'}"


def _place_of(ground: Ground, assembly: Assembly) -> Place | None:
    spot = ground.spots.get(assembly.pk)
    return placed(ground, spot) if spot else ground.drawn.get(assembly.balloon)


def placed(ground: Ground, spot: Spot) -> Place:
    """A balloon that was put by hand: where its leader leaves the ring, and where it ends."""
    end_x, x = (ground.left + float(share) * ground.width for share in (spot[0], spot[2]))
    end_y, y = (ground.top + float(share) * ground.height for share in (spot[1], spot[3]))
    x, y = _clamped(x, ground.left, ground.right, EDGE), _clamped(y, ground.top, ground.bottom, EDGE)
    far = hypot(end_x - x, end_y - y)
    ring = RING / far if far > RING else 1.0
    return Place(
        x=round(x, 1),
        y=round(y, 1),
        lead_x=round(x + (end_x - x) * ring, 1),
        lead_y=round(y + (end_y - y) * ring, 1),
        end_x=round(end_x, 1),
        end_y=round(end_y, 1),
        small_x=x,
        small_y=y,
    )


def _clamped(value: float, low: float, high: float, edge: float) -> float:
    """So far within both edges; in the middle where there is not the room."""
    if high - low < 2 * edge:
        return (low + high) / 2
    return min(max(value, low + edge), high - edge)


def _on_a_phone(ground: Ground, balloons: Sequence[Balloon]) -> list[Balloon]:
    """The larger balloons of a phone moved apart, so that a finger meets one of them and no other."""
    ring = ground.small + 3
    spots = [[balloon.place.small_x, balloon.place.small_y] for balloon in balloons]
    for _ in range(ROUNDS):
        for spot in spots:
            spot[0] = _clamped(spot[0], ground.left, ground.right, ring)
            spot[1] = _clamped(spot[1], ground.top, ground.bottom, ring)
        if not _push_apart(spots, 2 * ring):
            break
    return [
        replace(balloon, place=replace(balloon.place, small_x=round(x, 1), small_y=round(y, 1)))
        for balloon, (x, y) in zip(balloons, spots, strict=True)
    ]


def _push_apart(spots: list[list[float]], wanted: float) -> bool:
    """Move each pair that is too near a step apart; whether any was."""
    any_moved = False
    for place, one in enumerate(spots):
        for other in spots[place + 1 :]:
            across, down = other[0] - one[0], other[1] - one[1]
            far = hypot(across, down)
            if far >= wanted - 0.5:
                continue
            any_moved = True
            # Two on one spot go apart sideways.
            step = (wanted - far) / 2
            move = (across / far * step, down / far * step) if far else (step, 0.0)
            one[0], one[1] = one[0] - move[0], one[1] - move[1]
            other[0], other[1] = other[0] + move[0], other[1] + move[1]
    return any_moved


def not_placed(ground: Ground, tree: Iterable[Branch]) -> list[Assembly]:
    """The assemblies that no balloon leads to: neither their own nor that of one they are within."""
    found: list[Assembly] = []
    for branch in tree:
        if ground.spot_of(branch.assembly) is None:
            below = [one.assembly for child in branch.children for one in child.walk()]
            if any(ground.spot_of(one) for one in below):
                found += [branch.assembly, *not_placed(ground, branch.children)]
            else:
                found.append(branch.assembly)
    return found
