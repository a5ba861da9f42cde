"""Short scenes of a random day that hardly come up by themselves: what is said, and when.

Knows the engine of the day and the words for it; knows no session.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from assistant.lab.days.day_engine import DayEngine
from assistant.lab.days.day_words import DayWords
from assistant.messages import Report


class Line(NamedTuple):
    """Something that is said [s after the line before it]."""

    pause_s: float
    words: str


@dataclass(frozen=True, slots=True)
class Stage:
    """Where a scene is played."""

    engine: DayEngine
    words: DayWords
    named: Sequence[tuple[str, Report]]
    """The sentences of all lists that say their subject, with what they report."""

    def put(self, subject: str, value: str, pause_s: float = 8.0) -> Line:
        """Put something into a state, and tell it."""
        self.engine.put(subject, value)
        return Line(pause_s, self.told(subject, value))

    def told(self, subject: str, value: str) -> str:
        """The first words that report this."""
        common = self.words.state(subject, value)
        wanted = Report(subject, value)
        return common or next(form for form, report in self.named if report == wanted)

    def gauge(self, part: float, pause_s: float) -> Line:
        """The gauge called at so much of working pressure, whatever it shows."""
        shown, self.engine.pressure = self.engine.pressure, part
        line = Line(pause_s, self.words.pressure())
        self.engine.pressure = shown
        return line

    def water(self, shows: float, pause_s: float) -> Line:
        """The glass called at so much of it, whatever it shows."""
        shown, self.engine.level = self.engine.level, shows
        line = Line(pause_s, self.words.water())
        self.engine.level = shown
        return line


Scene = Callable[[Stage], list[Line]]


def drains_shut_on_water(stage: Stage) -> list[Line]:
    """The drain cocks are shut while water still comes."""
    return [
        stage.put("drains", "open"),
        stage.put("regulator", "open"),
        Line(8.0, stage.told("cylinder", "wet")),
        stage.put("drains", "shut"),
    ]


def opened_in_gear(stage: Stage) -> list[Line]:
    """The regulator is opened with the gear in."""
    return [
        stage.put("regulator", "shut"),
        Line(8.0, stage.told("gear", "in")),
        stage.put("regulator", "open", 20.0),
    ]


def opened_on_people(stage: Stage) -> list[Line]:
    """The regulator is opened with somebody near."""
    return [
        stage.put("regulator", "shut"),
        Line(8.0, stage.told("people", "near")),
        stage.put("regulator", "open", 20.0),
    ]


def turns_without_oil(stage: Stage) -> list[Line]:
    """The lubricator stands still while she turns; on an engine without one, nothing."""
    if not any(report.what == "lubricator" for _, report in stage.named):
        return []
    still = stage.told("lubricator", "stands still")
    return [stage.put("regulator", "open"), Line(20.0, still)]


def turns_on_a_hot_bearing(stage: Stage) -> list[Line]:
    """The regulator is opened after a bearing was told to be hot."""
    return [
        stage.put("regulator", "shut"),
        Line(8.0, stage.told("bearings", "hot")),
        stage.put("regulator", "open", 20.0),
    ]


def opened_and_nobody_told_of(stage: Stage) -> list[Line]:
    """The regulator is opened, and nobody has told of the people."""
    return [stage.put("regulator", "shut"), stage.put("regulator", "open", 30.0)]


def valve_over_a_low_gauge(stage: Stage) -> list[Line]:
    """The valve moves over a gauge called lower, then the heat is stopped."""
    return [
        stage.gauge(0.88, 5.0),
        Line(10.0, stage.told("valve", "lifting")),
        stage.put("damper", "shut"),
        stage.put("blower", "shut"),
        stage.gauge(0.88, 30.0),
        Line(20.0, "what next"),
    ]


def gauge_that_stands_still(stage: Stage) -> list[Line]:
    """A bright fire with all its air, the gauge rises, and then it shows one figure for long."""
    air = [stage.put("fire", "bright"), stage.put("damper", "open"), stage.put("blower", "open")]
    rise = [stage.gauge(0.25 + 0.125 * i, 90.0) for i in range(4)]
    stage.engine.pressure = 0.625
    stands = [
        line for _ in range(5) for line in (stage.water(0.5, 10.0), stage.gauge(0.625, 110.0))
    ]
    return [stage.put("feed", "off"), stage.put("regulator", "shut"), *air, *rise, *stands]


def valve_that_lifts_early(stage: Stage) -> list[Line]:
    """The valve lifts over a gauge that fits where it feathers, and not where it lifts."""
    engine = stage.engine.engine
    part = 0.87 * engine.valve_lifts_gauge_pa / engine.working_pressure_gauge_pa
    return [stage.gauge(part, 5.0), Line(10.0, stage.told("valve", "lifting"))]


def valve_that_does_not_reseat(stage: Stage) -> list[Line]:
    """The valve lifts where it should, and goes on lifting while the pressure falls."""
    engine = stage.engine.engine
    lift = engine.valve_lifts_gauge_pa / engine.working_pressure_gauge_pa
    calls = [stage.gauge((1.0 - 0.06 * i) * lift, 60.0) for i in range(4)]
    return [stage.gauge(lift, 5.0), Line(5.0, stage.told("valve", "lifting")), *calls]


def valve_taken_back(stage: Stage) -> list[Line]:
    """The valve is called lifting, and then it did not."""
    lifts = stage.told("valve", "lifting")
    return [Line(10.0, lifts), Line(20.0, "the valve did not lift"), Line(8.0, "yes")]


def lifts_behind_a_shut_damper(stage: Stage) -> list[Line]:
    """Damper and blower are shut, and the valve goes on lifting."""
    lift = stage.engine.engine.valve_lifts_gauge_pa / stage.engine.engine.working_pressure_gauge_pa
    lifting, seated = stage.told("valve", "lifting"), stage.told("valve", "shut")
    return [
        stage.put("blower", "shut"),
        stage.put("damper", "shut"),
        stage.gauge(lift, 235.0),
        Line(10.0, lifting),
        stage.water(0.625, 30.0),
        Line(30.0, seated),
        Line(150.0, lifting),
    ]


def pressure_gone(stage: Stage) -> list[Line]:
    """Two fifths of the pressure are gone between two calls, and it is so."""
    return [stage.gauge(0.9, 5.0), stage.gauge(0.4, 20.0), Line(4.0, "yes"), stage.gauge(0.4, 15.0)]


def rising_after_the_fire_was_drawn(stage: Stage) -> list[Line]:
    """The fire was drawn, and the pressure goes on rising for a quarter of an hour."""
    calls = [stage.gauge(0.3 + 0.15 * i, 240.0) for i in range(5)]
    return [stage.put("fire", "drawn"), *calls]


def water_lost_by_a_leak(stage: Stage) -> list[Line]:
    """The glass falls and falls, with nothing on."""
    lines = [stage.put("feed", "off"), stage.put("regulator", "shut")]
    return lines + [stage.water(0.75 - 0.125 * i, 150.0) for i in range(4)]


def glass_with_a_cock_shut(stage: Stage) -> list[Line]:
    """The glass climbs and climbs, with nothing on, then it is blown through."""
    lines = [stage.put("feed", "off"), stage.put("regulator", "shut"), stage.gauge(0.75, 5.0)]
    lines += [stage.water(0.5, 130.0), stage.water(0.5, 60.0), stage.gauge(0.75, 5.0)]
    lines += [stage.water(0.75, 60.0), stage.water(0.875, 60.0), stage.water(0.875, 60.0)]
    return [
        *lines,
        Line(30.0, "what next"),
        Line(20.0, "comes back at once"),
        stage.water(0.4, 20.0),
    ]


def steam_raised_again(stage: Stage) -> list[Line]:
    """From standing by to raising steam, with the water called just before."""
    stage.engine.level = 0.625
    return [stage.water(0.625, 5.0), Line(10.0, "raising steam again")]


def steam_behind_a_dead_gauge(stage: Stage) -> list[Line]:
    """The glass rises as far as boiling lifts it, and the gauge goes on showing nothing."""
    rise = [stage.water(0.5 + 0.0625 * i, 240.0) for i in range(6)]
    calls = [line for level in rise for line in (level, stage.gauge(0.0, 10.0))]
    return [stage.put("feed", "off"), stage.put("fire", "built"), *calls]


def glass_bursts_over_heat(stage: Stage) -> list[Line]:
    """The glass bursts over a fire, its cocks are shut, then the heat is stopped."""
    return [
        Line(5.0, "glass has burst"),
        Line(20.0, stage.told("glass cocks", "shut")),
        stage.put("damper", "shut", 60.0),
        stage.put("blower", "shut", 20.0),
        Line(120.0, "danger is over"),
        Line(20.0, stage.told("glass", "comes back at once")),
    ]


def left_alone(stage: Stage) -> list[Line]:
    """Nobody watches her, then somebody does."""
    return [Line(5.0, stage.told("watch", "not kept")), Line(90.0, stage.told("watch", "kept"))]


def let_go_and_called_over(stage: Stage) -> list[Line]:
    """A plug weeps, then a tube goes; it is called over, fired again, then looked at."""
    return [
        Line(5.0, stage.told("firebox", "weeping")),
        Line(60.0, "tube has burst"),
        Line(60.0, "danger is over"),
        stage.put("fire", "built", 60.0),
        Line(60.0, stage.told("boiler", "looked at")),
        Line(10.0, "note by the boilersmith"),
    ]


def water_told_low(stage: Stage) -> list[Line]:
    """The water is told to be going down, and the level is called late."""
    low = Line(8.0, stage.told("water told", "going down"))
    return [stage.put("fire", "coal"), low, stage.water(0.5, 100.0)]


def gauge_doubted_at_the_lift(stage: Stage) -> list[Line]:
    """The gauge is called at the lift within seconds of a low one, and lower again later."""
    lift = stage.engine.engine.valve_lifts_gauge_pa / stage.engine.engine.working_pressure_gauge_pa
    return [
        stage.put("fire", "bright"),
        stage.gauge(0.5, 5.0),
        stage.gauge(lift, 8.0),
        stage.gauge(0.5, 90.0),
    ]


def mud_door_leaks(stage: Stage) -> list[Line]:
    """A door of the shell leaks under steam; the fire goes out, and she is looked at."""
    return [
        stage.put("fire", "coal"),
        Line(5.0, stage.told("boiler", "leaking")),
        stage.put("fire", "drawn", 150.0),
        Line(30.0, stage.told("boiler", "looked at")),
        Line(10.0, "note by the boilersmith"),
    ]


def blow_down_left_open(stage: Stage) -> list[Line]:
    """The blow-down is opened over a fire, and shut late."""
    return [
        stage.put("fire", "coal"),
        Line(5.0, stage.told("blow-down", "open")),
        Line(150.0, stage.told("blow-down", "shut")),
    ]


def feed_that_gives_little(stage: Stage) -> list[Line]:
    """A feed runs for long, and the glass gains less than it should."""
    return [
        stage.put("regulator", "shut"),
        stage.water(0.5, 10.0),
        stage.put("bypass", "shut"),
        stage.water(0.55, 150.0),
        stage.water(0.55, 100.0),
    ]


def _steam_while_firing(stage: Stage) -> list[Line]:
    """Steam is up before the list of firing is through."""
    stage.engine.level = 0.625
    rise = [line for part in (0.3, 0.4) for line in (stage.gauge(part, 60.0), Line(4.0, "yes"))]
    held = [stage.told("brake", "on and chocked"), stage.told("gear", "out")]
    return [
        stage.put("fire", "built"),
        *rise,
        *(Line(6.0, words) for words in held),
        stage.put("regulator", "shut"),
        Line(6.0, stage.told("glass", "comes back at once")),
        stage.water(0.625, 5.0),
    ]


def stands_by_while_firing(stage: Stage) -> list[Line]:
    """The same, and he wants to stand by."""
    return [*_steam_while_firing(stage), Line(5.0, "standing by")]


def stands_by_while_preparing(stage: Stage) -> list[Line]:
    """The same already before the list of preparation is through."""
    return stands_by_while_firing(stage)


def feeds_while_firing(stage: Stage) -> list[Line]:
    """Steam is up while firing, and he wants to feed."""
    return [*_steam_while_firing(stage), Line(5.0, "time to feed again")]


def given_up(stage: Stage) -> list[Line]:
    """She is put away before there is much steam, or before she stands by."""
    return [Line(5.0, "putting her away"), stage.put("fire", "drawn", 60.0)]


SCENES: dict[str, Scene] = {
    scene.__name__: scene
    for scene in (
        drains_shut_on_water, opened_in_gear, opened_on_people, opened_and_nobody_told_of,
        turns_without_oil, turns_on_a_hot_bearing,
        valve_over_a_low_gauge, valve_that_lifts_early, lifts_behind_a_shut_damper, pressure_gone,
        rising_after_the_fire_was_drawn, water_lost_by_a_leak, steam_raised_again,
        steam_behind_a_dead_gauge, given_up, gauge_that_stands_still,
        glass_with_a_cock_shut, valve_that_does_not_reseat, glass_bursts_over_heat, left_alone,
        let_go_and_called_over, valve_taken_back, mud_door_leaks, blow_down_left_open,
        stands_by_while_firing, stands_by_while_preparing, feeds_while_firing,
        feed_that_gives_little, water_told_low, gauge_doubted_at_the_lift,
    )
}  # fmt: skip
PLAYED_IN: dict[str, tuple[str, ...]] = {
    "steam_raised_again": ("standing by",),
    "steam_behind_a_dead_gauge": ("firing", "raising steam"),
    "given_up": ("firing", "tick-over"),
    "gauge_that_stands_still": ("raising steam",),
    "stands_by_while_firing": ("firing",),
    "stands_by_while_preparing": ("preparation",),
    "feeds_while_firing": ("firing",),
}  # phases in which a scene can happen; the others: with steam up
STEAMING = ("raising steam", "tick-over", "pumping", "standing by")


def phases_of(name: str) -> tuple[str, ...]:
    """The phases in which a scene can happen."""
    return PLAYED_IN.get(name, STEAMING)
