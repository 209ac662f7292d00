"""Amounts of money: read as they are typed, written in the currency of the build."""

import re
from decimal import Decimal

#: Signs that name one currency alone; any other is told by its code after the amount.
SIGNS = {"GBP": "£", "EUR": "€"}
MOST = Decimal("9999999.99")
_PLAIN = re.compile(r"\d{1,9}(?:[.,]\d{1,2})?", re.ASCII)
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d{1,2})?", re.ASCII)
_AROUND = re.compile(r"^(?:[£€$]|[A-Z]{3})\s*|\s*(?:[£€$]|[A-Z]{3}|kr)$", re.I)


def read_money(text: str) -> Decimal:
    """The amount meant: `£1,250.00`, `1250` and `1250,00` are one.

    Raises
    ------
    ValueError
        The text is no amount, or past what is kept; the message says what to write.
    """
    bare = _AROUND.sub("", text.strip()).strip()
    if bare.startswith("-"):
        raise ValueError(f"{text.strip()[:16]} is less than nothing. Write the price of one, as 13.50.")
    if _GROUPED.fullmatch(bare):
        amount = Decimal(bare.replace(",", ""))
    elif _PLAIN.fullmatch(bare):
        amount = Decimal(bare.replace(",", "."))
    else:
        raise ValueError(f"“{text.strip()[:16]}” is no price. Write it as 13.50, with two places at most.")
    if amount > MOST:
        raise ValueError(f"{text.strip()[:16]} is past {MOST:,}, the most that is kept. Is it a slip?")
    return amount


def money(amount: Decimal | None, currency: str) -> str:
    """`£13.50`, `13.50 AUD`; a dash where the price is not known."""
    if amount is None:
        return "—"
    sign = SIGNS.get(currency, "")
    return f"{sign}{amount:,.2f}" if sign else f"{amount:,.2f} {currency}"
