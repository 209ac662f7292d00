"""Kernel room: the lines of working and what a sum hands back."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of working: what it is, the formula, the figures, the value, its source."""

    label: str  # "Turns of the crank for one division"
    formula: str  # "ratio / divisions"
    figures: str  # "40 / 84"
    value: str  # "10/21", as shown; the next line uses the unrounded figure
    unit: str  # "turn"; "" for a bare count
    source: str  # in words: title and page, "common practice, no source", "worked here in exact fractions"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Something the builder must know about the answer."""

    code: str  # "no-plain", stable, for programs
    text: str  # one or two sentences, for people


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a sum hands back: results by name, its working, warnings and source keys."""

    results: Mapping[str, Any]
    working: tuple[Step, ...]
    warnings: tuple[Caution, ...] = ()
    sources: tuple[str, ...] = field(default=())
