"""Builds: begun and changed, who shares them."""

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.models import User
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST

from buildlog import access
from buildlog.actions import owner_account
from buildlog.actions.demo import remove_demo
from buildlog.actions.parts import read_sizes_again
from buildlog.actions.records import write_record
from buildlog.changes import recording
from buildlog.context import LAMPS, site_address
from buildlog.forms.builds import BuildForm, MemberForm
from buildlog.models import Build, Membership, Role
from buildlog.views.pages import member_id, show
from buildlog.views.standing import changes

YEAR = 60 * 60 * 24 * 365


@require_http_methods(["GET", "HEAD", "POST"])
def build_new(request: HttpRequest) -> HttpResponse:
    form = BuildForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            build = form.save()
            Membership.objects.create(build=build, user_id=member_id(request), role=Role.OWNER)
        messages.success(request, f"{build.name} is begun. Bring in its parts list, or add the first part.")
        return redirect("part_list", build.pk)
    return show(
        request,
        "buildlog/build_form.html",
        title="A new build",
        kind="Entry",
        nav="home",
        form=form,
        status=422 if form.errors else 200,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Build, BuildForm)
def build_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """A build's own facts, its members, and its end."""
    build = access.build_to_write(request.user, pk)
    form = BuildForm(request.POST or None, instance=build)
    if request.method == "POST" and form.is_valid():
        with recording(build, f"{build.name} changed", by=request.user):
            write_record(form, build, by=request.user)
            if "units" in form.changed_data:
                read_sizes_again(build)
        messages.success(request, "Written down.")
        return redirect("build_edit", build.pk)
    return _edit_page(request, build, form, MemberForm(), status=422 if form.errors else 200)


@require_POST
def member_add(request: HttpRequest, pk: int) -> HttpResponse:
    """Share a build with somebody; who has no password yet gets a link to choose one by, at each asking."""
    build = access.build_to_own(request.user, pk)
    form = MemberForm(request.POST)
    if not form.is_valid():
        return _edit_page(request, build, BuildForm(instance=build), form, status=422)
    with transaction.atomic():
        user, is_new = User.objects.get_or_create(username=form.cleaned_data["name"])
        if is_new:
            user.set_unusable_password()
            user.save()
        Membership.objects.get_or_create(build=build, user=user)
    if not user.has_usable_password() and _is_in_hand_of(request, user):
        link = owner_account.sign_in_link(user, site_address(request))
        messages.success(request, f"Hand {user} this link; it works once and for one day: {link}")
    else:
        messages.success(request, f"{user} sees {build} from now on.")
    return redirect("build_edit", build.pk)


def _is_in_hand_of(request: HttpRequest, user: User) -> bool:
    """Whether all that this user sees belongs to the one who asks: only then may they hand out the way in."""
    own = Build.objects.filter(memberships__user_id=member_id(request), memberships__role=Role.OWNER)
    return not user.is_superuser and not user.memberships.exclude(build__in=own).exists()


@require_POST
def member_remove(request: HttpRequest, pk: int, member: int) -> HttpResponse:
    """Stop sharing; the last owner stays."""
    build = access.build_to_own(request.user, pk)
    membership = get_object_or_404(build.memberships.select_related("user"), pk=member)
    owners = build.memberships.filter(role=Role.OWNER)
    if membership.role == Role.OWNER and owners.count() == 1:
        messages.error(request, "A build keeps one owner, and this is the one.")
    else:
        membership.delete()
        messages.success(request, f"{membership.user} no longer sees {build}.")
    return redirect("build_edit", build.pk)


@require_POST
def demo_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the demo away, and all that hangs on it, in one step."""
    build = access.build_to_own(request.user, pk)
    if not build.is_demo:
        messages.error(request, f"{build} is no demo: it stays.")
        return redirect(build)
    remove_demo(build)
    messages.success(request, f"The demo {build.name} is gone, with everything in it.")
    return redirect("home")


@login_not_required
@require_POST
def lamp(request: HttpRequest) -> HttpResponse:
    """Choose the light for this browser, and go back to the page."""
    back = request.POST.get("back", "")
    if not url_has_allowed_host_and_scheme(back, allowed_hosts=None):
        back = "/"
    answer = redirect(back)
    chosen = request.POST.get("lamp", "")
    if chosen in LAMPS:
        answer.set_cookie("lamp", chosen, max_age=YEAR, samesite="Lax")
    else:
        answer.delete_cookie("lamp")
    return answer


def _edit_page(
    request: HttpRequest, build: Build, form: BuildForm, member_form: MemberForm, status: int
) -> HttpResponse:
    return show(
        request,
        "buildlog/build_form.html",
        title=f"About {build.name}",
        kind="Entry",
        build=build,
        nav="build",
        form=form,
        member_form=member_form,
        members=list(build.memberships.select_related("user").order_by("pk")),
        is_owner=build.memberships.filter(user_id=member_id(request), role=Role.OWNER).exists(),
        status=status,
    )
