"""The nouns of a build; every model is imported from here."""

from buildlog.models.arrangement import Arrangement, BalloonPlace, Spot
from buildlog.models.assemblies import Assembly
from buildlog.models.backups import Backup
from buildlog.models.builds import Build, Currency, Membership, Role, Units
from buildlog.models.cards import Paper, WorkCard
from buildlog.models.castings import (
    Casting,
    CastingNeed,
    CastingNumbers,
    Mate,
    PartFirst,
    casting_key,
    casting_sense,
)
from buildlog.models.changes import Change, ChangedRow
from buildlog.models.drawings import Drawing, Projection, SheetIssue, SheetUnits
from buildlog.models.errata import Dealing, Erratum, ErratumIssue, ErratumPart, InIssue
from buildlog.models.history import HistoryLine
from buildlog.models.lists import ListDraft
from buildlog.models.log import LogEntry, LogVersion, TimeKind
from buildlog.models.made import (
    DECISIONS,
    Characteristic,
    Concession,
    ConcessionMate,
    Decision,
    Reading,
)
from buildlog.models.parts import Hand, Kind, Part, PartQuerySet, PartUse, Stage
from buildlog.models.photos import DatedBy, Photo, PhotoKind, PhotoQuerySet
from buildlog.models.scrap import Cause, LessonShown, Scrap, ScrapQuerySet, ShowOn, Spoilt, Told
from buildlog.models.sheet_files import SheetFile, SheetFileQuerySet, SheetKind
from buildlog.models.stores import Happening, Order, OrderLine, StoresEvent, Supplier
from buildlog.models.threads import Side, ThreadUse
from buildlog.models.workshop import DividingHead, GearCutter, IndexPlate, Numbering

__all__ = [
    "DECISIONS",
    "Arrangement",
    "Assembly",
    "Backup",
    "BalloonPlace",
    "Build",
    "Casting",
    "CastingNeed",
    "CastingNumbers",
    "Cause",
    "Change",
    "ChangedRow",
    "Characteristic",
    "Concession",
    "ConcessionMate",
    "Currency",
    "DatedBy",
    "Dealing",
    "Decision",
    "DividingHead",
    "Drawing",
    "Erratum",
    "ErratumIssue",
    "ErratumPart",
    "GearCutter",
    "Hand",
    "Happening",
    "HistoryLine",
    "InIssue",
    "IndexPlate",
    "Kind",
    "LessonShown",
    "ListDraft",
    "LogEntry",
    "LogVersion",
    "Mate",
    "Membership",
    "Numbering",
    "Order",
    "OrderLine",
    "Paper",
    "Part",
    "PartFirst",
    "PartQuerySet",
    "PartUse",
    "Photo",
    "PhotoKind",
    "PhotoQuerySet",
    "Projection",
    "Reading",
    "Role",
    "Scrap",
    "ScrapQuerySet",
    "SheetFile",
    "SheetFileQuerySet",
    "SheetIssue",
    "SheetKind",
    "SheetUnits",
    "ShowOn",
    "Side",
    "Spoilt",
    "Spot",
    "Stage",
    "StoresEvent",
    "Supplier",
    "ThreadUse",
    "TimeKind",
    "Told",
    "Units",
    "WorkCard",
    "casting_key",
    "casting_sense",
]
