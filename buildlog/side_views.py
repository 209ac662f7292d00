"""Side views of engines, and where the balloons stand round them."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Place:
    """One balloon in the units of the drawing: centre, leader, words, and its place on a phone."""

    x: float
    y: float
    lead_x: float
    lead_y: float
    end_x: float
    end_y: float
    words_x: float = 0
    words_y: float = 0
    small_x: float = 0
    small_y: float = 0

    @property
    def number_y(self) -> float:
        return self.y + 8


@dataclass(frozen=True)
class SideView:
    """A drawing of an engine, and where each balloon stands on it."""

    template: str
    #: Left, top, width and height of what is seen, in the units of the drawing.
    box: tuple[float, float, float, float]
    places: Mapping[str, Place]


#: By the name of the view.
SIDE_VIEWS = {
    "marlpit": SideView(
        template="buildlog/_side_view_marlpit.html",
        box=(-10, 20, 1220, 694),
        places={
            "1": Place(566, 672, 563.2, 653.2, 530, 429, 596, 664, 455, 386),
            "2": Place(62, 178, 81, 178, 207, 178, 34, 222, 226, 150),
            "3": Place(100, 672, 111.9, 657.2, 190, 560.1, 130, 664, 250, 498.1),
            "4": Place(326, 78, 333.9, 95.3, 410, 263, 356, 66, 423, 283),
            "5": Place(548, 78, 549.6, 96.9, 566, 291, 578, 66, 560, 227),
            "6": Place(864, 180, 852, 194.7, 760.9, 305.7, 894, 168, 772.9, 329.7),
            "7": Place(772, 60, 768.6, 78.7, 745, 209, 802, 48, 661, 269),
            "8": Place(930, 672, 918.1, 657.2, 838.2, 558, 960, 664, 750.2, 497),
            "9": Place(1068, 300, 1057.1, 315.6, 1000, 397, 1046, 346, 960, 437),
        },
    ),
}
