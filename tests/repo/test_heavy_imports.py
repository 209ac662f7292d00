"""A start loads nothing that only some pages need."""

from tests.repo.tree import run

HEAVY = ("openpyxl", "pint", "PIL", "playwright", "reportlab", "segno", "hypothesis", "pytest")


def test_setup_when_done_with_all_addresses_then_the_heavy_packages_are_not_loaded():
    code = (
        "import os, sys, django; os.environ['DJANGO_SETTINGS_MODULE'] = 'buildlog.settings'; django.setup(); "
        "from django.urls import reverse; reverse('home'); "
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    done = run("-c", code)
    assert done.stdout == "[]\n", done.stderr
