"""Why a move that was asked for is not made now: another phase comes first. Knows no guard."""

from __future__ import annotations

THIS_LIST = "finish this list first"
STEAM = "raise steam first"
STAND = "stand by first"
NEW_BOOK = "end the session, then begin again"
# What comes before a phase, by where one is; a move that the table has is not looked up.
FIRST: dict[str, dict[str, str]] = {
    "preparation": {"raising steam": THIS_LIST},
    "firing": {"raising steam": THIS_LIST},
}
FIRST_OTHERWISE: dict[str, str] = {
    "preparation": STEAM,
    "firing": STEAM,
    "raising steam": STAND,
    "tick-over": STAND,
    "pumping": STAND,
    "putting away": NEW_BOOK,
}


def refused(here: str, wanted: str) -> str:
    """Why a phase cannot begin from here, or that it has begun.

    >>> refused("firing", "standing by"), refused("pumping", "pumping")
    ('Not from firing: raise steam first.', 'We are already.')
    """
    if here == wanted:
        return "We are already."
    first = FIRST.get(here, {}).get(wanted) or FIRST_OTHERWISE.get(here, "")
    return f"Not from {here}: {first}." if first else f"Not from {here}."


def feed_first() -> str:
    """She is to move off, and no feed works."""
    return "Not without a feed that works."


def gauge_first() -> str:
    """A move that wants steam is asked for while gauge and valve disagree."""
    return "Not while gauge and valve disagree."


def glass_first() -> str:
    """She is to move off, and the water is at the very top of the glass."""
    return "Not with a full glass. Blow it through."


def danger_first() -> str:
    """A move is asked for while a danger stands."""
    return "The danger first. Then say it again."
