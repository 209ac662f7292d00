"""The printed papers: the work card, the kept sum, the parts list; dictionaries in, PDF bytes out."""

from calc.sheets import CardSheet, DrawnSheet, LeftOff, PartsListSheet, SumSheet


def render_card(card: CardSheet) -> bytes:
    """The work card, one side of A4 or A5, black on white."""
    from calc.pdf_card import draw_card

    return draw_card(card)


def without_room(card: CardSheet) -> list[LeftOff]:
    """What one side has no room for, in whole or in part; empty where all of the card fits."""
    from calc.pdf_card import left_off

    return left_off(card)


def render_sum(sheet: SumSheet) -> bytes:
    """A kept sum, A4, over as many pages as its working needs."""
    from calc.pdf_sum import draw_sum

    return draw_sum(sheet)


def render_parts_list(sheet: PartsListSheet) -> bytes:
    """A parts list, A4 landscape, assembly by assembly."""
    from calc.pdf_list import draw_list

    return draw_list(sheet)


def render_drawing(sheet: DrawnSheet) -> bytes:
    """A drawing, A3 lying, from a list of its lines."""
    from calc.pdf_drawing import draw_drawing

    return draw_drawing(sheet)
