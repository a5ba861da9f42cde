"""Only `understanding` weighs: the rooms that act take its decisions, and no figure of an ear."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2] / "assistant"
FIGURES = {"probability", "log_ratio", "average"}
WEIGHING = "assistant.understanding."
# What the session may take: the decision, what it consults, and what a meaning is about.
FOR_THE_SESSION = {"decide", "decision", "context", "meanings", "retries"}
# It tells a person what the ear and the decision made of a sound file.
DIAGNOSTIC = {ROOT / "commands" / "hear.py"}
ACTING = ("dialogue", "procedure", "alarms", "wording", "picture", "commands", "report")
MODULES = [
    module
    for room in ACTING
    for module in sorted((ROOT / room).rglob("*.py"))
    if module not in DIAGNOSTIC
] + [ROOT / "app.py"]


def figures_read(tree: ast.AST) -> list[str]:
    return [
        f"line {node.lineno}: .{node.attr}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and node.attr in FIGURES
    ]


def parts_taken(tree: ast.AST) -> set[str]:
    """The modules of `understanding` that are imported."""
    taken: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            taken |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            taken |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return {
        name.removeprefix(WEIGHING).split(".")[0] for name in taken if name.startswith(WEIGHING)
    }


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_room_that_acts_reads_a_figure_a_cost_or_a_gate(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert figures_read(tree) == []
    assert not parts_taken(tree) & {"costs", "gates", "posterior", "case"}


def test_the_session_takes_decisions_only() -> None:
    taken: set[str] = set()
    for module in (ROOT / "dialogue").rglob("*.py"):
        taken |= parts_taken(ast.parse(module.read_text(encoding="utf-8")))
    assert taken == FOR_THE_SESSION


@pytest.mark.parametrize(
    ("source", "figures", "parts"),
    [
        ("x = heard.log_ratio", ["line 1: .log_ratio"], set()),
        ("from assistant.understanding import gates", [], {"gates"}),
        ("from assistant.understanding.costs import TABLE", [], {"costs"}),
        ("import assistant.understanding.case", [], {"case"}),
        ("from assistant.messages import Heard", [], set()),
    ],
)
def test_what_it_looks_for_is_found(source: str, figures: list[str], parts: set[str]) -> None:
    tree = ast.parse(source)
    assert (figures_read(tree), parts_taken(tree)) == (figures, parts)
