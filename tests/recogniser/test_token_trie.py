"""The grammar over tokens, with single characters as tokens."""

from __future__ import annotations

from assistant.recogniser.automaton import of_sentences
from assistant.recogniser.token_trie import TokenGrammar


def characters(text: str) -> tuple[int, ...]:
    return tuple(map(ord, text))


def reads(grammar: TokenGrammar, text: str) -> set[tuple[str, ...]]:
    """The sentences a text may stand for; only allowed tokens are followed."""
    states = grammar.begin()
    for token in characters(text):
        if token not in grammar.allowed(states):
            return set()
        states = grammar.after(states, token)
    return set(grammar.complete(states))


GRAMMAR = TokenGrammar(
    of_sentences(
        tuple(text.split())
        for text in (
            "pressure seventy five",
            "pressure seven five",
            "pressure seven",
            "tank fifty percent",
        )
    ),
    characters,
)
SEVENTY_FIVE = ("pressure", "seventy", "five")
SEVEN_FIVE = ("pressure", "seven", "five")


def test_every_spelling_is_followed() -> None:
    assert reads(GRAMMAR, " pressure seventy five") == {SEVENTY_FIVE}
    assert reads(GRAMMAR, " Pressure seventy-five.") == {SEVENTY_FIVE}
    assert reads(GRAMMAR, " Pressure, seven, five?") == {SEVEN_FIVE}
    assert reads(GRAMMAR, " Pressure 7 5.") == {SEVEN_FIVE}
    assert reads(GRAMMAR, " Pressure 7-5") == {SEVEN_FIVE}
    assert reads(GRAMMAR, " tank 50%.") == {("tank", "fifty", "percent")}


def test_one_text_may_be_two_sentences() -> None:
    assert reads(GRAMMAR, " Pressure 75.") == {SEVENTY_FIVE, SEVEN_FIVE}


def test_nothing_else_is_followed() -> None:
    for text in ("pressure seven", " pressure", " Pressure 57", " pressure 7 5 5", " Tank 50", ""):
        assert reads(GRAMMAR, text) == set(), text
    assert reads(GRAMMAR, " pressure seven. five") == set()


def test_tokens_are_listed_once() -> None:
    states = GRAMMAR.begin()
    for token in characters(" pressure "):
        states = GRAMMAR.after(states, token)
    allowed = list(GRAMMAR.allowed(states))
    assert len(allowed) == len(set(allowed))
    assert {chr(t) for t in allowed} == {"7", "s"}
