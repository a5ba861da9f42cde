"""How a transcriber writes spoken words: figures, hyphens, signs. Knows words and text only.

The recogniser sums the probability over all spellings of a sentence: one that is missing here costs
accuracy, a needless one a little time.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from assistant.grammar.numbers import DIGITS, TEENS, TENS

_UNIT = {word: value for value, word in enumerate(DIGITS)} | {"oh": 0, "nought": 0, "niner": 9}
_TEEN = {word: 10 + value for value, word in enumerate(TEENS)}
_TEN = {word: 10 * value for value, word in enumerate(TENS) if word}

_PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4,
    "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8,
    "tenth": 10, "tenths": 10,
}  # fmt: skip
SIGNS = {"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "7/8": "⅞"}

RUN_WORDS = frozenset(
    {*_UNIT, *_TEEN, *_TEN, *_PARTS, "hundred", "thousand", "point", "and", "a", "an"}
)
"""Words that may be part of a number or fraction written in figures."""

LONGEST_RUN = 8  # "two hundred and thirty five and a half"

# Spellings of a word; the model was trained on American ones.
_SPELLINGS: dict[str, tuple[str, ...]] = {
    "i": ("I",), "i'm": ("I'm",), "i'd": ("I'd",), "psi": ("psi", "PSI"), "percent": ("percent",),
    "kilopascals": ("kilopascals", "kPa"), "kilos": ("kilos",), "oh": ("oh", "O"),
    "litre": ("litre", "liter"), "litres": ("litres", "liters"),
    "millimetres": ("millimetres", "millimeters", "mm"), "gauge": ("gauge", "gage"),
    "nought": ("nought", "naught"), "american": ("American",), "imperial": ("imperial",),
    "okay": ("okay", "ok", "OK"),
    "ounce": ("ounce", "oz"), "iced": ("iced", "ice"),
}  # fmt: skip


_Reader = Callable[[Sequence[str], int], tuple[int | None, int]]
"""(words, where to begin) -> a number, None for none; and where it ends."""


def written_words(word: str, first: bool) -> tuple[str, ...]:
    """Spellings of one word; at the start of a sentence with a capital too.

    >>> written_words("water", first=True)
    ('water', 'Water')
    """
    forms = _SPELLINGS.get(word, (word,))
    if not first:
        return forms
    return tuple(dict.fromkeys([*forms, *(form[0].upper() + form[1:] for form in forms)]))


@lru_cache(maxsize=65536)
def written_numbers(words: tuple[str, ...]) -> tuple[str, ...]:
    """Spellings of a whole number or fraction in figures or with hyphens; none if it is neither.

    >>> written_numbers(("seven", "five"))
    ('75', '7-5')
    >>> written_numbers(("one", "hundred", "and", "twenty", "five"))
    ('125',)
    >>> written_numbers(("twenty", "five"))
    ('25', 'twenty-five')
    >>> written_numbers(("three", "quarters"))
    ('3/4', '¾', 'three-quarters')
    >>> written_numbers(("hundred", "and")), written_numbers(("five", "point"))
    ((), ())
    """
    if words[-1] in _PARTS:
        return _fraction_forms(words)
    figures = _figures(words)
    if figures is None:
        return ()
    forms = [figures]
    if len(words) > 1 and all(word in _UNIT for word in words):
        forms.append("-".join(figures))
    if len(words) == 2 and words[0] in _TEN and words[1] in _UNIT:
        forms.append("-".join(words))
    if figures.isdigit() and len(figures) == 4 and figures[0] != "0":
        forms.append(f"{figures[0]},{figures[1:]}")
    return tuple(forms)


def _fraction_forms(words: tuple[str, ...]) -> tuple[str, ...]:
    whole = None
    if len(words) > 2 and words[-3] == "and":  # "five and a half"
        whole = _figures(words[:-3])
        if whole is None:
            return ()
        words = words[-2:]
    if len(words) != 2:
        return ()
    over = 1 if words[0] in ("a", "an") else _UNIT.get(words[0], 0)
    if not over or words[0] == "niner":
        return ()
    plain = f"{over}/{_PARTS[words[1]]}"
    forms = [plain, *([SIGNS[plain]] if plain in SIGNS else [])]
    if whole is not None:
        return tuple(f"{whole}{'' if form in SIGNS.values() else ' '}{form}" for form in forms)
    return (*forms, *(["-".join(words)] if words[0] not in ("a", "an") else []))


def _figures(words: Sequence[str]) -> str | None:
    """Spoken groups as figures side by side: "one twenty five" is 125, as is "one two five"."""
    out, at = "", 0
    while at < len(words):
        if words[at] == "point":
            if "." in out or at + 1 == len(words):
                return None
            out, at = (out or "0") + ".", at + 1
            continue
        value, after = _group(words, at)
        if value is None:
            return None
        out, at = out + str(value), after
    return out


def _under_hundred(words: Sequence[str], at: int) -> tuple[int | None, int]:
    word = words[at] if at < len(words) else ""
    if word in _TEN:
        unit = _UNIT.get(words[at + 1], 0) if at + 1 < len(words) else 0
        return _TEN[word] + unit, at + 1 + bool(unit)
    return _UNIT.get(word, _TEEN.get(word)), at + 1


def _group(words: Sequence[str], at: int) -> tuple[int | None, int]:
    """The longest cardinal number from `at`: its value and where it ends."""
    value, after = _hundreds(words, at)
    if value is not None and after < len(words) and words[after] == "thousand":
        rest, rest_after = _rest(words, after + 1, _hundreds)
        return value * 1000 + rest, rest_after
    return value, after


def _hundreds(words: Sequence[str], at: int) -> tuple[int | None, int]:
    if words[at] in ("a", "hundred"):
        value: int | None = 1
        after = at + (words[at] == "a")
        if after == len(words) or words[after] not in ("hundred", "thousand"):
            return None, at
    else:
        value, after = _under_hundred(words, at)
    if value and after < len(words) and words[after] == "hundred":
        rest, rest_after = _rest(words, after + 1, _under_hundred)
        return value * 100 + rest, rest_after
    return value, after


def _rest(words: Sequence[str], at: int, read: _Reader) -> tuple[int, int]:
    """What follows hundred or thousand, with or without "and"; zero if it is no number."""
    joined = at + (at < len(words) and words[at] == "and")
    if joined < len(words):
        value, after = read(words, joined)
        if value:
            return value, after
    return 0, at
