"""Who may see and change what: everything here answers with the thing itself, or with 404."""

from typing import TypeVar

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Model, Q, QuerySet
from django.http import Http404
from django.shortcuts import get_object_or_404

from buildlog.models import (
    Arrangement,
    Assembly,
    Build,
    Casting,
    Change,
    Characteristic,
    Concession,
    ConcessionMate,
    DividingHead,
    Drawing,
    Erratum,
    GearCutter,
    LogEntry,
    Order,
    OrderLine,
    Part,
    Photo,
    Reading,
    Role,
    Scrap,
    SheetFile,
    StoresEvent,
    Supplier,
    ThreadUse,
    WorkCard,
)
from calc.models import CalculationRecord

Viewer = AbstractBaseUser | AnonymousUser
OfBuild = TypeVar("OfBuild", bound=Model)


def build_to_read(user: Viewer, pk: int) -> Build:
    """The build, if the user is a member of it."""
    return get_object_or_404(Build.objects.seen_by(user), pk=pk)


def build_among_others(user: Viewer, pk: int) -> tuple[Build, list[Build]]:
    """The build, if the user is a member of it, and the others that the user is a member of."""
    builds = list(Build.objects.seen_by(user).with_picture())
    found = next((build for build in builds if build.pk == pk), None)
    if found is None:
        raise Http404("There is no such build.")
    return found, [build for build in builds if build.pk != pk]


def build_to_write(user: Viewer, pk: int) -> Build:
    """The build, if the user may change it: every member may."""
    return build_to_read(user, pk)


def build_to_own(user: Viewer, pk: int) -> Build:
    """The build, if the user is an owner of it: settling members, taking the build away."""
    # One filter for both: in two, the owner could be any other member.
    return get_object_or_404(Build, pk=pk, memberships__user_id=user.pk, memberships__role=Role.OWNER)


def assembly_to_read(user: Viewer, pk: int) -> Assembly:
    """The assembly with its build, if the user is a member."""
    return _of_build(Assembly.objects.select_related("build", "parent"), user, pk)


def assembly_to_write(user: Viewer, pk: int) -> Assembly:
    """The assembly, if the user may change its build."""
    return assembly_to_read(user, pk)


def part_to_read(user: Viewer, pk: int) -> Part:
    """The part with its build and needed number, if the user is a member; in the bin or not."""
    found = Part.objects.select_related("build").with_needed().with_issue().with_asked()
    return _of_build(found, user, pk)


def part_to_write(user: Viewer, pk: int) -> Part:
    """The part, if the user may change its build and it is not in the bin."""
    part = part_to_read(user, pk)
    if part.binned_at:
        raise Http404("This part is in the bin.")
    return part


def card_to_read(user: Viewer, pk: int) -> WorkCard:
    """The work card with its part and build, if the user is a member."""
    return _of_build(WorkCard.objects.select_related("build", "part"), user, pk)


def casting_to_read(user: Viewer, pk: int) -> Casting:
    """The casting with its build, if the user is a member."""
    return _of_build(Casting.objects.select_related("build"), user, pk)


def casting_to_write(user: Viewer, pk: int) -> Casting:
    """The casting, if the user may change its build."""
    return casting_to_read(user, pk)


def order_to_read(user: Viewer, pk: int) -> Order:
    """The order with its supplier and build, if the user is a member."""
    return _of_build(Order.objects.select_related("build", "supplier"), user, pk)


def order_to_write(user: Viewer, pk: int) -> Order:
    """The order, if the user may change its build."""
    return order_to_read(user, pk)


def order_line_to_write(user: Viewer, pk: int) -> OrderLine:
    """A line of an order with its order and casting, if the user may change the build."""
    lines = OrderLine.objects.select_related("order__build", "order__supplier", "casting__build")
    return get_object_or_404(lines.filter(order__build__in=Build.objects.seen_by(user)), pk=pk)


def supplier_to_write(user: Viewer, pk: int) -> Supplier:
    """The supplier with its build, if the user may change it."""
    return _of_build(Supplier.objects.select_related("build"), user, pk)


def stores_event_to_write(user: Viewer, pk: int) -> StoresEvent:
    """What happened to a casting, if the user may change the build."""
    return _of_build(StoresEvent.objects.select_related("build", "casting", "line__order"), user, pk)


def drawing_to_read(user: Viewer, pk: int) -> Drawing:
    """The sheet in the register of drawings with its build, if the user is a member."""
    return _of_build(Drawing.objects.select_related("build"), user, pk)


def drawing_to_write(user: Viewer, pk: int) -> Drawing:
    """The sheet, if the user may change its build."""
    return drawing_to_read(user, pk)


def erratum_to_read(user: Viewer, pk: int) -> Erratum:
    """The erratum with its sheet and build, if the user is a member."""
    return _of_build(Erratum.objects.select_related("build", "drawing__build"), user, pk)


def erratum_to_write(user: Viewer, pk: int) -> Erratum:
    """The erratum, if the user may change its build."""
    return erratum_to_read(user, pk)


def sheet_file_to_read(user: Viewer, pk: int) -> SheetFile:
    """The file of a sheet with its issue, sheet and build, if the user is a member; in the bin or not."""
    found = SheetFile.objects.select_related("issue__drawing__build", "by")
    return get_object_or_404(found.filter(issue__drawing__build__in=Build.objects.seen_by(user)), pk=pk)


def sheet_file_to_write(user: Viewer, pk: int) -> SheetFile:
    """The file of a sheet, if the user may change its build."""
    return sheet_file_to_read(user, pk)


def log_entry_to_read(user: Viewer, pk: int) -> LogEntry:
    """The entry in the log with its part and build, if the user is a member."""
    return _of_build(LogEntry.objects.select_related("build", "part", "by"), user, pk)


def log_entry_to_write(user: Viewer, pk: int) -> LogEntry:
    """The entry, if the user may change its build."""
    return log_entry_to_read(user, pk)


def change_to_read(user: Viewer, pk: int) -> Change:
    """The change, if the user is a member of its build, or made it to their own tools."""
    mine = Q(build__in=Build.objects.seen_by(user)) | Q(build=None, by=user.pk)
    found = Change.objects.select_related("build", "by", "undoes", "undone_by")
    return get_object_or_404(found.filter(mine), pk=pk)


def change_to_write(user: Viewer, pk: int) -> Change:
    """The change, if the user may undo it."""
    return change_to_read(user, pk)


def characteristic_to_write(user: Viewer, pk: int) -> Characteristic:
    """The characteristic with its part, if the user may change the build and the part is not in the bin."""
    found = Characteristic.objects.select_related("part__build").filter(part__binned_at=None)
    return get_object_or_404(found.filter(part__build__in=Build.objects.seen_by(user)), pk=pk)


def reading_to_write(user: Viewer, pk: int) -> Reading:
    """The reading with its part, if the user may change the build and the part is not in the bin."""
    found = Reading.objects.select_related("characteristic__part__build")
    mine = found.filter(characteristic__part__build__in=Build.objects.seen_by(user))
    return get_object_or_404(mine.filter(characteristic__part__binned_at=None), pk=pk)


def concession_to_read(user: Viewer, pk: int) -> Concession:
    """The concession with its part, reading and build, if the user is a member."""
    found = Concession.objects.select_related("build", "part", "reading__characteristic", "decided_by")
    return _of_build(found, user, pk)


def concession_to_write(user: Viewer, pk: int) -> Concession:
    """The concession, if the user may change its build."""
    return concession_to_read(user, pk)


def telling_to_write(user: Viewer, pk: int) -> ConcessionMate:
    """A mate that must be told of a concession, if the user may change the build."""
    found = ConcessionMate.objects.select_related(
        "mate", "concession__part", "concession__reading__characteristic"
    )
    return get_object_or_404(found.filter(concession__build__in=Build.objects.seen_by(user)), pk=pk)


def photo_to_read(user: Viewer, pk: int) -> Photo:
    """The photo with its build and what it belongs to, if the user is a member; in the bin or not."""
    return _of_build(
        Photo.objects.select_related("build", "part", "entry", "casting", "concession", "by"), user, pk
    )


def photo_to_write(user: Viewer, pk: int) -> Photo:
    """The photo, if the user may change its build."""
    return photo_to_read(user, pk)


def scrap_to_read(user: Viewer, pk: int) -> Scrap:
    """The entry of the scrap book with its part and build, if the user is a member; in the bin or not."""
    return _of_build(Scrap.objects.select_related("build", "part", "by"), user, pk)


def scrap_to_write(user: Viewer, pk: int) -> Scrap:
    """The entry, if the user may change its build."""
    return scrap_to_read(user, pk)


def thread_to_write(user: Viewer, pk: int) -> ThreadUse:
    """A thread of a part, if the user may change the build and the part is not in the bin."""
    found = ThreadUse.objects.select_related("part__build").filter(part__binned_at=None)
    return get_object_or_404(found.filter(part__build__in=Build.objects.seen_by(user)), pk=pk)


def arrangement_to_read(user: Viewer, pk: int) -> Arrangement:
    """A picture for the general arrangement with its build, if the user is a member; in the bin or not."""
    return _of_build(Arrangement.objects.pictures().select_related("build"), user, pk)


def arrangement_to_write(user: Viewer, pk: int) -> Arrangement:
    """The picture, if the user may change its build."""
    return arrangement_to_read(user, pk)


def record_to_read(user: Viewer, pk: int) -> CalculationRecord:
    """The kept sum: of a part whose build the user is a member of, or one's own with no part."""
    mine = Q(part__build__memberships__user_id=user.pk) | Q(part=None, made_by_id=user.pk)
    return get_object_or_404(
        CalculationRecord.objects.select_related("part__build", "made_by").filter(mine), pk=pk
    )


def head_to_write(user: Viewer, pk: int) -> DividingHead:
    """One's own dividing head with its plates."""
    return get_object_or_404(DividingHead.objects.prefetch_related("plates").filter(owner_id=user.pk), pk=pk)


def cutter_to_write(user: Viewer, pk: int) -> GearCutter:
    """One's own gear cutter."""
    return get_object_or_404(GearCutter.objects.filter(owner_id=user.pk), pk=pk)


def _of_build(found: QuerySet[OfBuild], user: Viewer, pk: int) -> OfBuild:
    return get_object_or_404(found.filter(build__memberships__user_id=user.pk), pk=pk)
