"""What was written already with the token of a page: of two clicks the second finds what the first wrote."""

from typing import TypeVar
from uuid import UUID

from django.db.models import Model

Kind = TypeVar("Kind", bound=Model)


def written_with(token: UUID, model: type[Kind], **owner: int) -> Kind | None:
    """The row of a kind that was written with a token, if one was; hold its owner first.

    Parameters
    ----------
    token : UUID
        Of the page it was typed on.
    model : type
        What is written.
    owner : int
        Whose it has to be, by the name of the column: `build_id=7`.

    Raises
    ------
    PermissionError
        It was written for another owner.
    """
    found = model._default_manager.filter(token=token).first()
    if found is not None and any(getattr(found, name) != pk for name, pk in owner.items()):
        raise PermissionError(f"This token belongs to another {model._meta.verbose_name}.")
    return found
