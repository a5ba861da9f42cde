"""Numbers in words: every accepted form of a value. Knows no unit, no sentence and no gauge.

Every form means exactly one value: a lone digit before tens is hundreds ("one twenty" is 120), a
row of digits is read as digits ("one five" is 15), and nothing else may be left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import isfinite

Words = tuple[str, ...]

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
TEENS = (
    "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
    "eighteen", "nineteen",
)  # fmt: skip
TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

# In a row of digits a nine may be "niner" and a nought "oh" (radio digits of ICAO Annex 10, from
# memory). Alone "oh" is an exclamation and is refused.
DIGIT_STYLES: tuple[Mapping[str, str], ...] = (
    {},
    {"zero": "oh"},
    {"nine": "niner"},
    {"zero": "oh", "nine": "niner"},
)

LARGEST = 2999  # above any reading of a gauge or a tank, in any unit
_QUARTERS = {
    25: ("and", "a", "quarter"),
    50: ("and", "a", "half"),
    75: ("and", "three", "quarters"),
}


def _under_hundred(value: int) -> Words:
    if value < 10:
        return (DIGITS[value],)
    if value < 20:
        return (TEENS[value - 10],)
    unit = value % 10
    return (TENS[value // 10], DIGITS[unit]) if unit else (TENS[value // 10],)


def _digit_rows(value: int) -> Iterator[Words]:
    """The digits one by one, in each style; none for a single digit."""
    row = tuple(DIGITS[int(figure)] for figure in str(value))
    if len(row) > 1:
        for style in DIGIT_STYLES:
            yield tuple(style.get(word, word) for word in row)


def _hundreds(value: int) -> Iterator[Words]:
    """Forms of 100 to 999 with the word "hundred", and the clipped one ("one twenty")."""
    count, rest = divmod(value, 100)
    heads: tuple[Words, ...] = (("a",), ("one",), ()) if count == 1 else ((DIGITS[count],),)
    for head in heads:
        if not rest:
            yield (*head, "hundred")
            continue
        yield (*head, "hundred", "and", *_under_hundred(rest))
        if head:
            yield (*head, "hundred", *_under_hundred(rest))
    if rest >= 10:
        yield (DIGITS[count], *_under_hundred(rest))


def _thousands(value: int) -> Iterator[Words]:
    """Forms of 1000 to 2999: with "thousand", in hundreds ("twelve hundred"), in pairs."""
    count, rest = divmod(value, 1000)
    for head in ("a", "one") if count == 1 else (DIGITS[count],):
        if not rest:
            yield (head, "thousand")
        elif rest < 100:
            yield (head, "thousand", "and", *_under_hundred(rest))
        else:
            tail = (DIGITS[rest // 100], "hundred")
            if rest % 100:
                yield (head, "thousand", *tail, "and", *_under_hundred(rest % 100))
                yield (head, "thousand", *tail, *_under_hundred(rest % 100))
            else:
                yield (head, "thousand", *tail)
    pairs, rest = divmod(value, 100)
    if pairs % 10:
        if not rest:
            yield (*_under_hundred(pairs), "hundred")
        elif pairs < 20 and rest >= 10:
            yield (*_under_hundred(pairs), *_under_hundred(rest))


def _whole_forms(value: int) -> Iterator[Words]:
    if value < 100:
        yield _under_hundred(value)
    elif value < 1000:
        yield from _hundreds(value)
    else:
        yield from _thousands(value)
    yield from _digit_rows(value)
    if value == 0:
        yield ("nought",)


def _decimal_forms(whole: int, hundredths: int) -> Iterator[Words]:
    figures = f"{hundredths:02d}".rstrip("0")
    after = tuple(DIGITS[int(figure)] for figure in figures)
    heads: tuple[Words, ...] = (("zero",), ("nought",), ("oh",), ()) if whole == 0 else ()
    for head in heads or tuple(dict.fromkeys(_whole_forms(whole))):
        yield (*head, "point", *after)
    if whole and hundredths in _QUARTERS:
        for head in dict.fromkeys(_whole_forms(whole)):
            yield (*head, *_QUARTERS[hundredths])


@lru_cache(maxsize=8192)
def spoken_forms(value: float) -> tuple[Words, ...]:
    """Every accepted form of a number, the one that the assistant says first. [0 to 2999]

    Raises ValueError outside that range, or for more than two decimal places.

    >>> [" ".join(form) for form in spoken_forms(15)]
    ['fifteen', 'one five']
    >>> [" ".join(form) for form in spoken_forms(5.5)]
    ['five point five', 'five and a half']
    """
    hundredths = round(value * 100) if isfinite(value) else -1
    if not 0 <= hundredths <= LARGEST * 100 or abs(value * 100 - hundredths) > 1e-6:
        raise ValueError(f"{value} is not a number we can say")
    whole, rest = divmod(hundredths, 100)
    forms = _decimal_forms(whole, rest) if rest else _whole_forms(whole)
    return tuple(dict.fromkeys(forms))


def number_words(value: float) -> str:
    """A number as the assistant says it, to two decimal places; above 2999 digit by digit.

    Raises ValueError for a number that is not finite.

    >>> number_words(75), number_words(120), number_words(2.5), number_words(-3)
    ('seventy five', 'a hundred and twenty', 'two point five', 'minus three')
    """
    rounded = round(value, 2)
    if rounded < 0:
        return f"minus {number_words(-rounded)}"
    if LARGEST < rounded < float("inf"):
        return digit_by_digit(rounded)
    return " ".join(spoken_forms(rounded)[0])


def digit_by_digit(value: float) -> str:
    """A number digit by digit, so that no teen is mistaken for a ten.

    >>> digit_by_digit(15), digit_by_digit(120), digit_by_digit(5.5), digit_by_digit(-5)
    ('one five', 'one two zero', 'five point five', 'minus five')
    """
    if value < 0:
        return f"minus {digit_by_digit(-value)}"
    text = f"{round(value, 2):.2f}".rstrip("0").rstrip(".")
    return " ".join("point" if figure == "." else DIGITS[int(figure)] for figure in text)
