"""Imports run one way: which room takes from which, exactly, and no circle anywhere."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent / "assistant"

# What each room takes from others: exactly these, no more and no fewer. A room may import its own
# modules; `errors`, `messages` and the version are for all.
ARROWS: dict[str, set[str]] = {
    "boiler": set(),
    "cli": {"devices"},
    "devices": set(),
    "grammar": set(),
    "alarms": {"boiler", "picture"},
    "belief": {"boiler"},
    "picture": {"boiler", "belief", "procedure"},
    "procedure": {"boiler"},
    "recogniser": {"grammar"},
    "understanding": {"grammar"},
    "wording": {"boiler", "grammar"},
    "config": {"boiler", "grammar", "alarms", "belief", "procedure"},
    "dialogue": {
        "boiler", "grammar", "alarms", "belief", "picture", "procedure", "understanding", "wording",
    },
    "enrolment": {"config", "devices", "grammar", "recogniser"},
    "app": {"wording", "dialogue"},
    "journal": {"boiler", "belief", "config"},
    "simulator": {"boiler", "devices", "grammar", "procedure", "recogniser", "config"},
    "report": {"boiler", "belief", "procedure", "config", "journal", "wording"},
    "board": {
        "alarms", "belief", "boiler", "config", "dialogue", "picture", "procedure", "wording",
    },
    "commands": {
        "board", "boiler", "devices", "grammar", "belief", "procedure", "recogniser",
        "understanding", "wording", "config", "dialogue", "enrolment", "app", "journal",
        "simulator", "report",
    },
    "lab": {
        "boiler", "devices", "grammar", "alarms", "belief", "picture", "procedure", "recogniser",
        "understanding", "config", "dialogue", "enrolment", "app", "journal", "simulator", "report",
        "commands", "cli", "wording",
    },
}  # fmt: skip

# Libraries that only one module each may import.
ONE_PLACE = {
    "msgspec": {"journal/codec.py"},
    "transitions": {"procedure/machine.py"},
    "pint": {"config/units.py"},
    "yaml": {"config/positioned_yaml.py"},
    "vosk": {"recogniser/vosk_model.py"},
    "pyttsx3": {"devices/voice.py"},
    "sounddevice": {"devices/sound_card.py"},
    "onnxruntime": {"recogniser/detector.py"},
}

# Rooms that think: no clock, no thread, no chance, no network, no file.
THINKING = {
    "messages", "boiler", "belief", "grammar", "understanding", "wording", "procedure", "picture",
    "alarms", "dialogue",
}  # fmt: skip
OUTSIDE = {"time", "threading", "random", "socket", "os", "pathlib", "subprocess"}

FOR_ALL = {"errors", "messages", "shipped_folder", "__init__"}
MODULES = sorted(ROOT.rglob("*.py"))
NAMES = {
    ".".join((ROOT.name, *m.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__"): m
    for m in MODULES
}


def room_of(module: Path) -> str:
    return module.relative_to(ROOT).parts[0].removesuffix(".py")


@cache
def imports(module: Path) -> list[tuple[str, int]]:
    """Absolute dotted names imported anywhere in the module, with their lines."""
    found: list[tuple[str, int]] = []
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}:{node.lineno}: relative import"
            found += [(f"{node.module}.{alias.name}", node.lineno) for alias in node.names]
    return found


def taken_from(module: Path) -> dict[Path, int]:
    """The modules of ours that it imports, with the line of the first import."""
    taken: dict[Path, int] = {}
    for name, line in imports(module):
        for wanted in (name, name.rpartition(".")[0]):
            if wanted in NAMES and NAMES[wanted] != module:
                taken.setdefault(NAMES[wanted], line)
                break
    return taken


def test_each_room_takes_from_exactly_the_rooms_it_is_said_to() -> None:
    used: dict[str, set[str]] = {}
    for module in MODULES:
        room = room_of(module)
        if room not in FOR_ALL:
            used.setdefault(room, set())
            used[room] |= {room_of(other) for other in taken_from(module)} - FOR_ALL - {room}
    assert used == ARROWS


def test_errors_and_messages_take_nothing() -> None:
    for name in ("errors", "messages"):
        assert {room_of(other) for other in taken_from(ROOT / f"{name}.py")} <= {"__init__"}


def test_there_is_no_circle_inside_a_room_or_between_rooms() -> None:
    between = {room: set(taken) for room, taken in ARROWS.items()}
    assert circle_in(between) == []
    inside = {
        str(m.relative_to(ROOT)): {str(t.relative_to(ROOT)) for t in taken_from(m)} for m in MODULES
    }
    assert circle_in(inside) == []


def test_only_the_command_line_finds_the_laboratory_and_by_name() -> None:
    for module in MODULES:
        if room_of(module) != "lab":
            for name, line in imports(module):
                assert not name.startswith("assistant.lab"), f"{module}:{line}: {name}"
            named = "assistant.lab" in module.read_text(encoding="utf-8")
            assert not named or module == ROOT / "cli.py", module


def circle_in(arrows: dict[str, set[str]]) -> list[str]:
    """One circle, in its order; empty when there is none."""
    done: set[str] = set()

    def down(node: str, way: list[str]) -> list[str]:
        if node in way:
            return [*way[way.index(node) :], node]
        if node in done:
            return []
        for other in sorted(arrows.get(node, ())):
            if found := down(other, [*way, node]):
                return found
        done.add(node)
        return []

    return next((found for node in sorted(arrows) if (found := down(node, []))), [])


@pytest.mark.parametrize(
    ("arrows", "circle"),
    [
        ({"a": {"b"}, "b": {"c"}, "c": set()}, []),
        ({"a": {"b"}, "b": {"c"}, "c": {"b"}}, ["b", "c", "b"]),
    ],
)
def test_a_circle_is_found(arrows: dict[str, set[str]], circle: list[str]) -> None:
    assert circle_in(arrows) == circle


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_each_outside_engine_is_imported_in_one_place(module: Path) -> None:
    here = str(module.relative_to(ROOT))
    for name, line in imports(module):
        library = name.split(".")[0]
        if library in ONE_PLACE:
            assert here in ONE_PLACE[library], f"{module}:{line}: {library} belongs elsewhere"


def test_thinking_rooms_touch_no_clock_thread_chance_network_or_file() -> None:
    for module in MODULES:
        if room_of(module) in THINKING:
            for name, line in imports(module):
                assert name.split(".")[0] not in OUTSIDE, f"{module}:{line}: {name}"
