"""Text of any origin, made fit for a terminal: what would command it is shown as an escape."""

from __future__ import annotations

import re

# C0 but for the line end and the tab, DEL, C1, marks that turn the direction of writing, lone
# surrogates
_COMMANDS = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]"
)


def printable(text: str) -> str:
    r"""The text with control characters as escapes.

    >>> printable("\x1b]0;title\x07 water half")
    '\\x1b]0;title\\x07 water half'
    """
    return _COMMANDS.sub(lambda found: ascii(found[0])[1:-1], text)
