"""Random days hold the session to its promises from outside; the monitor bites where it must."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from session_story import parts
from watched_story import Tampered, WatchedStory

from assistant.alarms import watch as watching
from assistant.dialogue.session import Session
from assistant.lab.days.day_monitor import DayMonitor, Violation
from assistant.lab.days.day_plan import DayPlan, plan_of
from assistant.lab.days.days_bench import watched_day
from assistant.lab.days.random_day import config_of, play
from assistant.messages import Effect, Event, Fault, Say

SEEDS = range(1, 31)
LENGTH_S = 3000.0


def short(seed: int) -> DayPlan:
    """The day of a seed, no longer than continuous integration can wait for."""
    plan = plan_of(seed)
    return replace(plan, length_s=LENGTH_S, words=0.6 * plan.words)


@pytest.fixture(scope="module")
def days() -> list[tuple[list[Violation], list[str]]]:
    results = [watched_day(short(seed))[0] for seed in SEEDS]
    return [(result.violations, result.faults) for result in results]


@pytest.mark.parametrize("promise", ["P1", "P2", "P3", "P4", "P5"])
def test_no_promise_is_broken(promise: str, days: list[tuple[list[Violation], list[str]]]) -> None:
    found = [v for violations, _ in days for v in violations if v.promise == promise]
    assert not found, "\n\n".join(violation.story() for violation in found)


def test_no_day_meets_an_internal_error(days: list[tuple[list[Violation], list[str]]]) -> None:
    assert [fault for _, faults in days for fault in faults] == []


def test_a_seed_is_always_the_same_day() -> None:
    assert watched_day(short(7))[1].log.lines == watched_day(short(7))[1].log.lines


# --- the monitor bites


def steaming(pressure: str = "pressure sixty") -> WatchedStory:
    story = WatchedStory(from_phase="raising steam")
    story.through("water half", "comes back at once", pressure, "fire is built")
    return story


def tamper(story: WatchedStory, without: Sequence[str] = (), deaf: bool = False) -> Tampered:
    story.session = tampered = Tampered(story.session, without, deaf)
    return tampered


def without_overdue(monkeypatch: pytest.MonkeyPatch) -> None:
    """The watch never raises that the water is overdue."""
    kept = tuple(r for r in watching.GRAVEST_FIRST if r.name not in
                 ("water reading overdue", "water not read", "water perhaps low"))  # fmt: skip
    monkeypatch.setattr(watching, "GRAVEST_FIRST", kept)


def test_water_overdue_that_is_never_raised_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    sound = steaming()
    sound.wait(900.0)
    assert "P1 steam" not in sound.broken
    without_overdue(monkeypatch)
    story = steaming()
    story.wait(400.0)
    assert "P1 steam" in story.broken


def test_fire_before_water_that_raises_nothing_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    sound = WatchedStory()
    sound.say("fire is lit")
    sound.wait(60.0)
    assert sound.broken == set()
    kept = tuple(r for r in watching.GRAVEST_FIRST if not r.name.startswith("fire in, water"))
    monkeypatch.setattr(watching, "GRAVEST_FIRST", kept)
    story = WatchedStory()
    story.say("fire is lit")
    story.wait(60.0)
    assert "P1 never called" in story.broken


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("Feed proved.", "P2 feed"),
        ("Danger is over.", "P2 danger over"),
        ("Gauge fits the valve.", "P2 gauge and valve"),
        ("Gauge and valve no longer disagree.", "P2 gauge and valve"),
        ("Glass moves again.", "P2 glass moves"),
        ("Water is low.", "P5 water low"),
        ("Danger. No water in sight.", "P5 no water in sight"),
        ("Water near lower mark.", "P5 near lower mark"),
        ("Glass full, or empty?", "P5 near upper mark"),
        ("Drain the glass, shut the drain.", "P5 cold words"),
        ("Wait for two bar.", "P5 units"),
        ("Shut the blower.", "P5 open or shut"),
    ],
)
def test_a_sentence_without_its_witnesses_is_found(said: str, key: str) -> None:
    story = steaming()
    story.say("blower is shut")
    assert key not in story.broken
    tamper(story).also = [Say(said)]
    story.say("pressure sixty")
    assert key in story.broken


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("Water in sight again.", "P2 water shows"),
        ("You are safe to move.", "P2 safe"),
        ("About five minutes to wanted pressure.", "P5 minutes"),
        ("Put the feed on.", "P5 feed"),
    ],
)
def test_a_sentence_that_lost_water_forbids_is_found(said: str, key: str) -> None:
    story = steaming()
    story.say("no water in sight")
    assert key not in story.broken
    tamper(story).also = [Say(said)]
    story.say("pressure sixty")
    assert key in story.broken


def test_a_danger_that_is_not_repeated_is_found() -> None:
    sound = steaming()
    sound.say("water one eighth")
    sound.wait(120.0)
    assert "P3 danger" not in sound.broken
    story = steaming()
    story.say("water one eighth")
    tamper(story, without=["danger"])
    story.wait(60.0)
    assert "P3 danger" in story.broken


def test_overdue_water_that_is_not_spoken_of_is_found() -> None:
    story = steaming()
    tamper(story, without=["water", "glass"])
    story.wait(500.0)
    assert "P3 water" in story.broken


@pytest.mark.parametrize(
    ("pressure", "words", "key"),
    [
        ("pressure one hundred and five", "blower", "P3 blower"),
        ("pressure one hundred and twenty", "damper", "P3 damper"),
        ("pressure one hundred and thirty five", "valve feather lift", "P3 valve"),
    ],
)
def test_an_act_due_by_pressure_that_is_not_spoken_is_found(
    pressure: str, words: str, key: str
) -> None:
    story = steaming("pressure one hundred")
    tamper(story, without=words.split())
    story.say("water half", after_s=150.0)
    story.say(pressure, after_s=150.0)
    story.wait(180.0)
    assert key in story.broken


def test_a_session_deaf_for_ticks_is_found_quiet() -> None:
    sound = steaming()
    sound.wait(1200.0)
    assert "P4 quiet" not in sound.broken
    story = steaming()
    tamper(story, deaf=True)
    story.wait(400.0)
    assert "P4 quiet" in story.broken


def test_random_days_find_a_deaf_session() -> None:
    plan = replace(plan_of(3), mood="silent", from_phase="raising steam", length_s=LENGTH_S)
    config = config_of(plan.engine, plan.dial, plan.limit_rise)
    monitor = DayMonitor(config.engine, plan.dial, plan.seed)

    def see(event: Event, effects: Sequence[Effect]) -> None:
        assert not any(isinstance(effect, Fault) for effect in effects)
        monitor.see(event, effects)

    play(plan, see, Tampered(Session(config), deaf_to_ticks=True))
    assert {"P1 steam", "P4 quiet"} <= set(monitor.violations)


def test_the_story_of_a_violation_has_the_words_before_it() -> None:
    story = steaming()
    tamper(story).also = [Say("Feed proved.")]
    story.say("pressure sixty")
    told = story.monitor.violations["P2 feed"].story()
    assert told.startswith("P2 feed, seed 0, ")
    assert ">> pressure sixty" in told
    assert "-> Feed proved." in told
    assert parts().dial == "psi"
