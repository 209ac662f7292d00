"""Builds: begun, changed, shared with others, and the demo taken away."""

import pytest
from django.test import Client
from django.urls import reverse

from buildlog.actions.demo import load_demo
from buildlog.models import Build, DividingHead, Membership, Part, Role
from tests.factories import make_build, make_part, make_record, make_user
from tests.pages import alerts, entries, links, words

pytestmark = pytest.mark.django_db

ABOUT = {
    "name": "Marlpit",
    "scale": "4 in",
    "description": "Single-cylinder",
    "units": "inch",
    "currency": "GBP",
}


def about(build):
    return reverse("build_edit", args=[build.pk])


# ---- begun and changed -----------------------------------------------------------------------------------


def test_build_when_begun_then_its_maker_owns_it_and_its_parts_come_next(site, cast):
    page = site.post(reverse("build_new"), ABOUT | {"name": "Second engine"}, follow=True)
    made = Build.objects.get(name="Second engine")
    assert Membership.objects.get(build=made).role == Role.OWNER
    assert page.redirect_chain[-1][0] == reverse("part_list", args=[made.pk])
    assert "Second engine is begun" in words(page)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"name": ""}, "Name: This field is required"),
        ({"name": "n" * 61}, "Name: Ensure this value has at most 60 characters"),
        ({"name": "Marl\u202epit"}, "Name: There is an unseen sign in it (U+202E)"),
        ({"scale": "1" + "0" * 400}, "Scale: Ensure this value has at most 40 characters"),
        ({"units": "furlongs"}, "A bare number is in: Select a valid choice"),
        ({"currency": "XXX"}, "Money in: Select a valid choice"),
        ({"currency": ""}, "Money in: This field is required"),
    ],
)
def test_build_when_an_entry_is_wrong_then_said_and_all_typed_is_still_there(site, build, typed, why):
    before = Build.objects.count()
    for address in (reverse("build_new"), about(build)):
        page = site.post(address, ABOUT | typed)
        assert page.status_code == 422
        assert why in alerts(page)
        kept = {name: text for name, text in (ABOUT | typed).items() if name not in ("units", "currency")}
        assert kept.items() <= entries(page, first=True).items()
    build.refresh_from_db()
    assert (Build.objects.count(), build.name) == (before, "Marlpit")


def test_units_when_changed_then_bare_numbers_are_read_anew_and_nothing_else_of_a_part_moves(site, build):
    bare, named = (make_part(build, leading_size=typed, good=2) for typed in ("30 dia", "30 mm dia"))
    site.post(about(build), ABOUT | {"units": "mm"})
    for part in (bare, named):
        part.refresh_from_db()
        assert (part.size_nm, part.good) == (30_000_000, 2)
    site.post(about(build), ABOUT | {"units": "inch"})
    bare.refresh_from_db()
    assert bare.size_nm == 762_000_000  # 30 times 25.4 mm


def test_title_block_then_it_names_build_scale_and_units(site, build):
    page = words(site.get(build.get_absolute_url()))
    assert "Marlpit, 4 in scale" in page
    assert "in, mm beside it" in page


# ---- members ---------------------------------------------------------------------------------------------


def share(site, build, name):
    return site.post(reverse("member_add", args=[build.pk]), {"name": name}, follow=True)


def test_member_when_shared_with_again_before_a_password_then_a_fresh_link(site, build):
    for _ in range(2):
        assert "Hand late this link" in words(share(site, build, "late"))


def test_member_when_another_owner_shares_then_no_way_in_for_them(site, build):
    # Neither the site's own account nor a guest of somebody else's build may be signed in to by this.
    waiting, first = make_user("waiting"), make_user("first", is_superuser=True)
    for user in (waiting, first):
        user.set_unusable_password()
        user.save()
    Membership.objects.create(build=make_build(name="Elsewhere"), user=waiting)
    for user in (waiting, first):
        assert "this link" not in words(share(site, build, user.username))
        assert build.memberships.filter(user=user).exists()


def test_member_when_new_here_then_a_link_leads_to_a_password_and_to_the_build(site, build):
    page = share(site, build, "second.builder")
    said = words(page)
    assert "Hand second.builder this link; it works once and for one day" in said
    link = next(word for word in said.split() if word.startswith("http"))
    guest = Client()
    shown = guest.get(link, follow=True)
    address = shown.redirect_chain[-1][0]
    guest.post(address, {"new_password1": "crank shaft web", "new_password2": "crank shaft web"})
    assert guest.get(build.get_absolute_url()).status_code == 200
    assert Membership.objects.get(build=build, user__username="second.builder").role == Role.BUILDER


def test_member_when_here_already_then_sees_it_from_now_on_and_keeps_the_password(site, build, cast):
    before = cast.stranger.password
    assert "stranger sees Marlpit from now on" in words(share(site, build, "stranger"))
    assert cast.client("stranger").get(build.get_absolute_url()).status_code == 200
    cast.stranger.refresh_from_db()
    assert cast.stranger.password == before


def test_member_when_added_twice_then_once_and_in_the_same_role(site, build, cast):
    for name in ("builder", "owner"):
        share(site, build, name)
    roles = dict(Membership.objects.filter(build=build).values_list("user__username", "role"))
    assert roles == {"owner": "owner", "builder": "builder"}


@pytest.mark.parametrize("name", ["", "two words", "\u202ereldliub", "n" * 61, "<b>", "1" + "0" * 400])
def test_member_when_the_name_cannot_be_one_then_said_and_still_there(site, build, name):
    page = share(site, build, name)
    assert page.status_code == 422
    assert "Name to sign in with" in alerts(page)
    assert entries(page)["name"] == name
    assert entries(page, first=True)["name"] == "Marlpit"
    assert Membership.objects.filter(build=build).count() == 2


def test_member_when_sharing_stops_then_sees_nothing_of_it(site, build, cast):
    membership = Membership.objects.get(build=build, user=cast.builder)
    page = site.post(reverse("member_remove", args=[build.pk, membership.pk]), follow=True)
    assert "builder no longer sees Marlpit" in words(page)
    assert cast.client("builder").get(build.get_absolute_url()).status_code == 404


def test_member_when_the_last_owner_would_go_then_stays(site, build, cast):
    membership = Membership.objects.get(build=build, user=cast.owner)
    page = site.post(reverse("member_remove", args=[build.pk, membership.pk]), follow=True)
    assert "A build keeps one owner" in words(page)
    assert site.get(build.get_absolute_url()).status_code == 200


def test_member_when_of_another_build_then_not_found(site, build, cast):
    foreign = Membership.objects.get(user=cast.stranger)
    assert site.post(reverse("member_remove", args=[build.pk, foreign.pk])).status_code == 404
    assert Membership.objects.filter(pk=foreign.pk).exists()


# ---- the demo --------------------------------------------------------------------------------------------


def test_demo_when_taken_away_then_all_of_it_goes_and_ones_own_build_stays(site, build, cast):
    own = make_part(build)
    load_demo(cast.owner)
    demo = Build.objects.get(is_demo=True)
    make_record(demo.parts.first(), user=cast.owner)
    assert "Take the demo away" in words(site.get(about(demo)))
    page = site.post(reverse("demo_remove", args=[demo.pk]), follow=True)
    assert "The demo Marlpit is gone, with everything in it" in words(page)
    assert not Build.objects.filter(is_demo=True).exists()
    assert list(Part.objects.all()) == [own]
    assert not DividingHead.objects.exists()


def test_demo_when_the_build_is_none_then_it_stays(site, build):
    make_part(build)
    page = site.post(reverse("demo_remove", args=[build.pk]), follow=True)
    assert "Marlpit is no demo: it stays" in words(page)
    assert Build.objects.filter(pk=build.pk).exists()
    assert "Take the demo away" not in words(site.get(about(build)))


# ---- the light -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", ["owner", "nobody"])
@pytest.mark.parametrize("light", ["light", "dark"])
def test_light_when_chosen_then_kept_on_this_browser_and_back_to_the_page(cast, who, light):
    client = cast.client(who)
    answer = client.post(reverse("lamp"), {"lamp": light, "back": "/help/parts/?x=1"})
    assert answer.url == "/help/parts/?x=1"
    page = client.get(answer.url)
    assert f'data-theme="{light}"' in page.content.decode()
    client.post(reverse("lamp"), {"lamp": ""})
    assert "data-theme" not in client.get(answer.url).content.decode()


@pytest.mark.parametrize(
    "back", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)", ""]
)
def test_light_when_the_page_to_come_back_to_is_none_of_ours_then_home(site, back):
    assert site.post(reverse("lamp"), {"lamp": "dark", "back": back}).url == "/"


@pytest.mark.parametrize("light", ["purple", "\u202edark", "x" * 5000])
def test_light_when_there_is_no_such_light_then_as_the_device(site, light):
    assert site.post(reverse("lamp"), {"lamp": light, "back": "/help/"}).cookies["lamp"].value == ""


def test_light_when_the_page_is_a_refused_entry_then_back_to_where_it_was_typed(site, build):
    part = make_part(build)
    here = f"http://testserver{part.get_absolute_url()}"
    page = site.post(reverse("part_count", args=[part.pk]), {"good": "many"}, headers={"referer": here})
    assert page.status_code == 422
    assert entries(page)["back"] == part.get_absolute_url()
    assert site.get(site.post(reverse("lamp"), {"back": entries(page)["back"]}).url).status_code == 200


# ---- every sheet -----------------------------------------------------------------------------------------


def test_strip_then_the_build_looked_at_last_stays_on_pages_of_none(site, cast):
    second = make_build(cast.owner, name="Second engine")
    site.get(second.get_absolute_url())
    assert reverse("part_list", args=[second.pk]) in links(site.get(reverse("tooling")))


def test_strip_when_the_build_is_shared_no_longer_then_it_is_gone_from_there_too(cast, build):
    client = cast.client("builder")
    client.get(build.get_absolute_url())
    Membership.objects.filter(build=build, user=cast.builder).delete()
    assert "Marlpit" not in words(client.get(reverse("tooling")))


def test_pages_then_no_cache_keeps_them_and_no_script_runs_in_them(site, build):
    answer = site.get(build.get_absolute_url())
    assert answer["Cache-Control"] == "private, no-store"
    assert "script-src 'self'" in answer["Content-Security-Policy"]
    assert "onclick" not in answer.content.decode()
