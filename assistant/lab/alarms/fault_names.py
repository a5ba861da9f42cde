"""Each practice fault: how grave, which alarms and words name it, and how it would be known.

The one place to change when alarms are renamed. Naming means THIS trouble: "Where is the water?"
names none. Knows nothing of the boiler's truth. Grades are judgement.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.lab.alarms import careful_person as known
from assistant.messages import Grade

_DEAD_FEED = frozenset(
    {"feed dead", "no feed works", "no feed, urgent", "no feed, water falling",
     "water falling with feed on", "feed fails near the mark"}
)  # fmt: skip
_DEAD_FEED_WORDS = r"not proved: check feed|say pump, or injector, trouble"
# Low or lost water is the graver word for a loss and takes its place.
_WATER_GONE = frozenset({"low water", "water out of sight", "water falling faster than use"})
_GAUGE_AND_VALVE = frozenset(
    {
        "gauge and valve disagree",
        "gauge and valve unsettled",
        "valve over a dead gauge",
        "valve lifts early",
        "gauge stands still",
    }
)
_VALVE_SHUT = frozenset({"valve silent", "over-pressure"})
_VALVE_SHUT_WORDS = r"valve should lift now|valve should move by now|should feather by"
_GLASS = frozenset(
    {
        "glass motionless",
        "glass not proved",
        "glass stays empty",
        "glass rises by itself",
        "level not known",
    }
)
_GLASS_WORDS = r"glass (is|may be) stuck"
# Blown through, it does not return as it should.
_fails_its_test = known.reported("glass", "stays empty", "fills and stays", "does not move")
_no_gain = known.any_of(
    known.feed_gives_little, known.reported("delivery", "gives no gain", "does nothing")
)


@dataclass(frozen=True, slots=True)
class Trouble:
    """One fault as somebody on the footplate has it."""

    grade: Grade
    """DANGER or WARNING: what it is if nobody sees it."""
    alarms: frozenset[str]
    """The alarms that name it."""
    shows: known.Rule
    """From which reports on a careful person knows it."""
    words: str = ""
    """A regular expression of spoken words that name it."""

    def is_named_in(self, text: str) -> bool:
        """Whether what is said names it."""
        return bool(self.words) and re.search(self.words, text.lower()) is not None


D, W = Grade.DANGER, Grade.WARNING
TROUBLES: Mapping[str, Trouble] = {
    "feed stuck": Trouble(W, _DEAD_FEED, _no_gain, _DEAD_FEED_WORDS),
    "feed weak": Trouble(
        W, _DEAD_FEED | {"feed weak"}, _no_gain, _DEAD_FEED_WORDS + "|less gain|gives little"
    ),
    "lost prime": Trouble(W, _DEAD_FEED, _no_gain, _DEAD_FEED_WORDS + "|prime"),
    "no water in tank": Trouble(
        W, frozenset({"tank empty"}), known.tank_empty, r"fill the tank|tank empty|bypass, tank"
    ),
    "injector warm": Trouble(
        W, _DEAD_FEED, known.reported("injector", "fails"), r"say injector trouble|injector hot"
    ),
    "clack leaking": Trouble(
        W, _WATER_GONE,
        known.any_of(known.water_lost, known.reported("pipe", "hot")), r"clack",
    ),
    "tube weeping": Trouble(
        W, _WATER_GONE | {"water in the firebox"},
        known.any_of(known.water_lost, known.reported("emergency", "water in the firebox")),
        r"find the leak",
    ),
    "low water": Trouble(D, _WATER_GONE, known.water_lost, r"find the leak"),
    "blow-down open": Trouble(D, _WATER_GONE, known.water_lost, r"find the leak|blow-?down open"),
    "glass stuck": Trouble(
        D, _GLASS, known.any_of(known.glass_still, _fails_its_test), _GLASS_WORDS
    ),
    "glass choked bottom": Trouble(
        D,
        _GLASS | {"glass full"},
        known.any_of(
            known.glass_still, known.feed_gives_little, known.glass_climbs, _fails_its_test
        ),
        _GLASS_WORDS + "|glass full, or empty",
    ),
    "glass choked top": Trouble(
        D, _GLASS | {"glass full"}, known.any_of(known.glass_climbs, _fails_its_test),
        _GLASS_WORDS + "|glass full, or empty",
    ),
    "gauge cock shut": Trouble(
        D,
        _GAUGE_AND_VALVE
        | {"gauge not moving", "water says steam, gauge none", "valve over an unread gauge"},
        known.gauge_dead, r"gauge cock open",
    ),
    "gauge slow": Trouble(W, _GAUGE_AND_VALVE, known.valve_early(0.95)),
    "valve light": Trouble(W, _GAUGE_AND_VALVE, known.valve_early(0.93)),
    "valve late": Trouble(D, _VALVE_SHUT, known.valve_overdue, _VALVE_SHUT_WORDS),
    "valve stuck": Trouble(D, _VALVE_SHUT, known.valve_overdue, _VALVE_SHUT_WORDS),
    "fire dies": Trouble(
        W, frozenset({"pressure falling", "pressure lost"}), known.pressure_falls,
        r"look at the fire|is the fire (out|dead)",
    ),
    "fire too strong": Trouble(
        W, frozenset({"rising too fast", "pressure above working", "over-pressure"}),
        known.any_of(known.rises_too_fast, known.rises_with_draught_shut, known.lifts_again),
        r"blower off\? regulator|valve blows water away|damper stuck\?",
    ),
    "damper stuck": Trouble(
        W, frozenset({"lifts with the damper shut"}),
        known.any_of(known.rises_with_draught_shut, known.lifts_with_damper_shut),
        r"damper (is )?stuck",
    ),
    "priming": Trouble(W, frozenset({"priming"}), known.reported("cure", "priming"), r"^priming"),
}  # fmt: skip
