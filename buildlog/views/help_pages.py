"""The help pages."""

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from buildlog.views.pages import show

#: Address, title and what each page is about, in the order they are listed.
PAGES = (
    ("first-steps", "First steps", "Start it, sign in, bring in a list, print a card."),
    ("parts", "Parts, counts and stages", "Numbers and hands, how many, how far, the bin."),
    ("lists", "Lists in and out", "What a list may look like, and what happens to each row."),
    ("sizes", "Writing sizes", "Fractions, thou, millimetres, and how they are read."),
    ("sums", "Sums", "Finding, keeping and taking away a sum; sums that rest on others."),
    ("dividing", "Dividing", "Heads and plates, the sum, the schedule, keeping it."),
    (
        "bevel-cutting",
        "Cutting bevel gears",
        "Three rounds on a dividing head: the model, its check, its limits.",
    ),
    ("cards", "Work cards", "What is on a card, and printing it."),
    ("as-made", "As made", "Sizes asked for and sizes got, departures, and the mates that have to suit."),
    ("scrap", "The scrap book", "What was made again and why, and lessons printed on the next like card."),
    ("threads-used", "Threads used", "Where each is, look-alikes, changing one everywhere."),
    ("stores", "Stores", "Castings, orders, goods received, and what waits for them."),
    ("log", "The log", "What was done, where it was left off, what is next."),
    ("drawings", "Drawings", "The register of sheets, their issues, and the parts on them."),
    ("errata", "Errata", "Errors on sheets, the parts they flag, and new issues."),
    ("arrangement", "The general arrangement", "Your own picture, and its balloons put on it by hand."),
    ("photos", "Photos", "Many at once, when and of what, what is kept and what is shown."),
    ("changes", "Changes and undo", "Who changed what, putting it back, the bin, two at one record."),
    ("keeping", "Where it is kept", "The data folder, copies, other machines, passwords."),
)


@login_not_required
@require_safe
def help_list(request: HttpRequest) -> HttpResponse:
    return show(request, "buildlog/help_page.html", title="Help", kind="Notes", nav="help", pages=PAGES)


@login_not_required
@require_safe
def help_page(request: HttpRequest, page: str) -> HttpResponse:
    for address, title, _ in PAGES:
        if address == page:
            template = f"buildlog/help/{page.replace('-', '_')}.html"
            return show(request, template, title=title, kind="Notes", nav="help", pages=PAGES, here=page)
    raise Http404("There is no such page of help.")
