"""Words that a driver surely says are understood in any moment, and mean what he means."""

from __future__ import annotations

from functools import lru_cache

import pytest
from asked_steps import LISTS, in_hand
from day_story import Day, taken_over
from session_story import parts
from situations import NAMES, situation

from assistant.dialogue import picture_now
from assistant.dialogue.event_context import EventContext
from assistant.grammar.phrases import grammar
from assistant.messages import (
    Correction,
    Expected,
    Meaning,
    Order,
    ReadingAccepted,
    ReadingRefused,
    Report,
    StepDone,
    Tick,
)
from assistant.procedure import position
from assistant.procedure.checklist import Phase


def called(name: str) -> Report:
    return Report("emergency", name)


@lru_cache(maxsize=4)
def listened_for(name: str) -> Expected:
    return situation(name).session.expected


def meaning_of(words: str, moment: str) -> Meaning | None:
    """What is understood from the keys; whether an ear may find the same is `heard_as`."""
    return grammar(listened_for(moment)).parse(words)


def heard_as(words: str, moment: str) -> Meaning | None:
    """What these very words mean in the grammar that is searched by ear."""
    listened = grammar(listened_for(moment))
    return listened.meaning(words.split())


def told(moment: str, words: str) -> Day:
    day = situation(moment)
    day.say(words)
    assert not any(effect.report is None for effect in day.got(ReadingRefused)), words
    assert "I did not follow" not in day.text(), words
    return day


HURT = (
    "i am hurt", "i'm hurt", "he is hurt", "she is hurt", "a child is hurt", "a visitor is hurt",
    "the driver is hurt", "my mate is hurt", "somebody is hurt", "i am cut", "i am bleeding",
    "somebody is bleeding", "i have cut my hand", "my face is bleeding", "call an ambulance",
    "we need an ambulance", "help me", "i need help", "a man is down", "i have hurt myself",
)  # fmt: skip
BURNED = (
    "i have burned myself", "i am scalded", "he is burned", "a child is burned", "i am burned",
    "my arm is burned", "burned my face", "my face is burned", "i got burned", "it burned me",
    "i've been scalded", "my eyes are scalded", "scalded my foot", "my mate is scalded",
    "somebody is burned", "burned my hand", "i have burned my hand", "he has burned his hand",
    "hand is burned", "her arm is scalded",
)  # fmt: skip
TYPED_BURNT = ("i am burnt", "my arm is burnt", "i have burnt my leg", "somebody is burnt")


@pytest.mark.parametrize("moment", NAMES)
def test_whoever_is_hurt_or_burned_is_understood(moment: str) -> None:
    for words in HURT:
        assert heard_as(words, moment) == called("someone hurt"), words
    for words in BURNED:
        assert heard_as(words, moment) == called("somebody is burned"), words
    for words in TYPED_BURNT:
        assert meaning_of(words, moment) == called("somebody is burned"), words


@pytest.mark.parametrize("moment", NAMES)
@pytest.mark.parametrize(
    ("words", "first", "act"),
    [
        ("i am hurt", "Regulator shut, call help. Someone hurt.", "emergency services now"),
        ("i have burned myself", "Cool running water. Somebody burned.", "twenty minutes"),
    ],
)
def test_he_hears_at_once_what_to_do(moment: str, words: str, first: str, act: str) -> None:
    said = told(moment, words).said()
    assert said[0] == f"Danger. {first}"
    assert act in said[1]


@pytest.mark.parametrize("moment", NAMES)
def test_help_alone_is_still_the_order(moment: str) -> None:
    assert "In trouble: " in told(moment, "help").text()
    assert not told(moment, "help").dangers & {"someone hurt", "somebody is burned"}


BROKEN = (
    "glass burst", "gauge glass has burst", "the glass has burst", "the glass has gone",
    "the glass has broken", "glass has broken", "glass smashed", "the glass smashed",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_a_glass_that_has_gone_is_a_broken_glass(moment: str) -> None:
    for words in BROKEN:
        assert heard_as(words, moment) == called("glass broken"), words
    assert told(moment, "the glass has gone").said()[0] == "Danger. Face away. Glass broken."


WEEPING = (
    "plug is weeping", "the plug is weeping", "fusible plug is weeping", "lead plug is weeping",
    "plug is dripping", "fusible plug dripping", "a drop from the plug", "drip in the firebox",
    "plug is leaking",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_a_plug_that_drips_is_weeping_and_has_not_gone(moment: str) -> None:
    for words in WEEPING:
        assert heard_as(words, moment) == Report("firebox", "weeping"), words
    day = told(moment, "fusible plug dripping")
    assert ReadingAccepted(Report("firebox", "weeping")) in day.effects
    assert "plug has gone" not in day.dangers
    assert "plug has gone" in told(moment, "plug has gone").dangers


PRIMING = (
    "priming", "she is priming", "foam in the glass", "foaming", "water is bouncing in the glass",
    "water is jumping in the glass", "there is foam in the glass", "priming now",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_foam_in_the_glass_is_priming(moment: str) -> None:
    for words in PRIMING:
        assert heard_as(words, moment) == Report("cure", "priming"), words
    said = told(moment, "foam in the glass").text()
    assert "Drain cocks open" in said and "egulator shut, gently" in said


@pytest.mark.parametrize("moment", NAMES)
def test_a_fraction_may_be_said_with_a(moment: str) -> None:
    for words, level in (("tenth", 0.1), ("eighth", 1 / 8), ("quarter", 0.25), ("third", 1 / 3)):
        one, a = f"water one {words}", f"water {'an' if words == 'eighth' else 'a'} {words}"
        assert heard_as(a, moment) == heard_as(one, moment) == Report("water", level, "glass")
    for words in ("water is a half", "glass a half", "water a half"):
        assert meaning_of(words, moment) == Report("water", 0.5, "glass")


GOING_DOWN = (
    "water is low", "losing water", "water going down fast", "water is going down",
    "water is dropping", "very low water",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_water_told_of_without_a_level_is_asked_for_at_once(moment: str) -> None:
    for words in GOING_DOWN:
        assert heard_as(words, moment) == Report("water told", "going down"), words
        day = told(moment, words)
        assert "Water going down." in day.said(), words
        assert "Where is the water?" in " ".join(day.said()[:2]), words
    day = told(moment, "water is low")
    assert "Where is the water?" not in day.reply("water half")


def test_losing_all_the_water_is_still_the_blow_down() -> None:
    for moment in NAMES:
        assert heard_as("losing all the water", moment) == called("blow down is stuck open")


SLOPES = {
    "we are on a slope": "Stand her level, then: where is the water?",
    "nose up": "Stand her level, then: where is the water?",
    "she is nose down": "The crown may be bare. Stand her level, then: where is the water?",
}


@pytest.mark.parametrize("moment", NAMES)
def test_on_a_slope_the_level_is_read_again_when_she_stands_level(moment: str) -> None:
    for words, asked in SLOPES.items():
        day = told(moment, words)
        assert asked in day.text(), words
        assert "Stand her level" not in day.reply("water half")
        assert "Where is the water?" in day.reply("we are level now")


def test_level_says_nothing_more_where_no_slope_was_told() -> None:
    assert told("nothing open", "she is level").said() == ["Level again."]


CLACK = (
    "clack is leaking", "clack stuck open", "clack is stuck", "hot water coming back",
    "hot water in the tank", "the tank is hot", "tank is getting hot", "clack leaks",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_hot_water_in_the_tank_is_a_clack_that_passes(moment: str) -> None:
    for words in CLACK:
        assert heard_as(words, moment) == called("clack is stuck open"), words
    assert meaning_of("tank is hot", moment) == called("clack is stuck open")
    assert told(moment, "hot water in the tank").said()[0] == (
        "Danger. Stop the pump. Clack stuck open."
    )
    assert meaning_of("tank is half", moment) == Report("tank", 0.5, "tank")


@pytest.mark.parametrize("moment", NAMES)
def test_what_feeds_and_what_does_not(moment: str) -> None:
    for words in ("pipe is hot", "delivery pipe is hot", "feed pipe is hot", "delivery is hot"):
        assert meaning_of(words, moment) == Report("delivery", "hot"), words
    for words in (
        "injector knocked off", "injector has knocked off", "injector has flown off",
        "overflow is running", "injector overflow is running",
    ):  # fmt: skip
        assert meaning_of(words, moment) == Report("injector", "fails"), words
        told(moment, words)


def test_an_overflow_that_runs_is_the_answer_where_that_is_asked() -> None:
    day = situation("nothing open")
    day.say("injector trouble")
    assert "Runs at the overflow?" in day.text()
    assert "Steam on steadily, right open." in day.reply("overflow is running")


OPEN_VALVE = (
    "valve will not shut", "valve won't shut", "valve won't reseat", "valve will not reseat",
    "valve stuck open", "valve is stuck open", "valve still blowing", "valve still lifting",
    "safety valve is stuck open",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_a_valve_that_does_not_seat_lifts_and_is_not_stuck_shut(moment: str) -> None:
    for words in OPEN_VALVE:
        assert meaning_of(words, moment) == Report("valve", "lifting"), words
    assert "safety valve is stuck" not in told(moment, "valve won't reseat").dangers
    for words in ("valve is leaking", "safety valve leaking"):
        assert meaning_of(words, moment) == Report("valve seat", "leaking"), words
        assert not told(moment, words).dangers - {"chimney fire"}
    assert "safety valve is stuck" in told(moment, "safety valve is stuck").dangers


CREEPS = (
    "she is creeping", "she is rolling", "engine is creeping", "regulator leaks",
    "regulator is leaking", "regulator is passing", "throttle leaks", "she moved by herself",
)  # fmt: skip


@pytest.mark.parametrize("moment", NAMES)
def test_an_engine_that_creeps_is_braked_and_chocked(moment: str) -> None:
    for words in (*CREEPS, "she is moving", "engine is moving"):
        assert heard_as(words, moment) == called("engine creeps"), words
    day = told(moment, "she is creeping")
    assert day.said()[0] == "Warning. Regulator shut, brake on. She creeps."
    assert "Mid gear. Drain cocks open. Chock her both ways." in day.text()


def test_braked_and_chocked_she_creeps_no_more() -> None:
    day = situation("nothing open")
    day.reply("regulator is passing")
    assert "engine creeps" in day.standing
    day.reply("brake on and chocked")
    assert "engine creeps" not in day.standing


def test_with_the_regulator_open_it_is_wanted_that_she_moves() -> None:
    day = taken_over("tick-over")
    day.tell("1:00 water half\n1:05 regulator open")
    assert "engine creeps" not in day.reply("she is moving")
    assert "engine creeps" not in day.standing
    day.reply("regulator shut")
    day.reply("she is moving")
    assert "engine creeps" in day.standing


def test_running_away_is_still_more_than_creeping() -> None:
    assert "engine is running away" in told("nothing open", "she is rolling away").dangers


@pytest.mark.parametrize("moment", NAMES)
def test_whoever_has_the_watch_is_taken_by_any_name(moment: str) -> None:
    for words, name in (
        ("Bob has the watch", "Bob"), ("tom smith is on watch", "Tom Smith"),
        ("Ann is watching her", "Ann"),
    ):  # fmt: skip
        assert meaning_of(words, moment) == Report("on watch", name), words
    assert meaning_of("somebody else has the watch", moment) == Report("on watch", "not named")
    for words in ("nobody has the watch", "who has the watch", "the dog has the watch"):
        assert meaning_of(words, moment) is None, words
    for words in ("i have the watch", "i am back", "i'm back"):
        assert meaning_of(words, moment) == Report("watch", "kept"), words


def test_who_comes_back_has_the_watch_himself() -> None:
    day = situation("nothing open")
    assert "Bob has the watch." in day.reply("Bob has the watch")
    assert on_watch(day) == "Bob"
    assert day.reply("i am back") == "Watch kept."
    assert on_watch(day) == ""


def on_watch(day: Day) -> str:
    """Whose watch it is, as the picture has it."""
    return picture_now.on_watch(EventContext(parts(), day.session.state, Tick(day.at)))


@pytest.mark.parametrize("moment", NAMES)
def test_a_slip_is_corrected_as_with_wrong(moment: str) -> None:
    for words in ("sorry seventeen", "i mean seventeen", "no seventeen", "wrong seventeen"):
        day = situation(moment)
        day.reply("pressure sixty")
        assert meaning(day, words) == Correction(Report("pressure", 17.0, "psi")), words
        assert "pressure seventeen" in said_of(day, words), words
    day = situation("nothing open")
    day.reply("water half")
    assert meaning(day, "i meant a quarter") == Correction(Report("water", 0.25, "glass"))


def meaning(day: Day, words: str) -> Meaning | None:
    return grammar(day.session.expected).parse(words)


def said_of(day: Day, words: str) -> str:
    return (
        day.reply(words)
        .lower()
        .replace("one seven. seventeen", "seventeen")
        .replace("one seven, seventeen", "seventeen")
    )


REMARKS = {
    "still air": Report("vent", "blows air"),
    "only air": Report("vent", "blows air"),
    "steam is coming": Report("vent", "blows steam"),
    "new glass fitted": Report("glass", "new"),
    "new glass is in": Report("glass", "new"),
    "fire bar dropped": Report("fire bars", "dropped"),
    "a fire bar has dropped": Report("fire bars", "dropped"),
    "damper is stuck": Report("damper fault", "stuck"),
    "damper will not shut": Report("damper fault", "stuck"),
    "gauge is stuck": Report("cure", "gauge_trouble"),
    "the needle is stuck": Report("cure", "gauge_trouble"),
    "glass cock was shut": Report("cure", "glass_trouble"),
    "top cock was shut": Report("cure", "glass_trouble"),
    "i left the top cock shut": Report("cure", "glass_trouble"),
}


@pytest.mark.parametrize("moment", NAMES)
def test_remarks_of_the_steps_are_understood(moment: str) -> None:
    for words, report in REMARKS.items():
        assert meaning_of(words, moment) == report, words


@pytest.mark.parametrize("moment", NAMES)
@pytest.mark.parametrize(
    ("words", "act"),
    [
        ("damper is stuck", "Blower shut, no firing."),
        ("fire bar dropped", "No firing. Damper shut. Watch the ash pan."),
        ("new glass fitted", "Stand aside: blow it through, each way. How does it return?"),
        ("the needle is stuck", "Gauge trouble."),
        ("glass cock was shut", "Glass trouble."),
    ],
)
def test_a_remark_is_followed_by_its_act(moment: str, words: str, act: str) -> None:
    day = told(moment, words)
    assert act in day.text() + day.silence(1.5)


def test_over_a_cold_fire_it_is_mended_first() -> None:
    day = Day("practice", "preparation")
    assert "Mend it before the fire is lit." in day.reply("damper is stuck")
    assert "No firing" not in day.reply("fire bar dropped")


def test_a_new_glass_is_not_proved_until_it_was_blown_through() -> None:
    day = situation("nothing open")
    day.reply("the glass has gone")
    day.reply("both cocks shut")
    assert "Level unknown" in day.reply("comes back at once", 90.0) + day.silence(6.0)
    assert "glass broken" in day.dangers
    assert "Stand aside: blow it through" in day.reply("new glass fitted")
    assert "glass broken" in day.dangers
    day.reply("comes back at once")
    assert "glass broken" not in day.dangers
    assert "is that right" not in day.reply("water half")


def test_the_glass_may_return_while_a_list_has_that_open() -> None:
    day = Day("practice", "raising steam")
    day.tell("0:05 that's right\n0:10 water half\n0:15 pressure twenty")
    steps = {step.asks for step in position.open_steps(day.session.state.progress)}
    assert "glass" in steps
    assert meaning(day, "comes back at once") == Report("glass", "comes back at once")


def test_the_cock_is_the_gauges_only_where_that_is_asked() -> None:
    day = situation("nothing open")
    assert meaning(day, "cock is open") is None
    day = Day("practice", "raising steam")
    assert meaning(day, "cock is open") == Report("gauge cock", "open")


def test_a_flame_that_is_drawn_in_answers_the_chimney() -> None:
    firing = next(one for one in LISTS if one.phase is Phase.FIRING)
    for words in ("it draws", "it is drawing", "flame is drawn in", "smoke goes up"):
        story = in_hand(firing, "chimney draws")
        story.say(words)
        assert [e.answer for e in story.got(StepDone)] == ["chimney drawing"], words


@pytest.mark.parametrize("moment", NAMES)
def test_a_child_under_the_rope_is_inside(moment: str) -> None:
    for words in ("child is inside", "a child has ducked under the rope"):
        assert heard_as(words, moment) == called("child inside the barrier"), words


def test_under_steam_the_glass_may_return_before_a_list_asks() -> None:
    day = Day("copper", "raising steam")
    day.tell("0:05 that's right\n0:10 water half\n0:15 pressure twenty")
    assert meaning(day, "comes back at once") == Report("glass", "comes back at once")
    cold = Day("copper")
    cold.tell("0:05 that's right\n0:10 water half")
    assert meaning(cold, "what do i do") == Order("next")


def test_a_gauge_that_is_frozen_is_gauge_trouble() -> None:
    day = taken_over("raising steam", pressure="pressure thirty")
    assert "Gauge trouble. Damper and blower shut" in day.reply("gauge is frozen", 20.0)
