"""Every calculation, found by its key."""

from calc import catalogue as shelf
from calc.calculation import Calculation


def catalogue() -> dict[str, Calculation]:
    """Every calculation by its key, in the order the pages list them."""
    return {calculation.key: calculation for calculation in shelf.CALCULATIONS}


def get(key: str) -> Calculation | None:
    """The calculation of that key, or None."""
    return catalogue().get(key)


def by_job() -> list[tuple[str, list[Calculation]]]:
    """Every calculation under the job it is for, in the order the pages list them."""
    found = catalogue()
    return [(job, [found[one.key] for one in ones if one.key in found]) for job, ones in shelf.JOBS]
