"""Who writes what: each part of the state is replaced in one module only."""

from __future__ import annotations

import ast
from dataclasses import fields
from pathlib import Path

from assistant.dialogue.state import SessionState

ROOT = Path(__file__).parents[2] / "assistant"
OWNERS = {
    "clock": "dialogue/owners/clock.py",
    "believed": "dialogue/owners/boiler.py",
    "procedure": "dialogue/owners/work.py",
    "watch": "dialogue/owners/alarms.py",
    "reports": "dialogue/owners/log.py",
    "question": "dialogue/owners/questions.py",
    "asked": "dialogue/owners/needs.py",
    "hearing": "dialogue/owners/hearing.py",
    "told": "dialogue/owners/told.py",
    "person": "dialogue/owners/person.py",
    "lesson": "dialogue/owners/lesson.py",
    "lost_devices": "dialogue/owners/devices.py",
    "fault_told_at": "dialogue/event_context.py",
}


def calls(module: Path) -> list[ast.Call]:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    return [node for node in ast.walk(tree) if isinstance(node, ast.Call)]


def parts_replaced_in(module: Path) -> set[str]:
    """The parts that `context.become(replace(context.state, part=...))` names there."""
    return {
        keyword.arg or "**"
        for call in calls(module)
        if isinstance(call.func, ast.Attribute) and call.func.attr == "become"
        for made in call.args
        if isinstance(made, ast.Call) and ast.unparse(made.func) == "replace"
        for keyword in made.keywords
    }


def test_every_part_of_the_state_has_one_owner_and_only_he_replaces_it() -> None:
    writers: dict[str, set[str]] = {}
    for module in sorted(ROOT.rglob("*.py")):
        for part in parts_replaced_in(module):
            writers.setdefault(part, set()).add(str(module.relative_to(ROOT)))
    assert writers == {part: {owner} for part, owner in OWNERS.items()}
    assert set(OWNERS) == {part.name for part in fields(SessionState)}


def test_the_state_is_replaced_in_no_other_way() -> None:
    """`become` takes a `replace` written out at the call; nobody else assigns the state."""
    for module in sorted(ROOT.rglob("*.py")):
        source = module.read_text(encoding="utf-8")
        for call in calls(module):
            if isinstance(call.func, ast.Attribute) and call.func.attr == "become":
                text = ast.unparse(call.args[0])
                assert text.startswith(("replace(context.state, ", "replace(self.state, ")), module
        if module.name not in ("event_context.py", "session.py"):
            assert "context.state =" not in source, module
