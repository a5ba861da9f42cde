"""What is said though nobody asked: how many takes, by whom, when, and always the same ones."""

from __future__ import annotations

from collections import Counter
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from assistant.grammar.phonetics import distance
from assistant.grammar.phrases import grammar
from assistant.lab.benches import anytime_takes
from assistant.lab.benches.anytime_situations import (
    ENGINES,
    FIRE_IN,
    IN_STEAM,
    NOTHING,
    PRESSURE,
    SITUATIONS,
    STATE,
    YES_OR_NO,
    Situations,
)
from assistant.lab.benches.nearest_forms import nearest_pairs
from assistant.lab.benches.talk_trials import OTHER_TALK, VOICES
from assistant.lab.days.random_day import config_of
from assistant.messages import Report
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import SynthesiserVoice

LEAST_NAMED = 3000


@pytest.fixture(scope="module")
def situations() -> Situations:
    return Situations(config_of("practice", "psi", False))


def test_every_named_form_is_said_in_every_situation_at_each_engine(
    situations: Situations,
) -> None:
    takes = anytime_takes.named_takes(situations)
    forms = [form for form, _ in situations.config.named_forms]
    wanted = Counter(product(forms, SITUATIONS, ENGINES))
    assert Counter((take.said, take.situation, take.engine) for take in takes) == wanted
    assert len(takes) >= LEAST_NAMED
    assert {take.source for take in takes} == set(VOICES)


def test_a_tenth_has_every_form_once_and_every_situation_equally(situations: Situations) -> None:
    tenth = anytime_takes.share_of(anytime_takes.named_takes(situations), 10)
    said = Counter(take.said for take in tenth)
    assert set(said.values()) == {1}
    assert set(said) == {form for form, _ in situations.config.named_forms}
    places = Counter((take.situation, take.engine) for take in tenth)
    assert len(places) == len(SITUATIONS) * len(ENGINES)
    assert max(places.values()) - min(places.values()) <= 1
    by_voice = Counter((take.source, take.situation) for take in tenth)
    assert len(by_voice) == len(VOICES) * len(SITUATIONS)


def test_the_same_takes_come_every_time(situations: Situations) -> None:
    for plan in (anytime_takes.named_takes, anytime_takes.pair_takes, anytime_takes.yes_takes):
        assert plan(situations) == plan(situations)
        assert len({take.seed for take in plan(situations)}) == len(plan(situations))
    orders = [Path(f"{number}.flac") for number in range(9)]
    assert anytime_takes.other_takes(situations, orders) == anytime_takes.other_takes(
        situations, orders
    )


def test_a_share_is_the_beginning_of_the_whole_rounded_up(situations: Situations) -> None:
    takes = anytime_takes.yes_takes(situations)
    assert len(takes) == anytime_takes.YES_TAKES == len(anytime_takes.share_of(takes, 1))
    assert list(anytime_takes.share_of(takes, 300)) == takes[:4]


def test_each_form_of_a_pair_is_said_as_often_and_at_every_level_in_every_voice(
    situations: Situations,
) -> None:
    takes = anytime_takes.pair_takes(situations)
    assert len(takes) == anytime_takes.PAIRS * anytime_takes.TAKES_A_PAIR
    said = Counter((take.pair, take.said) for take in takes)
    assert len(said) == 2 * anytime_takes.PAIRS
    assert set(said.values()) == {anytime_takes.TAKES_A_PAIR // 2}
    assert {(take.source, take.turn % 2) for take in takes} == set(product(VOICES, (0, 1)))
    assert all(take.pair is not None and take.said in take.pair.words for take in takes)


def test_the_nearest_pairs_are_those_that_trying_all_finds(situations: Situations) -> None:
    forms = situations.forms[:60]
    found = nearest_pairs(forms, 5)
    every = sorted(
        (distance(one.split(), other.split()), one, other)
        for one, meaning in forms
        for other, rival in forms
        if one < other and meaning != rival
    )
    assert [(pair.distance, *pair.words) for pair in found] == every[:5]


def test_other_talk_is_said_in_every_situation_and_is_no_sentence_there(
    situations: Situations,
) -> None:
    takes = anytime_takes.other_takes(situations, ())
    assert len(takes) == anytime_takes.OTHERS
    assert {take.said for take in takes} == set(OTHER_TALK)
    assert set(Counter(take.situation for take in takes).values()) == {len(takes) // 5}
    assert {take.engine for take in takes} == set(ENGINES)
    assert not [t for t in takes if grammar(t.expected).meaning(t.said.split()) is not None]


def test_every_second_of_it_is_a_recording_where_there_are_any(situations: Situations) -> None:
    orders = [Path(f"{number}.flac") for number in range(7)]
    takes = anytime_takes.other_takes(situations, orders)
    assert {take.source for take in takes[1::2]} == set(orders)
    assert {take.said for take in takes[::2]} == set(OTHER_TALK)
    assert {take.situation for take in takes[1::2]} == set(SITUATIONS)


def test_only_reports_are_said_while_yes_or_no_is_awaited(situations: Situations) -> None:
    takes = anytime_takes.yes_takes(situations)
    assert all(isinstance(take.meant, Report) for take in takes)
    assert {take.expected.kind for take in takes} == {"answer"}
    named = {form for form, _ in situations.config.named_forms}
    assert named <= {take.said for take in takes}
    assert len({take.said for take in takes} - named) > 20


def test_what_is_listened_for_is_what_a_session_with_such_an_engine_listens_for(
    situations: Situations,
) -> None:
    config = situations.config
    for situation, engine in product(SITUATIONS, ENGINES):
        expected = situations.expected(situation, engine)
        assert expected.elsewhere == config.named_forms
        assert (expected.another_phase, expected.impossible) == config.out_of_phase(engine)
    kinds = [situations.expected(situation, IN_STEAM).kind for situation in SITUATIONS]
    assert kinds == ["any", "pressure", "water", "answer", "state"]


def test_the_state_asked_is_of_another_list(situations: Situations) -> None:
    turns = range(100)
    asked = {situations.expected(STATE, IN_STEAM, "", turn).answers for turn in turns}
    assert len(asked) > 20
    for form in ("injector picks up", "valve is feathering"):
        assert [answers for answers in asked if form in dict(answers)]
        others = {situations.expected(STATE, IN_STEAM, form, turn).answers for turn in turns}
        assert not [answers for answers in others if form in dict(answers)]


def test_the_state_asked_is_not_of_a_phase_that_is_past(situations: Situations) -> None:
    turns = range(100)
    without_steam = {situations.expected(STATE, FIRE_IN, "", turn).answers for turn in turns}
    in_steam = {situations.expected(STATE, IN_STEAM, "", turn).answers for turn in turns}
    past, _ = situations.config.out_of_phase(IN_STEAM)
    assert in_steam < without_steam
    assert all(report not in past for answers in in_steam for _, report in answers)


def test_most_named_forms_are_listened_for_but_not_while_yes_or_no_is_awaited(
    situations: Situations,
) -> None:
    def listened_for(situation: str) -> int:
        now = grammar(situations.expected(situation, FIRE_IN))
        return sum(now.meaning(form.split()) == meant for form, meant in situations.forms)

    assert listened_for(NOTHING) == listened_for(PRESSURE) == len(situations.forms)
    assert listened_for(YES_OR_NO) < len(situations.forms) / 20


@pytest.mark.sound
def test_a_take_sounds_the_same_every_time(situations: Situations, voice: SynthesiserVoice) -> None:
    take = next(t for t in anytime_takes.named_takes(situations) if t.source == voice)
    one, other = (take.trial(Surroundings(10.0)) for _ in range(2))
    assert np.array_equal(one.sound, other.sound)
    assert (one.expected, one.meant) == (take.expected, take.meant)
