"""Which assembly a cell of a list means: one the build has, or one to be made."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from buildlog.lists.cells import CellError, plain_cell
from buildlog.lists.columns import BY_KEY
from buildlog.models import Assembly

NOT_PLACED = ("-", "Not placed yet")
_CODE = re.compile(r"[A-Z0-9][A-Z0-9./\-]{0,5}")
_CODE_AND_NAME = re.compile(r"(?P<code>[A-Z][A-Z0-9]{0,3}|-) (?P<name>\S.*)")
_LITTLE_WORDS = {"AND", "THE", "OF", "FOR", "A", "AN", "IN", "ON", "TO", "WITH"}


@dataclass(frozen=True)
class Place:
    """An assembly: one the build has, or with no `pk` one to be made."""

    code: str
    name: str
    pk: int | None = None

    def __str__(self) -> str:
        return f"{self.code} {self.name}" if self.name != self.code else self.code


class Placer:
    """Finds the assembly a text means, and remembers those that will have to be made."""

    def __init__(self, assemblies: Iterable[Assembly]) -> None:
        self.to_make: list[Place] = []
        self._places: list[Place] = []
        for assembly in assemblies:
            self._places.append(Place(assembly.code, assembly.name, assembly.pk))

    def find(self, cell: str) -> tuple[Place, str]:
        """The assembly a cell means, and what should be said about it.

        Raises
        ------
        CellError
            The text means two assemblies, or cannot be the name of one.
        """
        text = plain_cell(BY_KEY["assembly"], cell)
        known = self._known(text)
        if known:
            return known, ""
        match = _CODE_AND_NAME.fullmatch(text)
        if match:
            taken = self._with_code(match["code"])
            if taken:
                return taken, f"{taken.code} is called “{taken.name}” in this build"
            return self._make(match["code"], match["name"]), ""
        if text == NOT_PLACED[0]:
            return self._make(*NOT_PLACED), ""
        if _is_code(text):
            return self._make(text.upper(), text.upper()), ""
        return self._make(self._derived(text), text), ""

    def for_number(self, number: str) -> Place:
        """Where a new part goes that names no assembly: by the letters of its number, else not placed."""
        letters = re.match(r"[A-Z]+", number)
        place = self._with_code(letters[0]) if letters else None
        return place or self._with_code(NOT_PLACED[0]) or self._make(*NOT_PLACED)

    def _known(self, text: str) -> Place | None:
        small = _small(text)
        exact = [place for place in self._places if place.code == text]
        found = exact or [
            place for place in self._places if small in (_small(place.code), _small(str(place)))
        ]
        found = found or [place for place in self._places if small == _small(place.name)]
        if len(found) > 1:
            codes = " and ".join(place.code for place in found)
            raise CellError(f"“{text[:40]}” may be {codes}. Write the letters of the one that is meant.")
        return found[0] if found else None

    def _with_code(self, code: str) -> Place | None:
        return next((place for place in self._places if _small(place.code) == _small(code)), None)

    def _make(self, code: str, name: str) -> Place:
        if len(name) > 80:
            raise CellError(f"the name of an assembly has at most 80 signs; this has {len(name)}.")
        place = Place(code, name)
        self.to_make.append(place)
        self._places.append(place)
        return place

    def _derived(self, name: str) -> str:
        """Letters for an assembly that comes with a name only: its initials, numbered if they are taken."""
        plain = unicodedata.normalize("NFKD", name).upper()
        words = re.findall(r"[A-Z0-9]+", "".join(sign for sign in plain if not unicodedata.combining(sign)))
        telling = [word for word in words if word not in _LITTLE_WORDS] or words or ["A"]
        letters = "".join(word[0] for word in telling)[:4] if len(telling) > 1 else telling[0][:2]
        code, number = letters, 1
        while self._with_code(code):
            number += 1
            code = f"{letters}{number}"
        return code


def _small(text: str) -> str:
    return " ".join(text.split()).casefold()


def _is_code(text: str) -> bool:
    """Letters as in part numbers, not a name: in capitals, with a figure, or three letters at most."""
    if not _CODE.fullmatch(text.upper()):
        return False
    return text.isupper() or len(text) <= 3 or any(sign.isdigit() for sign in text)
