"""Pages and papers as a reader has them: their words, their lines, what stands in their entries."""

import re
from html.parser import HTMLParser

import pypdfium2

#: What runs on in a line; every other element parts the words before it from those inside it.
INLINE = {"a", "b", "code", "em", "i", "strong", "svg", "use", "wbr"}
UNSEEN = {"script", "style", "title"}
LINES = {"li", "tr"}


class _Reader(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.text, self.lines, self.entries, self.roles, self.links = [], [], [], [], []
        self._open, self._unseen, self._select, self._area, self._role = [], 0, None, None, None

    def handle_starttag(self, tag, attrs):
        said = dict(attrs)
        self._unseen += tag in UNSEEN
        if tag not in INLINE:
            self._add(" ")
        if tag in LINES:
            self._open.append([])
        if said.get("role") == "alert" and self._role is None:
            self._role = (tag, len(self.text))
        if tag == "a" and "href" in said:
            self.links.append(said["href"])
        self._entry(tag, said)

    def _entry(self, tag, said):
        name = said.get("name")
        if tag == "select":
            self._select = name
        elif tag == "option" and self._select and "selected" in said:
            self.entries.append((self._select, said.get("value", "")))
        elif tag == "textarea":
            self._area = (name, [])
        elif tag == "input" and name:
            is_choice = said.get("type") in ("radio", "checkbox")
            if not is_choice:
                self.entries.append((name, said.get("value") or ""))
            elif "checked" in said:
                self.entries.append((name, said.get("value", "on") or ""))

    def handle_endtag(self, tag):
        self._unseen -= tag in UNSEEN
        if tag == "textarea" and self._area:
            self.entries.append((self._area[0], "".join(self._area[1])))
            self._area = None
        if tag == "select":
            self._select = None
        if tag not in INLINE:
            self._add(" ")
        if tag in LINES and self._open:
            self.lines.append(_tidy("".join(self._open.pop())))
        if self._role and tag == self._role[0]:
            self.roles.append(_tidy("".join(self.text[self._role[1] :])))
            self._role = None

    def handle_data(self, data):
        if self._area is not None:
            self._area[1].append(data)
        elif not self._unseen:
            self._add(data)

    def _add(self, data):
        self.text.append(data)
        for line in self._open:
            line.append(data)


def _tidy(text):
    return " ".join(text.split())


def _read(answer):
    reader = _Reader()
    reader.feed(answer.content.decode())
    reader.close()
    return reader


def words(answer):
    """All that is written on a page, its markup taken away."""
    return _tidy("".join(_read(answer).text))


def line_of(answer, start):
    """The one row of a table or a list that holds the words given."""
    found = [line for line in _read(answer).lines if start in line]
    assert found, f"no line of the page holds {start!r}"
    return found[0]


def keys(answer):
    """The part keys that begin the lines of a parts list, in the order they stand in."""
    starts = [line.split(" ")[0] for line in _read(answer).lines if line]
    return [start for start in starts if re.fullmatch(r"[A-Z]+-[0-9]+(?:-[LR])?", start)]


def entries(answer, *, first=False):
    """What stands in the entries of a page, by name; of choices, the one that is chosen.

    Where two forms of a page have an entry of the same name, the last one counts, or the first.
    """
    found = _read(answer).entries
    found = dict(reversed(found)) if first else dict(found)
    # A text area drops the one line end that stands before its text.
    return {name: value.removeprefix("\n").removeprefix("\r\n") for name, value in found.items()}


def fill_in(client, address, **typed):
    """Open a page, put in what is typed and leave the rest of its entries as they come, and send it."""
    return client.post(address, left_as_it_comes(client, address) | typed, follow=True)


def left_as_it_comes(client, address):
    """What a browser would send of a page on which nothing is typed."""
    strip = ("find", "back", "lamp", "csrfmiddlewaretoken")
    return {name: text for name, text in entries(client.get(address)).items() if name not in strip}


def alerts(answer):
    """What the page says aloud by itself."""
    return " ".join(_read(answer).roles)


def links(answer):
    return _read(answer).links


def pdf_text(content):
    """The text of each page of a PDF."""
    with pypdfium2.PdfDocument(content) as document:
        return [page.get_textpage().get_text_bounded() for page in document]
