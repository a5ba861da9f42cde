"""The house's one rule: imports run one way. Held by walking the syntax trees."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent / "assistant"

# A room may import its own modules and any room named here. `errors` and `messages` are for all.
ALLOWED: dict[str, set[str]] = {
    "errors": set(),
    "messages": set(),
    "boiler": set(),
    "procedure": {"boiler"},
    "talk": {"boiler"},
    "watch": {"boiler"},
    "turn": {"procedure", "talk", "watch", "boiler"},
    "session": {"turn", "procedure", "talk", "watch", "boiler"},
    "files": {"session", "procedure", "talk", "watch", "boiler"},
    "devices": {"session", "procedure", "talk", "watch", "boiler"},
    "hearing": {"talk"},
    "report": {"session", "files", "procedure", "talk", "watch", "boiler"},
    "rehearsal": {"session", "files", "devices", "hearing", "procedure", "talk", "watch", "boiler"},
    "app": {"session", "files", "devices", "hearing", "report", "rehearsal", "talk", "boiler"},
    "verbs": {
        "turn",
        "app", "session", "files", "devices", "hearing", "report", "rehearsal",
        "procedure", "talk", "watch", "boiler",
    },
    "cli": {"verbs"},
}  # fmt: skip

# Libraries that only one module each may import.
ONE_PLACE = {
    "transitions": {"procedure/flow.py"},
    "pint": {"files/units.py"},
    "yaml": {"files/placed_yaml.py"},
    "vosk": {"hearing/vosk_ear.py"},
    "pyttsx3": {"devices/voice.py"},
    "sounddevice": {"devices/sound_card.py"},
    "onnxruntime": {"hearing/detector.py"},
}

MODULES = sorted(ROOT.rglob("*.py"))


def room_of(module: Path) -> str:
    first = module.relative_to(ROOT).parts[0]
    return first.removesuffix(".py")


def imports(module: Path) -> list[tuple[str, int]]:
    """Absolute dotted names imported anywhere in the module, with their lines."""
    found: list[tuple[str, int]] = []
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}:{node.lineno}: relative import"
            base = node.module or ""
            found += [(f"{base}.{alias.name}", node.lineno) for alias in node.names]
    return found


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_imports_run_one_way(module: Path) -> None:
    room = room_of(module)
    if room in {"__init__", "__main__"}:
        return
    allowed = ALLOWED[room] | {room, "errors", "messages", "__version__"}
    for name, line in imports(module):
        parts = name.split(".")
        if parts[0] == "assistant":
            target = parts[1] if len(parts) > 1 else "__init__"
            assert target in allowed, f"{module}:{line}: {room} must not import {name}"


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_each_outside_engine_is_imported_in_one_place(module: Path) -> None:
    here = str(module.relative_to(ROOT))
    for name, line in imports(module):
        library = name.split(".")[0]
        if library in ONE_PLACE:
            assert here in ONE_PLACE[library], f"{module}:{line}: {library} belongs elsewhere"


def test_thinking_rooms_never_read_the_clock() -> None:
    for module in MODULES:
        if room_of(module) in {
            "boiler",
            "procedure",
            "talk",
            "watch",
            "turn",
            "session",
            "messages",
        }:
            for name, line in imports(module):
                assert name.split(".")[0] not in {"time", "threading", "random", "socket"}, (
                    f"{module}:{line}: {name} in a thinking room"
                )
