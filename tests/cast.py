"""The people of the tests, and the one check every page gets."""

from dataclasses import dataclass

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from buildlog.models import Build
from tests.factories import make_build, make_user


@dataclass(frozen=True)
class Cast:
    """Two members of one build, and somebody who has a build of their own and none of this."""

    owner: User
    builder: User
    stranger: User
    build: Build

    def client(self, who: str) -> Client:
        """A browser in which the one named is signed in; nobody for any other name."""
        client = Client()
        user = getattr(self, who, None)
        if user:
            client.force_login(user)
        return client


def make_cast() -> Cast:
    owner, builder, stranger = make_user("owner"), make_user("builder"), make_user("stranger")
    make_build(stranger, name="Another engine")
    return Cast(owner, builder, stranger, make_build(owner, builder))


def check_page(cast: Cast, url: str, *, builder: int = 200, stranger: int = 404) -> None:
    """A page of the build: the owner sees it, the builder as allowed, a stranger finds nothing.

    Nobody signed in is sent to sign in, with the way back.
    """
    assert cast.client("owner").get(url).status_code == 200, f"owner at {url}"
    assert cast.client("builder").get(url).status_code == builder, f"builder at {url}"
    assert cast.client("stranger").get(url).status_code == stranger, f"stranger at {url}"
    answer = Client().get(url)
    assert answer.status_code == 302, f"signed out at {url}"
    assert answer["Location"].startswith(reverse("sign_in")), f"signed out at {url}"


def check_act(cast: Cast, url: str, data: dict[str, str], *, stranger: int = 404) -> None:
    """A change of the build: a stranger finds nothing to change, nobody signed in is sent to sign in."""
    assert cast.client("stranger").post(url, data).status_code == stranger, f"stranger at {url}"
    answer = Client().post(url, data)
    assert answer.status_code == 302, f"signed out at {url}"
    assert answer["Location"].startswith(reverse("sign_in")), f"signed out at {url}"
