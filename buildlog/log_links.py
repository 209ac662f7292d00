"""Addresses of video and web pages in the log: plain links, never fetched and never shown in the page."""

from urllib.parse import urlsplit

MOST_LINKS = 10
LONGEST = 500
_SCHEMES = ("http", "https")


def read_links(text: str) -> str:
    """The addresses typed, one a line, each once.

    Raises
    ------
    ValueError
        One of them is no address of a page, or there are too many; the message says which and what to do.
    """
    found = list(dict.fromkeys(line.strip() for line in text.splitlines() if line.strip()))
    for link in found:
        _check(link)
    if len(found) > MOST_LINKS:
        raise ValueError(
            f"There are {len(found)} links; an entry takes {MOST_LINKS} at most. "
            "Put the rest with another entry."
        )
    return "\n".join(found)


def _check(link: str) -> None:
    shown = link if len(link) <= 40 else f"{link[:40]}…"
    if len(link) > LONGEST:
        raise ValueError(
            f"The link {shown} has {len(link)} letters; {LONGEST} at most. Look for a shorter one."
        )
    if len(link.split()) > 1:
        raise ValueError(f"“{shown}” has a space in it. Write each link on a line of its own, alone.")
    try:
        parts = urlsplit(link)
        host = parts.hostname or ""
        _ = parts.port  # Reading it is what finds a port that is none.
    except ValueError:
        host, parts = "", urlsplit("")
    if parts.scheme not in _SCHEMES or not host or "\\" in link:
        raise ValueError(
            f"“{shown}” is no link to a page. Write the whole address, beginning with https:// or http://."
        )
    if parts.username is not None or parts.password is not None:
        raise ValueError(f"“{shown}” has a name or a password before its @. Leave that part of it out.")
