"""What the hearing tests share: a small grammar, and the ear loaded once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import pytest

from assistant.messages import Answer, Meaning, Report
from assistant.recogniser.constrained_whisper import ConstrainedWhisper


@dataclass(frozen=True, eq=False)
class SmallGrammar:
    """Sentences in a dict."""

    sentences: Mapping[tuple[str, ...], Meaning]
    prompt: str = "Pressure seventy five. Water half. Correct. Wrong."
    asked: list[tuple[str, ...]] = field(default_factory=list)

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        return self.sentences.get(tuple(words))


@pytest.fixture(scope="session")
def small() -> SmallGrammar:
    said: dict[str, Meaning] = {
        "pressure seventy five": Report("pressure", 75.0, "psi"),
        "pressure seven five": Report("pressure", 75.0, "psi"),
        "pressure seven": Report("pressure", 7.0, "psi"),
        "pressure fifteen": Report("pressure", 15.0, "psi"),
        "pressure fifty": Report("pressure", 50.0, "psi"),
        "water half": Report("water", 0.5, "glass"),
        "water three quarters": Report("water", 0.75, "glass"),
        "correct": Answer("yes"),
        "wrong": Answer("no"),
    }
    return SmallGrammar({tuple(text.split()): meaning for text, meaning in said.items()})


@pytest.fixture(scope="session")
def ear() -> ConstrainedWhisper:
    return ConstrainedWhisper()
