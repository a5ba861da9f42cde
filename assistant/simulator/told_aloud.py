"""What the practice operator does and answers to what is said to him outside the steps.

Knows the boiler's fittings and the words that are spoken; no session. He does what somebody who
answers rightly would: looks where he is asked to look, does the act, and says that it is done.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from assistant.grammar.states import preferred_words
from assistant.messages import Report
from assistant.simulator.line import Line
from assistant.simulator.practice_boiler import PracticeBoiler

ROOM = 0.5  # of the glass: below it there is room for a feed that nobody pressed for. Judgement
ENOUGH = 0.6  # of the glass: a feed that was told is stopped here
GLASS_AGAIN_S = 240.0  # a glass is not blown through again sooner. Judgement
TELL_AGAIN_S = 300.0  # an act that stands done is not told again sooner. Judgement

Act = Callable[["ToldAloud", float], list[Line]]


def state_line(what: str, state: str, words: str = "") -> Line:
    """A state as people call it."""
    return Line(words or preferred_words(what, state) or "", Report(what, state))


class ToldAloud:
    """Acts that are told aloud. Each is done, and reported once until it is otherwise."""

    def __init__(self, boiler: PracticeBoiler) -> None:
        self._boiler = boiler
        self._reported: dict[str, tuple[object, float]] = {}
        self._blown_through_at = float("-inf")
        self._feeds = False

    def remember(self, report: Report) -> None:
        """What was said of anything."""
        self._reported[report.what] = report.value, self._boiler.at_s

    def reported(self, what: str) -> object:
        """What was last said of it; None: nothing."""
        return self._reported.get(what, (None, 0.0))[0]

    def heard(self, text: str, at: float) -> list[Line]:
        """What is answered to a sentence, after it was done."""
        text = text.lower()
        return [line for said, act in _TABLE if re.search(said, text) for line in act(self, at)]

    def stop_draught(self, at: float = 0.0) -> list[Line]:
        """Damper and blower are shut."""
        return [*self._shut("damper"), *self._shut("blower")]

    def feed_stopped(self) -> list[Line]:
        """It is told by what it was begun with."""
        if self._reported.get("bypass", ("", 0.0))[0] == "shut":
            return [state_line("bypass", "open", "bypass open")]
        return [state_line("feed", "off", "feed stopped")]

    def stop_feed_in_time(self) -> list[Line]:
        """A feed that was told is stopped half way up the glass."""
        level = self._boiler.glass_fraction
        if not self._feeds or (level is not None and level < ENOUGH):
            return []
        self._feeds = False
        if self._boiler.state("bypass") != "shut":
            return []
        self._boiler.feed(False)
        return self.feed_stopped()

    def _shut(self, what: str) -> list[Line]:
        if what == "blower" and "no blower" in self._boiler.engine.options:
            return []
        turn = self._boiler.damper if what == "damper" else self._boiler.blower
        turn("shut")
        said, at = self._reported.get(what, (None, 0.0))
        if said == "shut" and self._boiler.at_s - at < TELL_AGAIN_S:
            return []
        return [state_line(what, "shut")]

    def _stop_her(self, at: float) -> list[Line]:
        if self._boiler.state("regulator") == "shut":
            return []
        self._boiler.regulator("shut")
        return [state_line("regulator", "shut")]

    def _blower_to_a_crack(self, at: float) -> list[Line]:
        if self._boiler.state("blower") not in ("half", "open"):
            return []
        self._boiler.blower("crack")
        return [state_line("blower", "crack")]

    def _valve(self, at: float) -> list[Line]:
        return [state_line("valve", self._boiler.valve_state)]

    def _feed(self, at: float) -> list[Line]:
        level = self._boiler.glass_fraction
        if level is None or level >= ENOUGH or self._boiler.state("bypass") == "shut":
            return []
        self._boiler.feed(True)
        self._feeds = True
        return [state_line("feed", "on", "feed running")]

    def _feed_if_there_is_room(self, at: float) -> list[Line]:
        level = self._boiler.glass_fraction
        return self._feed(at) if level is not None and level < ROOM else []

    def _blow_through(self, at: float) -> list[Line]:
        if at - self._blown_through_at < GLASS_AGAIN_S:
            return []
        self._blown_through_at = at
        return [state_line("glass", self._boiler.glass_returns)]

    def _fill_the_tank(self, at: float) -> list[Line]:
        self._boiler.fill_tank()
        return [Line("tank is full", Report("tank", 1.0, "tank"))]


def _then(*acts: Act) -> Act:
    return lambda told, at: [line for act in acts for line in act(told, at)]


# Whole sentences, or their beginnings: "regulator shut, damper shut" is the prompt of a step.
_TABLE: Sequence[tuple[str, Act]] = (
    (r"valve should (lift|move by) now\. does it|should feather by .*does it", ToldAloud._valve),
    (r"(^|[.] )damper shut, blower (shut|down)", ToldAloud.stop_draught),
    (r"(^|[.] )damper shut\.|shut the damper\.", lambda told, at: told._shut("damper")),
    (r"blower off\?", lambda told, at: told._shut("blower")),
    (r"blower still on", ToldAloud._blower_to_a_crack),
    (r"stop the heat", ToldAloud.stop_draught),
    (r"^danger.*[.] regulator shut\.$", ToldAloud._stop_her),
    (r"feed now", ToldAloud._feed),
    (r"feed if there is room", ToldAloud._feed_if_there_is_room),
    (r"blow (it |the glass )?through", ToldAloud._blow_through),
    (r"fill (the tank|it now)|tank empty", ToldAloud._fill_the_tank),
)
