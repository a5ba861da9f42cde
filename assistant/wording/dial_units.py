"""Pressures in reasons and lists, said in the unit of the operator's dial.

Knows figures in pounds (psi) within a sentence, as belief, alarms and lists give them; no meaning.
"""

from __future__ import annotations

import re

from assistant.boiler.scales import PRESSURE_PA, PSI_PA
from assistant.wording.quantities import dial_rounded
from assistant.wording.text_normalisation import spelled

_POUNDS = re.compile(
    r"(?<![\w.])(?:(\d+(?:\.\d+)?)( to | or | and ))?(\d+(?:\.\d+)?) ?(?:psi|pounds?)\b"
)


def in_dial(text: str, dial: str) -> str:
    """The text with figures in pounds per square inch turned into the unit of the dial.

    >>> in_dial("73 pounds now, 15 to 20 psi wanted", "bar")
    '5 bar now, 1 to 1.4 bar wanted'
    >>> in_dial("73 psi now", "psi")
    '73 psi now'
    """
    if dial == "psi" or dial not in PRESSURE_PA:
        return text
    return _POUNDS.sub(lambda match: _converted(match, dial), text)


def listed(text: str, dial: str) -> str:
    """A text of a list, its figures in words and its pressures in the unit of the dial.

    >>> listed("Is there 20 psi or more?", "psi"), listed("Is there 20 psi or more?", "bar")
    ('Is there twenty pounds or more?', 'Is there one point four bar or more?')
    """
    return spelled(in_dial(text, dial)) if _POUNDS.search(text) else text


def _converted(match: re.Match[str], dial: str) -> str:
    first, between, last = match.groups()
    before = f"{_figure(first, dial)}{between}" if first else ""
    return f"{before}{_figure(last, dial)} {dial}"


def _figure(pounds: str, dial: str) -> str:
    return f"{dial_rounded(float(pounds) * PSI_PA / PRESSURE_PA[dial], dial):g}"
