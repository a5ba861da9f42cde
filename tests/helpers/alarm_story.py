"""A driver's story for the watch: report what is seen, let time pass, see what is spoken."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

from boiler_engines import STEEL
from inputs_picture import with_picture  # type: ignore[import-not-found]

from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.alarms.lifecycle import Alarm, Change
from assistant.alarms.watch import Watch, look
from assistant.boiler.scales import PSI_PA
from assistant.messages import Grade, Report
from assistant.picture.given import Movement, no_movement
from assistant.picture.report_log import TimedReport

ENGINE = replace(
    STEEL,
    name="Test engine",
    fire_rate_w=None,
    pump_m3_per_s=None,
    rise_limit_pa_per_s=12 * PSI_PA / 60,
)


@dataclass
class Story:
    """One steam-up as the watch sees it."""

    at: float = 0.0
    inputs: AlarmInputs = field(default_factory=lambda: AlarmInputs(ENGINE))
    watch: Watch = field(default_factory=Watch)
    changes: list[tuple[float, Change]] = field(default_factory=list)
    told: tuple[TimedReport, ...] = ()
    """Reports that are neither the last state of anything nor a reading."""
    expansion: Movement = no_movement
    use: Movement = no_movement

    def pass_s(self, seconds: float) -> list[str]:
        """Let time pass, looking every ten seconds as the ticks do."""
        heard: list[str] = []
        end = self.at + seconds
        while self.at < end:
            self.at = min(self.at + 10.0, end)
            heard += self.look()
        return heard

    def seen(self, at: float) -> AlarmInputs:
        """What the watch looks at, with the picture of that moment."""
        return with_picture(self.inputs, at, self.expansion, self.use, self.told)

    def look(self, retracted: tuple[str, ...] = ()) -> list[str]:
        seen = self.seen(self.at)
        self.watch, changes = look(self.watch, seen, self.at, retracted)
        self.changes += [(self.at, c) for c in changes]
        return [c.rule.text for c in changes if c.to_be_told]

    def see(self, **parts: object) -> list[str]:
        """Something else about the engine became known."""
        self.inputs = replace(self.inputs, **parts)  # type: ignore[arg-type]
        return self.look()

    def water(self, value: float | str) -> list[str]:
        return self.see(water=(*self.inputs.water, TimedValue(value, self.at)))

    def psi(self, value: float) -> list[str]:
        return self.see(pressure=(*self.inputs.pressure, TimedValue(value * PSI_PA, self.at)))

    def tank(self, value: float) -> list[str]:
        return self.see(tank=(*self.inputs.tank, TimedValue(value, self.at)))

    def state(self, what: str, value: str) -> list[str]:
        return self.see(states={**self.inputs.states, what: TimedValue(value, self.at)})

    def tell(self, what: str, value: str) -> list[str]:
        """A report of which every one counts, not only the last."""
        self.told = (*self.told, TimedReport(Report(what, value), self.at))
        return self.look()

    def call(self, name: str) -> list[str]:
        return self.see(emergencies=(*self.inputs.emergencies, TimedValue(name, self.at)))

    def believe(self, water: float | None = None) -> list[str]:
        return self.see(water_now=water)

    def alarm(self, name: str) -> Alarm | None:
        """The alarm of that name, if it stands."""
        return next((a for a in self.watch.alarms if a.name == name), None)

    def suppressed(self) -> list[str]:
        """The names of the alarms that stand but were not spoken."""
        return [a.name for a in self.watch.alarms if a.suppressed]

    def names(self, state: str) -> list[str]:
        return [c.rule.name for _, c in self.changes if c.state == state]


AnyStory = TypeVar("AnyStory", bound=Story)


def bright_fire_in(story: AnyStory) -> AnyStory:
    """Sixty pounds, a bright fire, water at 0.6, both gauges read just now."""
    story.at = 3600.0
    story.see(phase="raising steam", steam_since=3600.0)
    story.water(0.5)
    for what, state in (("fire", "coal"), ("damper", "open"), ("blower", "half")):
        story.state(what, state)
    story.at += 600
    story.inputs = replace(story.inputs, steam_since=story.at)
    assert story.psi(60) == [] and story.water(0.6) == []
    return story


def a_bright_fire() -> Story:
    """The same, told to the watch by its inputs."""
    return bright_fire_in(Story())


def only(story: Story, name: str, grade: Grade) -> None:
    """Exactly this alarm was spoken, once, with its grade."""
    told = [c for _, c in story.changes if c.to_be_told]
    assert [(c.rule.name, c.rule.grade) for c in told] == [(name, grade)]
