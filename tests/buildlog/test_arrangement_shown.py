"""What the general arrangement shows: balloons with their words, large and small, and what has none."""

import re

import pytest
from django.urls import reverse

from buildlog.arrangement import ground_of, not_placed
from buildlog.models import Stage
from buildlog.queries import assembly_tree
from buildlog.waiting.standing import standing_of
from tests.buildlog.arranged import balloons
from tests.factories import make_arrangement, make_assembly, make_part, make_place
from tests.pages import words
from tests.picture_files import picture

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]


@pytest.fixture
def boiler(build):
    return make_assembly(build, code="B", name="Boiler", balloon="1")


@pytest.fixture
def wheels(build):
    return make_assembly(build, code="FW", name="Front axle and wheels", balloon="3")


def at(name, build):
    return reverse(name, args=[build.pk])


def test_balloon_when_shown_then_says_made_in_hand_waiting_and_errata_by_mark_and_word(
    site, build, boiler, monkeypatch
):
    make_part(build, number="B-1", assembly=boiler, stage=Stage.MACHINED)
    make_part(build, number="B-2", assembly=boiler, stage=Stage.IN_HAND)
    wrong = make_part(build, number="B-3", assembly=boiler, waits_for="tube plate")
    make_place(make_arrangement(build, content=picture(size=(800, 600))), boiler)
    monkeypatch.setattr("buildlog.views.arrangement.errata_open_by_part", lambda _build: {wrong.pk, 999999})
    page = site.get(at("engine", build)).content.decode()
    figure = page[page.index("<figure") : page.index("</figure>")]
    told = re.search(rf'href="/assemblies/{boiler.pk}/" aria-label="([^"]*)"', figure)[1]
    assert told == ("1 Boiler: 1 of 3 made, 1 in hand, 1 not started, 1 waits, errata on 1 part")
    assert "1 of 3 made, 1 in hand</text>" in figure
    assert re.search(r'href="#wait"/></svg><text [^>]*>1 waits<', figure)
    assert re.search(r'href="#err"/></svg><text [^>]*>errata on 1 part<', figure)
    row = page[page.index('<table class="fold">') :]
    assert re.search(r'href="#err"/></svg><span>errata on 1 part', row)
    assert "Erratum on the sheet" in page


def test_balloon_when_all_is_made_then_said_so_with_its_mark(build, boiler):
    make_part(build, number="B-1", assembly=boiler, stage=Stage.PAINTED)
    make_place(make_arrangement(build), boiler)
    assert [(one.mark, one.words) for one in balloons(build)[0].lines] == [("ok", "all made and painted")]


def test_balloons_when_crowded_then_a_finger_meets_one_at_a_time_on_a_phone(build):
    own = make_arrangement(build, content=picture(size=(800, 600)))
    for number in range(1, 10):
        assembly = make_assembly(build, code=f"A{number}", balloon=str(number))
        make_place(own, assembly, at=("0.5", f"0.{50 + number // 3}"))
    ground, found = ground_of(build), balloons(build)
    # On a telephone of 360 px the picture has 336 of them: 24 for a target (WCAG 2.2, 2.5.8, from memory).
    scale = 336 / ground.width
    assert 2 * ground.small * scale >= 24
    places = [(one.place.small_x, one.place.small_y) for one in found]
    for place, one in enumerate(places):
        for other in places[place + 1 :]:
            apart = ((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5
            assert apart * scale >= 24


def test_words_when_balloons_stand_close_then_none_lies_over_another(build):
    own = make_arrangement(build, content=picture(size=(800, 600)))
    for number in range(1, 25):
        assembly = make_assembly(build, code=f"A{number}", name=f"Assembly {number}", balloon=str(number))
        make_place(own, assembly, at=(f"0.{10 + number * 3}", f"0.{20 + number % 5 * 7}"))
    ground, found = ground_of(build), balloons(build)
    rings = [(one.place.x, one.place.y) for one in found]
    lines = [text for one in found for text in one.words.texts]
    assert lines, "there is room for some"
    for one in found:
        for text in one.words.texts:
            wide = text.said.width
            left = text.x - wide if one.words.to_left else text.x
            assert ground.left <= left
            assert left + text.said.width <= ground.right + 21
            for x, y in rings:
                clear = left > x + 19 or left + wide < x - 19 or text.y < y - 19 or text.y - 10 > y + 19
                assert clear, f"{text.said.words} lies over a balloon"


def test_assembly_when_not_placed_then_listed_unless_it_is_within_one_that_is(site, build, boiler, wheels):
    ring = make_assembly(build, code="FR", name="Foundation ring", balloon="1.1", parent=boiler)
    spud = make_assembly(build, code="SP", name="Spud pan", balloon="3.1", parent=wheels)
    own = make_arrangement(build)
    make_place(own, boiler)
    make_place(own, spud)
    standing = standing_of(build)
    assert not_placed(ground_of(build), assembly_tree(build, standing)) == [wheels]
    page = words(site.get(at("engine", build)))
    assert "Not placed yet: 3 Front axle and wheels" in page
    placing_page = site.get(at("arrangement_place", build))
    assert words(placing_page).count("not placed yet") == 2
    assert ring.name in words(placing_page)


def test_assembly_without_a_number_when_placed_then_its_letters_stand_in_the_balloon(build):
    plain = make_assembly(build, code="TENDER2", balloon="")
    make_place(make_arrangement(build), plain)
    assert [one.number for one in balloons(build)] == ["TENDER"]


def test_build_page_when_there_is_a_picture_then_shows_it_small(site, build, boiler):
    make_part(build, assembly=boiler)
    address = build.get_absolute_url()
    assert "/arrangements/" not in site.get(address).content.decode()
    binned, own = make_arrangement(build), make_arrangement(build)
    page = site.get(address).content.decode()
    assert f"/arrangements/{own.pk}/small.jpg" in page
    assert f"/arrangements/{binned.pk}/" not in page
