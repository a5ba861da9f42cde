"""What the board shows is what the session knows."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from day_story import Day, taken_over
from session_story import parts

from assistant.board.hub import Hub
from assistant.board.picture_json import Told, picture_json
from assistant.boiler.scales import PSI_PA
from assistant.dialogue.session import Session
from assistant.messages import Heard, Say, Started, Tick


def shown(day: Day, later_s: float = 0.0) -> dict[str, Any]:
    state = day.session.state
    made = picture_json(day.session.config, state, state.at + later_s, Told("Where?", "half"))
    text = json.dumps(made, allow_nan=False)  # no figure that JSON has not got
    return dict(json.loads(text))


def test_a_cold_engine_claims_nothing() -> None:
    day = Day("practice")
    picture = shown(day)
    assert picture["phase"] == "preparation"
    assert picture["pressure"]["psi"] is None and picture["water"]["glass"] is None
    assert picture["water"]["state"] == "never seen"
    assert picture["minutes"] is None and picture["why"] == "no fire is lit"
    assert picture["alarms"] == []


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_figures_as_called_with_their_age(engine: str) -> None:
    day = taken_over("raising steam", engine, "pressure forty")
    day.reply("water half")
    day.reply("pressure fifty")
    picture = shown(day, later_s=30.0)
    assert picture["pressure"]["psi"] == pytest.approx(50.0, abs=0.1)
    assert picture["pressure"]["age_s"] >= 30.0
    assert picture["water"]["glass"] == 0.5
    assert picture["water"]["state"] == "known"
    believed = picture["pressure"]["believed_psi"]
    assert believed["low"] <= believed["mid"] <= believed["high"]
    minutes = picture["minutes"]
    assert minutes["low"] <= minutes["mid"] <= minutes["high"]
    assert picture["engine"]["working"] == pytest.approx(
        day.session.config.engine.working_pressure_gauge_pa / PSI_PA, abs=0.1
    )


def test_the_words_that_would_answer_the_step_in_hand() -> None:
    day = Day("practice")
    day.reply("plate is right")
    assert (shown(day)["asks"], shown(day)["answers"]) == ("water", ["no water in sight"])
    day.reply("water half")
    brake = shown(day)
    assert brake["answers"] == ["brake on and chocked", "brake is on", "not chocked yet"]
    day.reply(brake["answers"][0])
    assert shown(day)["asks"] == "gear"


def test_an_alarm_stands_with_its_grade_and_its_act() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    day.reply("no water in sight")
    picture = shown(day)
    first = picture["alarms"][0]
    assert (first["name"], first["grade"]) == ("water out of sight", "danger")
    assert first["since_s"] >= 0.0
    assert picture["water"]["glass"] is None and picture["water"]["state"] == "out of sight"
    assert picture["minutes"] is None or picture["water"]["believed"] is None


def test_no_minutes_while_gauge_and_valve_are_in_conflict() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    day.reply("water half")
    day.reply("safety valve lifting")
    day.reply("pressure sixty")
    assert shown(day)["minutes"] is None


def test_no_minutes_beside_a_danger_as_none_are_spoken() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    day.reply("water half")
    day.reply("somebody is caught in the motion")
    assert "No time while a danger stands." in day.reply("how long")
    assert (shown(day)["minutes"], shown(day)["why"]) == (None, "a danger stands")


def test_why_there_are_no_minutes_is_told_in_the_unit_of_the_dial() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    day.reply("water half")
    day.reply("damper shut")
    day.reply("pressure sixty", after_s=60.0)
    state, config = day.session.state, day.session.config
    told = [
        picture_json(replace(config, dial=dial), state, state.at, Told())["why"]
        for dial in ("psi", "bar")
    ]
    assert told == [
        "the damper is in: 60 pounds holds or falls and does not reach 120 pounds",
        "the damper is in: 4.1 bar holds or falls and does not reach 8.3 bar",
    ]


def test_the_hub_keeps_what_was_wanted_and_heard_and_wakes_who_looks() -> None:
    config = parts()
    session, woken = Session(config), []
    hub = Hub(config, session, lambda said, screen: None)
    end = hub.on_change(lambda: woken.append(1))
    first = Started(0.0)
    hub.follow(first, session.handle(first))
    assert json.loads(hub.picture())["wanted"].endswith("Where is the water?")
    heard = Heard(3.0, "typed", (), text="hello there")
    hub.follow(heard, session.handle(heard))
    assert json.loads(hub.picture())["hears"]["last"] == "hello there"
    assert len(woken) == 2
    hub.follow(Tick(3.5), [])  # nothing new, and a picture is young enough
    hub.follow(Tick(9.0), [])  # somebody looked: the ages move on
    assert len(woken) == 3 and json.loads(hub.picture())["at_s"] == 9.0
    end()
    hub.follow(Tick(10.0), [Say("Water half.")])
    assert len(woken) == 3


def test_a_picture_that_fails_is_told_and_stops_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    config = parts()
    session = Session(config)
    hub = Hub(config, session, lambda said, screen: None)
    before = hub.picture()

    def fails(*_: object) -> None:
        raise ZeroDivisionError("no")

    monkeypatch.setattr("assistant.board.hub.picture_json", fails)
    hub.follow(Tick(5.0), [Say("Water half.")])
    assert hub.trouble == "ZeroDivisionError: no"
    assert hub.picture() == before


def test_an_alarm_is_told_in_the_words_of_the_voice() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    day.reply("water half")
    day.reply("people are near")
    said = day.reply("regulator open")
    alarms = {alarm["name"]: alarm for alarm in shown(day)["alarms"]}
    words = alarms["regulator open, people near"]["says"]
    assert words == "Regulator shut. Somebody is near." and f"Warning. {words}" in said


def test_an_alarm_that_a_graver_one_says_is_listed_and_has_no_words() -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    for words in ("water half", "pump failed", "injector failed", "water one quarter"):
        day.reply(words)
    told = {alarm["name"]: alarm["says"] for alarm in shown(day)["alarms"]}
    assert told == {"low water": "Water low. Stop the heat.", "no feed works": ""}
