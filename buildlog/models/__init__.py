"""The nouns of a build; every model is imported from here."""

from buildlog.models.assemblies import Assembly
from buildlog.models.builds import Build, Currency, Membership, Role, Units
from buildlog.models.cards import Paper, WorkCard
from buildlog.models.history import HistoryLine
from buildlog.models.lists import ListDraft
from buildlog.models.parts import Hand, Kind, Part, PartQuerySet, PartUse, Stage
from buildlog.models.workshop import DividingHead, GearCutter, IndexPlate, Numbering

__all__ = [
    "Assembly",
    "Build",
    "Currency",
    "DividingHead",
    "GearCutter",
    "Hand",
    "HistoryLine",
    "IndexPlate",
    "Kind",
    "ListDraft",
    "Membership",
    "Numbering",
    "Paper",
    "Part",
    "PartQuerySet",
    "PartUse",
    "Role",
    "Stage",
    "Units",
    "WorkCard",
]
