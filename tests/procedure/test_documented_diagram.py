"""The state diagrams in DEVELOPERS.md are those drawn from the tables."""

from __future__ import annotations

from pathlib import Path

from assistant.dialogue.conversation import diagrams
from assistant.procedure.phases import diagram


def test_the_documented_diagrams_are_the_tables() -> None:
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    blocks = [part.split("```", 1)[0] for part in text.split("```mermaid\n")[1:]]
    assert blocks == [diagram(), *diagrams()]
