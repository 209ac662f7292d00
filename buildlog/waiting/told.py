"""What happened to castings, in words: one line each."""

from buildlog.clock import day_words, today
from buildlog.models import Happening, StoresEvent


def told(event: StoresEvent, *, of_order: bool = False) -> str:
    """`2 ordered on O-019, promised 21 Nov`; among what happened to that order its number is left out.

    Its part, and its line with the order, have to be at hand.
    """
    said = _said(event, of_order)
    return f"{said}: {event.text}" if event.text else said


def _said(event: StoresEvent, of_order: bool) -> str:
    order = f" {event.line.order.number}" if event.line and not of_order else ""
    on, of = (f" on{order}", f" of{order}") if order else ("", "")
    many = event.quantity
    promised = f", promised {day_words(event.promised_on, today())}" if event.promised_on else ""
    match event.kind:
        case Happening.ORDERED:
            return f"{many} ordered{on}{promised}"
        case Happening.CHASED:
            return f"Asked after{on}{promised or ', no new day'}"
        case Happening.CANCELLED:
            return f"{many}{of} not coming"
        case Happening.RECEIVED:
            return f"{many} came{of if event.line else ' without an order'}"
        case Happening.ACCEPTED:
            return f"{many} accepted{of}"
        case Happening.REJECTED:
            return f"{many} rejected{of}"
        case Happening.FOUND_BAD:
            whose = f", {event.part.key}’s" if event.part else ""
            return f"{many} found bad{of}{whose}"
        case _:
            return f"{many} allotted to {event.part.key if event.part else 'a part'}"
