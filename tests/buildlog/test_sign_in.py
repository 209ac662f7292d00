"""Signing in and out, changing the password, being locked out, and doors that stay shut."""

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from buildlog.actions.owner_account import owner_account

pytestmark = pytest.mark.django_db

PASSWORD = "second shaft wheel"
#: Pages that need no account.
OPEN = {"sign_in", "sign_out", "choose_password", "help", "help_page", "lamp"}


@pytest.fixture
def owner() -> User:
    owner = owner_account()
    owner.set_password(PASSWORD)
    owner.save()
    return owner


def sign_in(client, password=PASSWORD, name="owner", **more):
    return client.post(reverse("sign_in"), {"username": name, "password": password, **more})


def test_sign_in_when_right_then_home_and_not_asked_again(client, owner):
    assert sign_in(client).url == reverse("home")
    assert client.get(reverse("sign_in")).url == reverse("home")


def test_sign_in_when_wrong_then_said_and_the_name_still_there(client, owner):
    page = sign_in(client, "wrong").content.decode()
    assert "do not belong together" in page
    assert 'value="owner"' in page


def test_sign_in_when_sent_from_a_page_then_back_to_it_but_never_to_another_site(client, owner):
    assert sign_in(client, next=reverse("change_password")).url == reverse("change_password")
    assert sign_in(Client(), next="https://elsewhere.example/").url == reverse("home")


def test_sign_in_when_the_token_is_missing_then_refused(owner):
    assert sign_in(Client(enforce_csrf_checks=True)).status_code == 403


def test_sign_in_when_eight_times_wrong_then_locked_out_and_told_so(client, owner):
    answers = [sign_in(client, "wrong").status_code for _ in range(8)]
    assert answers == [200] * 7 + [429]
    locked = sign_in(client)
    assert locked.status_code == 429
    assert "Locked out for a quarter of an hour" in locked.content.decode()
    assert "_auth_user_id" not in client.session


def test_sign_in_when_one_name_or_place_is_locked_then_others_are_not(client, owner):
    User.objects.create_user("helper", password=PASSWORD)
    for _ in range(8):
        sign_in(client, "wrong")
    assert sign_in(Client(), name="helper").status_code == 302
    assert sign_in(Client(REMOTE_ADDR="192.0.2.7")).status_code == 302


def test_sign_in_when_right_after_seven_wrong_then_the_count_starts_anew(client, owner):
    for _ in range(7):
        sign_in(client, "wrong")
    assert sign_in(client).status_code == 302
    assert sign_in(Client(), "wrong").status_code == 200


def test_lock_when_owner_command_runs_then_gone(client, owner, capsys):
    for _ in range(8):
        sign_in(client, "wrong")
    call_command("owner")
    assert sign_in(client, "wrong").status_code == 200


def test_sign_out_when_posted_then_out_and_the_browser_told_to_forget(client, owner):
    client.force_login(owner)
    answer = client.post(reverse("sign_out"))
    assert answer.url == reverse("sign_in")
    assert answer.headers["Clear-Site-Data"] == '"cache", "storage"'
    assert "_auth_user_id" not in client.session


def test_sign_out_when_only_followed_as_a_link_then_nothing_happens(client, owner):
    client.force_login(owner)
    assert client.get(reverse("sign_out")).status_code == 405
    assert "_auth_user_id" in client.session


def test_change_password_when_right_then_kept_and_other_sessions_end(client, owner):
    other = Client()
    for each in (client, other):
        each.force_login(owner)
    form = {"old_password": PASSWORD, "new_password1": "crank shaft web", "new_password2": "crank shaft web"}
    assert client.post(reverse("change_password"), form).url == reverse("home")
    owner.refresh_from_db()
    assert owner.check_password("crank shaft web")
    assert client.get(reverse("home")).status_code == 200
    assert other.get(reverse("home")).status_code == 302


@pytest.mark.parametrize(
    ("old", "one", "two", "message"),
    [
        ("wrong", "crank shaft web", "crank shaft web", "not the password you have now"),
        (PASSWORD, "crank shaft web", "crank shaft wed", "The two passwords differ"),
        (PASSWORD, "8127364554", "8127364554", "entirely numeric"),
        (PASSWORD, "password123", "password123", "too common"),
    ],
)
def test_change_password_when_wrong_then_said_and_nothing_changed(client, owner, old, one, two, message):
    client.force_login(owner)
    form = {"old_password": old, "new_password1": one, "new_password2": two}
    page = client.post(reverse("change_password"), form)
    assert message in page.content.decode()
    owner.refresh_from_db()
    assert owner.check_password(PASSWORD)


def every_address():
    """Each named address of the site with numbers and words put in."""
    for pattern in walk(get_resolver().url_patterns):
        filled = {name: "indexing" if "slug" in str(kind) else 1 for name, kind in kinds(pattern).items()}
        yield pattern.name, reverse(pattern.name, kwargs=filled)


def walk(patterns):
    for pattern in patterns:
        if isinstance(pattern, URLPattern):
            yield pattern
        else:
            yield from walk(pattern.url_patterns)


def kinds(pattern):
    return {name: type(converter).__name__.lower() for name, converter in pattern.pattern.converters.items()}


def test_every_address_when_not_signed_in_then_leads_to_signing_in(client):
    seen = set()
    for name, address in every_address():
        seen.add(name)
        if name not in OPEN:
            for answer in (client.get(address), client.post(address)):
                assert answer.status_code == 302, name
                assert answer.url.startswith(reverse("sign_in")), name
    assert seen >= OPEN | {"home", "part_page", "card_pdf", "record_json"}
