"""How a transcriber may write what was said: the texts to choose a pseudo-label from.

Knows words and text; knows no sound.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.grammar.numbers import DIGITS, Words
from assistant.recogniser.inverse_normalisation import RUN_WORDS, written_numbers, written_words

_STYLES = 4
_LONGEST_RUN = 8


def spellings(words: Words) -> tuple[str, ...]:
    """Ways a transcriber writes these words, each with a space before it, as inside a text.

    >>> [text for text in spellings(("seven", "five")) if text.endswith("5.")]
    [' 7 5.', ' 7-5.', ' 75.']
    """
    parts = _parts(words)
    texts: set[str] = set()
    for style in range(_STYLES):
        text = " ".join(_part(part, style) for part in parts)
        texts |= {text, text.replace(" percent", "%")} if style == 0 else {text}
    if len(words) > 1 and all(word in DIGITS for word in words):
        texts |= {" ".join(str(DIGITS.index(word)) for word in words), ", ".join(words)}
    capital = texts | {text[0].upper() + text[1:] for text in texts}
    return tuple(sorted(f" {text}{stop}" for text in capital for stop in ("", ".")))


def _parts(words: Words) -> list[Words]:
    """Numbers and fractions in one piece each, everything else word by word."""
    parts: list[Words] = []
    at = 0
    while at < len(words):
        end = min(len(words), at + _LONGEST_RUN)
        while end > at and not _is_number(words[at:end]):
            end -= 1
        end = max(end, at + 1)
        parts.append(words[at:end])
        at = end
    return parts


def _is_number(words: Words) -> bool:
    return all(word in RUN_WORDS for word in words) and bool(written_numbers(words))


def _part(words: Words, style: int) -> str:
    """In figures or with hyphens for the first styles, in words for the last."""
    forms: Sequence[str] = written_numbers(words)[:3] if _is_number(words) else ()
    if forms and style < _STYLES - 1:
        return forms[min(style, len(forms) - 1)]
    return " ".join(written_words(word, first=False)[0] for word in words)
