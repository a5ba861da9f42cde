"""The state diagram in DEVELOPERS.md is the one drawn from the table."""

from __future__ import annotations

from pathlib import Path

from assistant.procedure.phases import diagram


def test_the_documented_diagram_is_the_table() -> None:
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    block = text.split("```mermaid\n", 1)[1].split("```", 1)[0]
    assert block == diagram()
