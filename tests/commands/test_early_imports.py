"""Once a live run has begun, the session loads nothing more from files."""

from __future__ import annotations

import subprocess
import sys

import pytest

from assistant.commands import early_imports

pytestmark = pytest.mark.real  # a process of its own, which is waited for

# A session as a live run has it, and the modules that a steam-up loads after its begin.
LATE = """
import sys
from assistant.commands import early_imports, run
from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.dialogue.session import Session
from assistant.messages import Started, Tick
from assistant.recogniser.typed_recogniser import hear_typed
header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "typed")
session = Session(session_config_of(header))
if sys.argv[1] == "early":
    early_imports.load(early_imports.OF_A_SESSION)
before = set(sys.modules)
session.handle(Started(0.0))
SAID = ("water half", "fire lit", "pressure five", "how long", "blower half", "pressure twenty",
        "why", "where are we", "pressure sixty", "how long", "someone is hurt", "what can i say")
for n, words in enumerate(SAID, 1):
    for effect in session.handle(hear_typed(words, session.expected, 300.0 * n)):
        assert type(effect).__name__ != "Fault", effect
    session.handle(Tick(300.0 * n + 60.0))
print(" ".join(sorted(set(sys.modules) - before)))
"""


def late(how: str) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", LATE, how], capture_output=True, text=True, timeout=60, check=True
    )
    return done.stdout.split()


def test_a_session_loads_nothing_once_it_has_begun() -> None:
    assert late("early") == []
    assert "numpy.random" in late("not")  # it would have been seen


def test_what_is_not_there_stops_nothing() -> None:
    early_imports.load(("no_such_library",))
