"""The account of the person the site belongs to: made on the first start, put right on the machine."""

from axes.utils import reset as forget_wrong_passwords
from django.contrib.auth.models import User
from django.contrib.auth.tokens import default_token_generator
from django.db import transaction
from django.urls import reverse
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

OWNER_NAME = "owner"


@transaction.atomic
def owner_account() -> User:
    """The owner, made with no password when there is none yet."""
    owner = User.objects.filter(is_superuser=True).order_by("pk").first()
    if owner is not None:
        return owner
    owner = User(username=_free_name(), is_superuser=True)
    owner.set_unusable_password()
    owner.save()
    return owner


def _free_name() -> str:
    taken = set(User.objects.filter(username__startswith=OWNER_NAME).values_list("username", flat=True))
    number, name = 1, OWNER_NAME
    while name in taken:
        number += 1
        name = f"{OWNER_NAME}-{number}"
    return name


@transaction.atomic
def take_password_away(owner: User) -> None:
    """The old password stops working, every session ends and older links go dead."""
    owner.set_unusable_password()
    owner.is_active = True
    owner.save(update_fields=["password", "is_active"])
    forget_wrong_passwords(username=owner.username)


def sign_in_link(user: User, address: str) -> str:
    """A link that leads to choosing a password, good for one use."""
    path = reverse(
        "choose_password",
        kwargs={
            "uidb64": urlsafe_base64_encode(force_bytes(user.pk)),
            "token": default_token_generator.make_token(user),
        },
    )
    return f"{address}{path}"
