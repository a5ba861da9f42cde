"""The states of the fire, and which of them give heat. Pure."""

from __future__ import annotations

BURNING = frozenset({"lit", "built", "coal", "bright", "banked", "watched", "burning alone"})
