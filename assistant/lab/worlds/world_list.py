"""The worlds by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.lab.worlds import hand_fed, lifted_aid, practice, recorded, slow_sparing
from assistant.lab.worlds.lumped_boiler import Told


@dataclass(frozen=True)
class World:
    """Engines by seed as their owners' files have them, and steam-ups of each."""

    name: str
    engine_of: Callable[[int], Engine]
    """seed of an engine -> its file"""
    steam_up: Callable[[int, int], Told]
    """seed of an engine, day -> what was called that day"""


WORLDS = tuple(
    World(name, module.engine_of, module.steam_up)
    for name, module in (
        ("practice", practice),
        ("hand-fed", hand_fed),
        ("lifted aid", lifted_aid),
        ("slow and sparing", slow_sparing),
        ("recorded", recorded),
    )
)
