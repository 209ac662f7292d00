"""The register of drawings: sheets, their issues, and the parts that name them."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.forms.drawings import next_issue
from buildlog.issues import by_age, issue_named
from buildlog.models import Drawing, SheetIssue
from buildlog.queries import issue_now
from tests.cast import check_act, check_page
from tests.factories import make_assembly, make_build, make_drawing, make_issue, make_part
from tests.pages import alerts, entries, fill_in, line_of, links, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 11, 20, 21, 5, tzinfo=UTC)


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 20 November 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def register(build):
    return reverse("drawing_list", args=[build.pk])


@pytest.fixture
def new(build):
    return reverse("drawing_new", args=[build.pk])


def named(build, *sheets, **changes):
    """Parts that name these sheets."""
    return [make_part(build, sheet=sheet, **changes) for sheet in sheets]


def issue_page(drawing):
    return reverse("issue_new", args=[drawing.pk])


# ---- what a part names -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sheet", "issue"),
    [
        ("12 B", "B"),
        ("12b", "B"),
        ("Sheet 012 issue AA", "AA"),
        ("12", ""),
        ("", ""),
        ("plan of the boiler", ""),
    ],
)
def test_issue_when_a_part_names_its_sheet_then_read(sheet, issue):
    assert issue_named(sheet) == issue


def test_issues_when_sorted_then_as_they_follow_each_other():
    assert sorted(["AA", "B", "Z", "A", "AB"], key=by_age) == ["A", "B", "Z", "AA", "AB"]


@pytest.mark.parametrize(
    ("issue", "after"), [("", ""), ("A", "B"), ("Y", "Z"), ("Z", "AA"), ("AB", "AC"), ("AZ", "")]
)
def test_next_issue_then_the_letter_that_follows(issue, after):
    assert next_issue(issue) == after


# ---- register --------------------------------------------------------------------------------------------


def test_register_when_empty_then_it_says_how_to_begin(site, register, new):
    page = site.get(register)
    assert "No drawings yet" in words(page)
    assert new in links(page)


def test_register_then_each_sheet_with_its_issue_place_and_parts(site, build, register):
    drawing = make_drawing(build, "A", number="12", title="Final drive", place="over the mill")
    make_issue(drawing, "B", dated=date(2024, 5, 1), got_on=date(2024, 6, 2))
    named(build, "12 B", "12 B", "12 A", "12", "Sheet 12 issue b")
    bin_part(*named(build, "12 A"), by=None)
    named(make_build(), "12 A")
    page = site.get(register)
    line = line_of(page, "Final drive")
    assert line == "12 Final drive B 1 May 2024 2 Jun 2024 over the mill 5 1 names another"
    assert "1 part names another issue than the one worked to" in words(page)


def test_register_then_sheets_in_the_order_of_their_figures(site, build, register):
    for number in ("10", "9", "1"):
        make_drawing(build, number=number, title=f"Sheet the {number}th")
    page = words(site.get(register))
    assert page.index("the 1th") < page.index("the 9th") < page.index("the 10th")


def test_register_when_no_issue_is_written_down_then_what_the_parts_say(site, build, register):
    Drawing.objects.create(build=build, number="12", title="Final drive")
    named(build, "12 B", "12 A", "12 B")
    line = line_of(site.get(register), "Final drive")
    assert "A and B, as its parts say" in line
    assert "name another" not in line
    assert issue_now(build) == {}


def test_issue_now_then_the_one_recorded_last_of_each_sheet_of_the_build(build):
    first = make_drawing(build, number="12")
    with clock.stopped_at(NOW - timedelta(days=9)):
        make_issue(first, "A")
    make_drawing(build, "A", "C", number="13")
    make_drawing(number="14")
    assert issue_now(build) == {"12": "B", "13": "C"}


# ---- taken over from the parts ---------------------------------------------------------------------------


def test_sheets_when_parts_name_them_then_all_come_in_by_one_touch(site, build, register):
    drive, axle = (make_assembly(build, code=code, name=f"The {code}") for code in ("S", "H"))
    for sheet, assembly in (("12 B", drive), ("12 A", drive), ("9 B", drive), ("9 B", axle), ("100", axle)):
        make_part(build, sheet=sheet, assembly=assembly)
    named(build, "12345 B", "the boiler drawing", "0 B")
    make_drawing(build, number="7")
    page = site.get(register)
    assert "5 parts name 3 sheets that the register has not: 9, 12, 100" in words(page)
    done = site.post(reverse("drawings_named", args=[build.pk]), follow=True)
    assert "3 sheets are in the register" in words(done)
    assert "the register has not" not in words(done)
    titles = dict(build.drawings.values_list("number", "title"))
    # Sheet 9 is of two assemblies: it is called after neither.
    assert titles == {"7": "Cylinder block", "9": "", "12": "The S", "100": "The H"}
    assert SheetIssue.objects.count() == 1
    assert "write its title" in line_of(done, "9 write")


def test_sheets_when_touched_twice_then_once(site, build):
    named(build, "12 B")
    for _ in range(2):
        page = site.post(reverse("drawings_named", args=[build.pk]), follow=True)
    assert "The register has every sheet that a part names" in words(page)
    assert build.drawings.count() == 1


# ---- written and changed ---------------------------------------------------------------------------------


def test_sheet_when_added_with_its_issue_then_both_are_there(site, build, new):
    page = fill_in(
        site,
        new,
        number="012",
        title="Final drive",
        place="over the mill",
        issue="b",
        dated="1 May 2024",
        got_on="2024-06-02",
    )
    drawing = Drawing.objects.get()
    assert page.redirect_chain[-1][0] == drawing.get_absolute_url()
    assert (drawing.number, drawing.title, drawing.place) == ("12", "Final drive", "over the mill")
    issue = drawing.issues.get()
    assert (issue.issue, issue.dated, issue.got_on) == ("B", date(2024, 5, 1), date(2024, 6, 2))
    assert (issue.recorded_at, issue.note) == (NOW, "")


def test_sheet_when_added_without_an_issue_then_none_is_made_up(site, new):
    page = fill_in(site, new, number="12", title="Final drive")
    assert not SheetIssue.objects.exists()
    assert "no issue written down" in words(page)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"number": "12 B"}, "A sheet goes by its figures"),
        ({"number": "0"}, "Sheet: "),
        ({"number": "12345"}, "Sheet: "),
        ({"number": "7"}, "Another drawing of this build has this sheet number"),
        ({"title": ""}, "Title: This field is required"),
        ({"issue": "B1"}, "An issue is one or two letters"),
        ({"issue": "ABC"}, "An issue is one or two letters"),
        ({"issue": "B", "got_on": ""}, "When did issue B come to you?"),
        ({"issue": "", "got_on": "2024-06-02"}, "Which issue is it that came then?"),
        ({"issue": "B", "got_on": "2025-11-21"}, "is still to come"),
        ({"issue": "B", "got_on": "2024-06-02", "dated": "2024-06-03"}, "dated after the day you got it"),
    ],
)
def test_sheet_when_something_is_wrong_then_said_and_nothing_typed_is_lost(site, build, new, typed, why):
    make_drawing(build, number="7")
    sent = {
        "number": "12",
        "title": "Final drive",
        "place": "over the mill",
        "issue": "",
        "got_on": "",
    } | typed
    page = fill_in(site, new, **sent)
    assert page.status_code == 422
    assert why in alerts(page)
    assert sent.items() <= entries(page).items()
    assert build.drawings.count() == 1


def test_sheet_when_another_build_has_its_number_then_nothing_against_it(site, build, new):
    make_drawing(number="12")
    fill_in(site, new, number="12", title="Final drive")
    assert build.drawings.get().number == "12"


def test_sheet_when_begun_at_a_number_that_parts_name_then_it_stands_there(site, new):
    assert entries(site.get(f"{new}?sheet=12"))["number"] == "12"


def test_sheet_when_changed_then_its_issues_and_the_parts_stay(site, build):
    drawing = make_drawing(build, "A", "B", number="12")
    (part,) = named(build, "12 B")
    fill_in(site, reverse("drawing_edit", args=[drawing.pk]), title="Another title", place="", note="Torn")
    drawing.refresh_from_db()
    part.refresh_from_db()
    assert (drawing.title, drawing.place, drawing.note) == ("Another title", "", "Torn")
    assert (drawing.issues.count(), part.sheet) == (2, "12 B")
    page = words(site.get(drawing.get_absolute_url()))
    assert "where the paper is nobody has written down" in page
    assert "Torn" in page


def test_sheet_when_its_change_is_refused_then_its_title_still_names_it_as_it_is(site, build):
    make_drawing(build, number="7")
    drawing = make_drawing(build, number="12")
    page = fill_in(site, reverse("drawing_edit", args=[drawing.pk]), number="7")
    assert page.status_code == 422
    assert "Change sheet 12" in words(page)
    assert "Another drawing of this build has this sheet number" in alerts(page)


# ---- a new issue -----------------------------------------------------------------------------------------


def test_issue_when_a_new_one_comes_then_the_parts_that_name_an_earlier_one_are_listed_the_made_marked(
    site, build
):
    drawing = make_drawing(build, number="12")
    made, begun, bare, other = (
        make_part(build, number=f"S-00{place}", name=name, sheet=sheet, stage=stage)
        for place, (name, sheet, stage) in enumerate(
            [
                ("Wheel", "12 B", "machined"),
                ("Pinion", "12 A", "in hand"),
                ("Key", "12", "fitted"),
                ("Elsewhere", "13 B", "fitted"),
            ]
        )
    )
    assert entries(site.get(issue_page(drawing)))["issue"] == "C"
    page = fill_in(site, issue_page(drawing), issue="C", note="centres 2.435, not 2.310")
    said = words(page)
    assert "Issue C of sheet 12 is in the register. 2 parts name another issue, 1 of them made" in said
    assert "Name another issue than C 2 parts, 1 of them made" in said
    assert "made to issue B: look over what changed" in line_of(page, "S-000")
    assert "look over" not in line_of(page, "S-001")
    listed = said[said.index("Name another issue than C") : said.index("Parts on it")]
    assert bare.key not in listed
    assert other.key not in said
    assert "centres 2.435, not 2.310" in line_of(page, "got 20 Nov 2025")
    assert issue_now(build) == {"12": "C"}
    assert {made.get_absolute_url(), begun.get_absolute_url()} <= set(links(page))


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("B", "Issue B of sheet 12 is in the register already"),
        ("b", "Issue B of sheet 12 is in the register already"),
        ("A", "Issue A comes before B, which is the one worked to"),
        ("", "This field is required"),
        ("3", "An issue is one or two letters"),
    ],
)
def test_issue_when_it_cannot_be_then_said_and_nothing_typed_is_lost(site, build, typed, why):
    drawing = make_drawing(build, number="12")
    page = fill_in(site, issue_page(drawing), issue=typed, note="what changed")
    assert page.status_code == 422
    assert why in alerts(page)
    assert entries(page).items() >= {"issue": typed, "note": "what changed"}.items()
    assert drawing.issues.count() == 1


def test_issue_when_the_register_has_none_then_the_one_that_parts_name_is_offered(site, build):
    drawing = Drawing.objects.create(build=build, number="12", title="Final drive")
    named(build, "12 A", "12 B")
    assert entries(site.get(issue_page(drawing)))["issue"] == "B"


def test_issue_after_z_then_aa(site, build):
    drawing = make_drawing(build, "Z", number="12")
    assert entries(site.get(issue_page(drawing)))["issue"] == "AA"
    fill_in(site, issue_page(drawing))
    assert issue_now(build) == {"12": "AA"}


def test_issue_when_written_down_by_mistake_then_struck_out_and_the_one_before_worked_to(site, build):
    drawing = make_drawing(build, "A", "B", number="12")
    take_back = reverse("issue_take_back", args=[drawing.pk])
    page = site.post(take_back, follow=True)
    assert "Issue B is struck out of the register" in words(page)
    assert issue_now(build) == {"12": "A"}
    for _ in range(2):
        page = site.post(take_back, follow=True)
    assert "no issue written down" in words(page)


def test_parts_when_looked_over_then_they_name_the_issue_worked_to_and_their_history_says_so(
    site, build, cast
):
    drawing = make_drawing(build, "B", "C", number="12")
    one, two = named(build, "12 B", "Sheet 12 issue A")
    elsewhere, abroad = named(build, "13 B")[0], named(make_build(), "12 B")[0]
    ticked = [one.pk, two.pk, elsewhere.pk, abroad.pk]
    page = site.post(reverse("issue_follow", args=[drawing.pk]), {"part": ticked}, follow=True)
    assert "2 parts name the issue worked to" in words(page)
    for part in (one, two, elsewhere, abroad):
        part.refresh_from_db()
    assert [part.sheet for part in (one, two, elsewhere, abroad)] == ["12 C", "12 C", "13 B", "12 B"]
    line = two.history.get()
    assert (line.text, line.by) == ("Changed: sheet Sheet 12 issue A to 12 C", cast.owner)
    assert "Name another issue" not in words(page)


@pytest.mark.parametrize("ticked", [[], ["x"], ["9" * 40], ["-1"]])
def test_parts_when_none_is_ticked_then_nothing_moves(site, build, ticked):
    drawing = make_drawing(build, "B", "C", number="12")
    (part,) = named(build, "12 B")
    page = site.post(reverse("issue_follow", args=[drawing.pk]), {"part": ticked}, follow=True)
    assert "Tick the parts that you have looked over" in words(page)
    part.refresh_from_db()
    assert part.sheet == "12 B"


def test_parts_when_the_sheet_has_no_issue_then_none_is_given_to_them(site, build):
    drawing = Drawing.objects.create(build=build, number="12", title="Final drive")
    (part,) = named(build, "12 B")
    site.post(reverse("issue_follow", args=[drawing.pk]), {"part": [part.pk]})
    part.refresh_from_db()
    assert part.sheet == "12 B"


# ---- one sheet -------------------------------------------------------------------------------------------


def test_sheet_then_its_title_block_names_number_title_and_issue(site, build):
    drawing = make_drawing(build, "A", "B", number="12", title="Final drive")
    page = words(site.get(drawing.get_absolute_url()))
    assert "Number 12" in page
    assert "Title Final drive" in page
    assert "Issue B" in page


def test_sheet_when_no_part_names_it_then_said_so(site, build):
    drawing = make_drawing(build, number="12")
    assert "No part names sheet 12" in words(site.get(drawing.get_absolute_url()))


def test_drawings_when_asked_for_by_others_then_as_every_page_of_a_build(cast, build):
    drawing = make_drawing(build, "A", "B", number="12")
    for name in ("drawing_page", "drawing_edit", "issue_new"):
        check_page(cast, reverse(name, args=[drawing.pk]))
    for name in ("drawing_edit", "issue_new", "issue_take_back", "issue_follow"):
        check_act(cast, reverse(name, args=[drawing.pk]), {"issue": "C", "title": "Not mine"})
    assert issue_now(build) == {"12": "B"}


# ---- how much it asks ------------------------------------------------------------------------------------


def asked(client, place):
    with CaptureQueriesContext(connection) as queries:
        assert client.get(place).status_code == 200
    return len(queries)


def test_pages_when_the_register_and_its_parts_grow_then_they_ask_no_more(site, build, register, new):
    drawing = make_drawing(build, "A", "B", number="12")
    named(build, "12 A", "12 B", "99 A")
    pages = {
        # Who asks (2), the build, what the parts say, the sheets, their issues, what errata flag, the parts
        # of no sheet.
        register: 8,
        new: 3,
        # Who asks (2), the sheet with its build, its issues, the parts on it.
        # The same, and its errata, what they flag, its files, and what was changed.
        drawing.get_absolute_url(): 9,
        issue_page(drawing): 5,
        reverse("drawing_edit", args=[drawing.pk]): 3,
    }
    for place in pages:
        site.get(place)
    assert {place: asked(site, place) for place in pages} == pages
    for number in range(100, 160):
        make_drawing(build, "A", "B", number=str(number))
    named(build, *["12 A", "12 B", "101 A", "500 A"] * 20)
    for issue in "CDEF":
        make_issue(drawing, issue)
    assert {place: asked(site, place) for place in pages} == pages
