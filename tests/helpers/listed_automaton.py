"""Every sentence of an automaton, for tests of small ones."""

from __future__ import annotations

from assistant.recogniser.automaton import Automaton


def listed(automaton: Automaton, state: int | None = None) -> set[tuple[str, ...]]:
    """The sentences from a state on; from the start by default."""
    at = automaton.start if state is None else state
    sentences: set[tuple[str, ...]] = {()} if at in automaton.ends else set()
    for word, after in automaton.arcs[at].items():
        sentences |= {(word, *rest) for rest in listed(automaton, after)}
    return sentences
