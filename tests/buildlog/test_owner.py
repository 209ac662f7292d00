"""The owner's account: made on the first start, its one-time link, and putting it right on the machine."""

import re
from io import StringIO

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from buildlog.actions.owner_account import owner_account, sign_in_link, take_password_away

pytestmark = pytest.mark.django_db

PASSWORD = "second shaft wheel"


def choose_password(link, password=PASSWORD):
    client = Client()
    page = client.get(link, follow=True)
    assert page.status_code == 200
    form = {"new_password1": password, "new_password2": password}
    return client, client.post(page.redirect_chain[-1][0], form)


def test_owner_when_there_is_none_then_made_once_without_a_password():
    owner = owner_account()
    assert (owner.username, owner.has_usable_password()) == ("owner", False)
    assert owner_account() == owner
    assert User.objects.count() == 1


def test_owner_when_renamed_then_still_the_owner():
    User.objects.filter(pk=owner_account().pk).update(username="someone")
    assert owner_account().username == "someone"


def test_owner_when_the_name_is_taken_by_a_helper_then_gets_the_next_one():
    User.objects.create_user("owner")
    assert owner_account().username == "owner-2"


def test_link_when_used_then_password_chosen_signed_in_and_link_dead():
    owner = owner_account()
    link = sign_in_link(owner, "")
    client, answer = choose_password(link)
    assert answer.url == reverse("home")
    assert client.session["_auth_user_id"] == str(owner.pk)
    owner.refresh_from_db()
    assert owner.check_password(PASSWORD)
    again = Client().get(link)
    assert again.status_code == 200
    assert "This link works no longer" in again.content.decode()


def test_link_when_changed_by_one_letter_then_dead():
    link = sign_in_link(owner_account(), "")
    assert "This link works no longer" in Client().get(link[:-2] + "z/").content.decode()


def test_link_when_password_is_weak_or_differs_then_said_and_nothing_kept():
    owner = owner_account()
    _, answer = choose_password(sign_in_link(owner, ""), "12345")
    assert "at least 10 characters" in answer.content.decode()
    owner.refresh_from_db()
    assert not owner.has_usable_password()


def test_owner_command_when_run_then_old_password_and_sessions_end_and_a_link_is_printed():
    client, _ = choose_password(sign_in_link(owner_account(), ""))
    assert client.get(reverse("home")).status_code == 200
    printed = StringIO()
    call_command("owner", "--port", "8123", stdout=printed)
    link = re.search(r"http://127\.0\.0\.1:8123(/\S+)", printed.getvalue())[1]
    assert client.get(reverse("home")).status_code == 302
    assert not owner_account().check_password(PASSWORD)
    choose_password(link, "another long password")
    assert owner_account().check_password("another long password")


def test_owner_command_when_an_older_link_is_about_then_that_one_is_dead():
    older = sign_in_link(owner_account(), "")
    call_command("owner", stdout=StringIO())
    assert "This link works no longer" in Client().get(older).content.decode()


def test_owner_command_when_site_has_an_address_then_the_link_has_it_too(settings):
    settings.SITE_ADDRESS = "https://hornplate.example"
    printed = StringIO()
    call_command("owner", stdout=printed)
    assert "https://hornplate.example/sign-in/" in printed.getvalue()


def test_take_password_away_when_account_was_closed_then_open_again():
    owner = owner_account()
    owner.is_active = False
    owner.save()
    take_password_away(owner)
    assert owner_account().is_active
