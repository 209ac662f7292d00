"""Reads a printed paper back: its words, where they stand and how large they are, its inks."""

from ctypes import c_uint
from itertools import combinations

import pypdfium2
import pypdfium2.raw as pdfium

PT = 25.4 / 72


class Page:
    """One page, read back: its words with their places [mm from the top left] and sizes [points]."""

    def __init__(self, pdf, number=0):
        with pypdfium2.PdfDocument(pdf) as document:
            page = document[number]
            self.pages = len(document)
            self.width, self.height = (side * PT for side in page.get_size())
            textpage = page.get_textpage()
            self.text = textpage.get_text_bounded()
            self.words, self.base_lines, self.places, self.inks = [], [], [], set()
            self.word_inks = set()
            for one in page.get_objects(max_depth=3, textpage=textpage):
                self._read(one)

    def _read(self, one):
        place = self._place(one)
        self.inks |= {colour for ask in ASK for colour in [colour_of(one, ask)] if colour is not None}
        if one.level == 0:
            self.places.append(place)
        if one.type == pdfium.FPDF_PAGEOBJ_TEXT and one.extract().strip():
            font = one.get_font()
            self.word_inks.add(colour_of(one, pdfium.FPDFPageObj_GetFillColor))
            self.words.append((one.extract().strip(), place, one.get_font_size(), bool(font.is_embedded)))
            self.base_lines.append(self.height - one.get_matrix().f * PT)

    def _place(self, one):
        left, bottom, right, top = (value * PT for value in one.get_bounds())
        return left, self.height - top, right, self.height - bottom

    def find(self, text):
        return [word for word in self.words if word[0] == text]

    def one(self, text):
        found = self.find(text)
        assert len(found) == 1, f"{text!r} stands {len(found)} times on the page"
        return found[0]


ASK = (pdfium.FPDFPageObj_GetFillColor, pdfium.FPDFPageObj_GetStrokeColor)


def colour_of(one, ask):
    channels = [c_uint() for _ in range(4)]
    return tuple(channel.value for channel in channels[:3]) if ask(one.raw, *channels) else None


def page_text(pdf):
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_bounded() for page in document]


def overlaps(words):
    """Pairs of words that lie over each other by more than a hair."""
    for (text, a, *_), (other, b, *_) in combinations(words, 2):
        across, down = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
        if across > 0.4 and down > 0.4:
            yield text, other
