"""Every address of the site by its name: what it is of, and who may open it."""

from django.urls import reverse

BUILD, PART = ["build.pk"], ["part.pk"]
#: Pages of a build: its members see them, strangers find nothing.
OF_BUILD = {
    "build_page": BUILD,
    "build_edit": BUILD,
    "engine": BUILD,
    "assembly_new": BUILD,
    "assembly_page": ["assembly.pk"],
    "assembly_edit": ["assembly.pk"],
    "part_list": BUILD,
    "part_new": BUILD,
    "size_echo": BUILD,
    "bin_page": BUILD,
    "find_page": BUILD,
    "part_page": PART,
    "part_edit": PART,
    "part_needs": PART,
    "part_split": ["part.pk", "use.pk"],
    "part_history": PART,
    "part_calculate": ["part.pk", "=indexing"],
    "part_sum_text": ["part.pk", "=indexing"],
    "record_page": ["record.pk"],
    "record_pdf": ["record.pk"],
    "record_json": ["record.pk"],
    "record_text": ["record.pk"],
    "record_trial": ["plan.pk"],
    "card_list": BUILD,
    "card_new": PART,
    "card_page": ["card.pk"],
    "card_pdf": ["card.pk"],
    "log_list": BUILD,
    "log_new": BUILD,
    "log_year": ["build.pk", "=2025"],
    "part_echo": BUILD,
    "log_entry": ["entry.pk"],
    "log_edit": ["entry.pk"],
    "part_made": ["made_part.pk"],
    "characteristic_new": ["made_part.pk"],
    "characteristic_edit": ["characteristic.pk"],
    "concession_list": BUILD,
    "change_list": BUILD,
    "change_page": ["change.pk"],
    "concession_page": ["concession.pk"],
    "thread_list": BUILD,
    "thread_words": BUILD,
    "thread_bulk": BUILD,
    "thread_new": PART,
    "thread_edit": ["thread.pk"],
    "thread_change": ["bulk_change.pk"],
    "photo_list": BUILD,
    "photo_new": BUILD,
    "photo_page": ["photo.pk"],
    "photo_small": ["photo.pk"],
    "photo_large": ["photo.pk"],
    "photo_original": ["photo.pk"],
    "scrap_list": BUILD,
    "scrap_new": BUILD,
    "scrap_page": ["scrap.pk"],
    "scrap_edit": ["scrap.pk"],
    "drawing_list": BUILD,
    "drawing_new": BUILD,
    "drawing_page": ["drawing.pk"],
    "drawing_edit": ["drawing.pk"],
    "issue_new": ["drawing.pk"],
    "stores": BUILD,
    "delivery_new": BUILD,
    "judge": BUILD,
    "casting_list": BUILD,
    "casting_new": BUILD,
    "casting_page": ["casting.pk"],
    "casting_edit": ["casting.pk"],
    "order_list": BUILD,
    "order_new": BUILD,
    "order_page": ["order.pk"],
    "order_edit": ["order.pk"],
    "order_received": ["order.pk"],
    "supplier_edit": ["supplier.pk"],
    "list_in": BUILD,
    "list_draft": ["build.pk", "draft.pk"],
    "list_csv": BUILD,
    "list_xlsx": BUILD,
    "list_pdf": BUILD,
}
#: Changes of a build that have no page of their own: any member may make them.
ACTS = {
    "assembly_delete": ["assembly.pk"],
    "part_stage": PART,
    "part_count": PART,
    "part_quantity": ["part.pk", "use.pk"],
    "part_bin": PART,
    "part_restore": ["binned.pk"],
    "photo_bin": ["photo.pk"],
    "change_undo": ["change.pk"],
    "photo_restore": ["binned_photo.pk"],
    "scrap_bin": ["scrap.pk"],
    "scrap_restore": ["binned_scrap.pk"],
    "lesson_again": ["scrap.pk"],
    "casting_allot": ["casting.pk", "claimant.pk"],
    "casting_bad": ["casting.pk"],
    "casting_remove": ["spare.pk"],
    "order_add": ["order.pk"],
    "order_chase": ["order.pk"],
    "line_chase": ["order_line.pk"],
    "line_cancel": ["order_line.pk"],
    "event_undo": ["stores_event.pk"],
    "characteristic_remove": ["unmeasured.pk"],
    "reading_strike": ["reading.pk"],
    "concession_open": ["out_reading.pk"],
    "mate_told": ["telling.pk"],
    "thread_remove": ["spare_thread.pk"],
    "thread_change_undo": ["bulk_change.pk"],
    "drawings_named": BUILD,
    "issue_take_back": ["drawing.pk"],
    "issue_follow": ["drawing.pk"],
}
#: Changes that only an owner of the build may make.
OWNER_ACTS = {
    "member_add": BUILD,
    "member_remove": ["build.pk", "member.pk"],
    "demo_remove": BUILD,
}
#: One's own tooling: nobody else finds it, whatever builds are shared.
OWN_PAGES = {
    "head_edit": ["head.pk"],
    "cutter_edit": ["cutter.pk"],
    "record_to_part": ["own_record.pk"],
}
OWN_ACTS = {"head_delete": ["head.pk"], "cutter_delete": ["cutter.pk"]}
#: What only the owner of the site finds: it holds everybody's records.
SITE_PAGES = {"backup_list": []}
SITE_ACTS = {"backup_make": [], "backup_file": ["=1"]}
#: Pages of nobody in particular: everybody who is signed in.
SIGNED_IN = {
    "home": [],
    "build_new": [],
    "tooling": [],
    "own_change_list": [],
    "head_add": [],
    "cutter_add": [],
    "sums": [],
    "calculate": ["=indexing"],
    "sum_text": ["=indexing"],
    "sum_checks": ["=indexing"],
    "list_sample": [],
    "change_password": [],
}
#: Addresses that need no account.
OPEN = {
    "sign_in": [],
    "sign_out": [],
    "choose_password": ["=none", "=none"],
    "help": [],
    "help_page": ["=parts"],
    "lamp": [],
}
TABLES = (OF_BUILD, ACTS, OWNER_ACTS, OWN_PAGES, OWN_ACTS, SITE_PAGES, SITE_ACTS, SIGNED_IN, OPEN)
CLOSED = {name: args for table in TABLES[:-1] for name, args in table.items()}
#: Pages of a build that only show something.
TAKES_NO_ENTRIES = {
    "build_page",
    "engine",
    "assembly_page",
    "part_list",
    "size_echo",
    "bin_page",
    "find_page",
    "part_page",
    "part_history",
    "record_page",
    "record_pdf",
    "record_json",
    "record_text",
    "part_sum_text",
    "card_list",
    "card_page",
    "card_pdf",
    "stores",
    "casting_list",
    "casting_page",
    "order_list",
    "order_page",
    "log_list",
    "log_year",
    "part_echo",
    "log_entry",
    "concession_list",
    "change_list",
    "change_page",
    "photo_list",
    "photo_small",
    "photo_large",
    "photo_original",
    "scrap_list",
    "scrap_page",
    "thread_list",
    "thread_change",
    "drawing_list",
    "drawing_page",
    "list_csv",
    "list_xlsx",
    "list_pdf",
}


def address(world, name, args):
    """The address by its name; an argument with = before it stands as it is, any other is of the world."""
    filled = []
    for arg in args:
        if arg.startswith("="):
            filled.append(arg[1:])
        else:
            thing, _, attribute = arg.partition(".")
            filled.append(getattr(getattr(world, thing), attribute))
    return reverse(name, args=filled)
