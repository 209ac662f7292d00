"""Spots on a page of a drawing: what is pinned to one, and one that is chosen."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """A numbered balloon on a page, which leads somewhere."""

    number: str
    x: float  # of the page, from its top left corner, 0 to 1
    y: float
    words: str
    url: str
    mark: str = "care"  # one of the marks of the legend

    @property
    def ink(self) -> str:
        return {"ok": "is-done", "care": "is-wait"}.get(self.mark, "is-stop")

    @property
    def figure(self) -> str:
        """What fits into the balloon: `7` of E-007."""
        return self.number.rpartition("-")[2].lstrip("0")

    @property
    def left(self) -> str:
        return f"{self.x * 100:.3f}%"

    @property
    def top(self) -> str:
        return f"{self.y * 100:.3f}%"


def spot_of(asked: Mapping[str, str], size: tuple[int, int]) -> tuple[float, float] | None:
    """The spot that a browser without script sends in pixels of the picture, as parts of the page."""
    try:
        x, y = float(asked["spot.x"]) / size[0], float(asked["spot.y"]) / size[1]
    except (KeyError, ValueError):
        return None
    if not (0 <= x <= 1 and 0 <= y <= 1):
        return None
    return round(x, 4), round(y, 4)
