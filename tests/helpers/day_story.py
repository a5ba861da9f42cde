"""A day told as a driver would tell it: a clock that runs between the words, and what was said."""

from __future__ import annotations

from functools import lru_cache
from typing import Self

from session_story import Story

from assistant.messages import Away, Effect, Event, Grade, Learner, PhaseBegan, Say, Tick

TICK_S = 5.0


class Day(Story):
    """One session; time passes between the lines as it does on a footplate."""

    def __init__(
        self,
        engine: str = "practice",
        from_phase: str | None = None,
        people: tuple[str, ...] = (),
        learner: Learner | None = None,
    ) -> None:
        super().__init__(engine, from_phase, people, learner)
        self.came: list[tuple[float, Effect]] = [(0.0, effect) for effect in self.effects]

    def copied(self) -> Self:
        other = super().copied()
        other.came = [*self.came]
        return other

    def event(self, event: Event) -> list[Effect]:
        effects = super().event(event)
        self.came += [(self.at, effect) for effect in effects]
        return effects

    def until(self, at_s: float) -> None:
        """Let time pass until then [s since the beginning]."""
        while self.at < at_s:
            self.at = min(self.at + TICK_S, at_s)
            self.event(Tick(self.at))

    def tell(self, script: str) -> str:
        """Lines "m:ss words", or "m:ss" alone for silence; everything that was said meanwhile."""
        mark = len(self.came)
        for line in filter(None, map(str.strip, script.splitlines())):
            clock, _, words = line.partition(" ")
            minutes, seconds = clock.split(":")
            self.until(60.0 * int(minutes) + float(seconds))
            if words:
                self.say(words, after_s=0.0)
        return self.heard_since(mark)

    def reply(self, words: str, after_s: float = 10.0) -> str:
        """Say this a little later; what was said back in the same event, and nothing after it."""
        self.until(self.at + after_s)
        self.say(words, after_s=0.0)
        return self.text()

    def silence(self, minutes: float) -> str:
        """Nobody says a word for so long; everything that was said meanwhile."""
        mark = len(self.came)
        self.until(self.at + 60.0 * minutes)
        return self.heard_since(mark)

    def away(self, minutes: float) -> str:
        """The machine does not run for so long; what was said when it ran again."""
        self.at += 60.0 * minutes
        self.event(Away(self.at, 60.0 * minutes))
        return self.text()

    def heard_since(self, mark: int) -> str:
        """What was said since that many effects, a line each."""
        return "\n".join(e.text for _, e in self.came[mark:] if isinstance(e, Say))

    @property
    def heard(self) -> str:
        """What was said all day, a line each."""
        return self.heard_since(0)

    @property
    def standing(self) -> dict[str, Grade]:
        """The alarms that stand now, by name."""
        return {a.name: a.rule.grade for a in self.session.state.watch.alarms}

    @property
    def dangers(self) -> set[str]:
        """The dangers that stand now."""
        return {name for name, grade in self.standing.items() if grade is Grade.DANGER}

    @property
    def phase(self) -> str:
        """The phase in hand."""
        return next(e.phase for _, e in reversed(self.came) if isinstance(e, PhaseBegan))

    def times_of(self, part: str) -> list[float]:
        """When something was said that contains this, whatever the case [s]."""
        low = part.lower()
        return [at for at, e in self.came if isinstance(e, Say) and low in e.text.lower()]


WARM = """
0:05 water half
0:10 comes back at once
0:15 {pressure}
0:20 {valve}
0:25 {fire}
0:30 pump worked today
0:35 regulator shut
0:40 brake on and chocked
0:45 gear is out
"""


def taken_over(
    phase: str,
    engine: str = "practice",
    pressure: str = "pressure sixty",
    fire: str = "fire is built",
    valve: str = "valve agreed today",
    people: tuple[str, ...] = (),
) -> Day:
    """A warm engine taken over, every question of that answered by 0:45."""
    return _taken_over(phase, engine, pressure, fire, valve, people).copied()


def steaming(phase: str = "standing by", pressure: str = "pressure one hundred") -> Day:
    """The practice engine taken over with a bright fire."""
    return taken_over(phase, pressure=pressure, fire="fire is bright")


@lru_cache(maxsize=64)
def _taken_over(
    phase: str, engine: str, pressure: str, fire: str, valve: str, people: tuple[str, ...]
) -> Day:
    """Played once: hundreds of stories begin so."""
    day = Day(engine, phase, people)
    day.tell(WARM.format(pressure=pressure, fire=fire, valve=valve))
    assert "You have her." in day.heard
    return day
