"""The walk through the checklist in words: start, phases, steps, position, resuming, the end.

Knows no step's content (it comes from the checklist) and no formula.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.grammar import numbers
from assistant.wording.forecast_words import minutes_words
from assistant.wording.quantities import sentence

CAUTIONS = (
    "I assist. I never replace looking at the gauges.",
    "Your engine's instructions and inspector come first.",
    "Not trained on her? Do not work alone.",
)
ITEMS_AT_ONCE = 5  # further ones are counted, not read out


def cautions() -> str:
    """Said at the first start and written at the top of every report."""
    return " ".join(CAUTIONS)


def level_first() -> str:
    """Steam is to be raised on an engine that was told to stand nose down."""
    return "Nose down: stand her level first, then the water."


def how_it_ends() -> str:
    """Of a danger that goes on until the driver says that it is over."""
    return "When it is past, say: danger over."


def danger_tone() -> str:
    """After the tone at a start: whether it is heard over the engine's noise."""
    return "That tone is a danger. Say: heard. Nothing heard? Turn me up."


def phase_began(phase: str) -> str:
    """A phase begins."""
    return sentence(phase)


def phase_done(phase: str, open_items: Sequence[str] = ()) -> str:
    """A phase is complete; what was left open is named.

    >>> phase_done("firing")
    'Firing complete.'
    """
    done = sentence(f"{phase} complete")
    return f"{done} {items_open(open_items)}" if open_items else done


def phase_waits(missing: Sequence[str]) -> str:
    """The phase asked for cannot begin yet, and what it waits for.

    >>> phase_waits(["water well up"])
    'Not yet. First: water well up.'
    """
    return f"Not yet. {sentence('first: ' + _listed(missing))}" if missing else "Not from here."


def step(say: str, caution: str = "") -> str:
    """A step as it is asked, preceded by its caution."""
    return f"{sentence(caution)} {sentence(say)}".strip()


def why(reason: str) -> str:
    """The reason for a step or a forecast."""
    return sentence(reason) or "No reason is written down for this."


def where(phase: str, asked: str, left: int, pressure: str = "", water: str = "") -> str:
    """Phase, number of steps left, last readings, and the step in hand as it is asked.

    >>> where("raising steam", "Oil round.", 3, "pressure sixty", "water half, two minutes ago")
    'Raising steam. Three to go. Pressure sixty. Water half, two minutes ago. Oil round.'
    """
    parts = (phase, _count(left) + " to go", pressure, water, asked)
    return " ".join(sentence(part) for part in parts if part)


def with_age(reading: str, age_s: float) -> str:
    """A reading, and how old it is from a minute on.

    >>> with_age("pressure sixty", 30.0), with_age("pressure sixty", 240.0)
    ('pressure sixty', 'pressure sixty, four minutes ago')
    >>> with_age("water half", 7300.0), with_age("water half", 3 * 86400.0)
    ('water half, two hours ago', 'water half, three days ago')
    """
    for unit, seconds in (("day", 86400.0), ("hour", 3600.0), ("minute", 60.0)):
        count = int(age_s / seconds)
        if count:
            several = unit if count == 1 else f"{unit}s"
            return f"{reading}, {numbers.number_words(count)} {several} ago"
    return reading


def _count(number: int) -> str:
    return "none" if number == 0 else numbers.number_words(number)


def _listed(items: Sequence[str]) -> str:
    first = ", ".join(items[:ITEMS_AT_ONCE])
    rest = len(items) - ITEMS_AT_ONCE
    return f"{first}, and {_count(rest)} more" if rest > 0 else first


def items_open(items: Sequence[str], to_go: int = 0) -> str:
    """The open items, read out. to_go: steps of the list in hand that were not asked yet.

    >>> items_open(["tubes swept"]), items_open([], 5)
    ('One open item: tubes swept.', 'Nothing left open, five to go.')
    """
    if not items:
        return sentence(f"Nothing left open, {_count(to_go)} to go" if to_go else "nothing is open")
    noun = "open item" if len(items) == 1 else "open items"
    return sentence(f"{_count(len(items))} {noun}: {_listed(items)}")


def skipped(what: str = "") -> str:
    """A step was skipped and stays open."""
    return f"Left open: {what}." if what else "Left open."


def left_out(what: str) -> str:
    """A step does not apply today and is not asked again."""
    return f"Left out: {what}."


def overtaken_unguarded(step: str) -> str:
    """A killer was not answered in time, and no step takes its place.

    >>> overtaken_unguarded("whistle dry")
    'Caution. Never answered, and its time is over: whistle dry.'
    """
    return f"Caution. Never answered, and its time is over: {step}."


def not_asked_today() -> str:
    """What was put last does not apply today."""
    return "Not asked again today."


def not_put_off() -> str:
    """What was put last ends by a reading or an act only."""
    return "Not that one. Tell me what you see, or what you did."


def not_skipped(asked: str, hold: bool) -> str:
    """A killer step or a hold cannot be skipped.

    >>> not_skipped("Where is the water?", hold=True)
    'This one stays: the next phase waits for it. Where is the water?'
    """
    reason = "the next phase waits for it" if hold else "it must be seen"
    return f"This one stays: {reason}. {sentence(asked)}"


def waiting(minutes: float) -> str:
    """Nothing but alarms is said for a while."""
    return f"Quiet for {minutes_words(minutes)}. Alarms still speak."


def waiting_no_longer(minutes: float) -> str:
    """With a fire in, quiet was asked for longer than the water may go unread.

    >>> waiting_no_longer(5)
    'Not so long with a fire in. Five minutes.'
    """
    return f"Not so long with a fire in. {sentence(minutes_words(minutes))}"


def first_this(asked: str) -> str:
    """A move waits for what is asked just now."""
    return f"Not yet. First: {asked[0].lower() + asked[1:]}"


MOVES = {"raise_steam": "Raising steam", "move_off": "Moving off", "feed": "Feeding"}


def move_waits(name: str) -> str:
    """A move is asked for, and the water was not called lately.

    >>> move_waits("move_off")
    'Moving off waits for the water. Where is it?'
    """
    return f"{MOVES[name]} waits for the water. Where is it?"


def steam_in_her() -> str:
    """The gauge was called with steam while the list is still a cold one."""
    return "There is steam in her. Go on from raising steam?"


def no_gain_yet() -> str:
    """The glass has not gained, once more."""
    return "No gain yet."


def fire_makes_steam(enough: bool) -> str:
    """A trouble that wants more heat is over: the wanted pressure is there, or it has risen."""
    return f"Pressure {'enough' if enough else 'rises'}. Back to the list."


def glass_never_proved() -> str:
    """Steam in her, and the glass was asked for three times and not blown through."""
    return "Warning. Glass not proved under steam. Blow it through."


def steam_followed() -> str:
    """The same, and nobody answered: the list goes on by itself."""
    return "Steam in her: raising steam. Say go back if not."


def not_before_looked_at() -> str:
    """A move is refused: she lost her water over heat, or let go, and was not looked at since."""
    return "Not steamed until looked at, cold. Then say: boiler has been looked at."


def until_a_new_glass() -> str:
    """The danger is called over, and nobody told of another glass."""
    return "Until a new glass is in, and blown through."


def once_looked_at() -> str:
    """The danger is called over, and the boiler is still to be looked at."""
    return "Once cold and examined, say: boiler has been looked at."


def last_act() -> str:
    """After the last act of a step."""
    return "That is the last."


def into_the_tank_only() -> str:
    """Water was put in, and nobody knows the level in her."""
    return "Into the tank only. No feed."


def not_drained_hot() -> str:
    """Said to be drained with steam in her: it is not taken."""
    return "Not under steam. Let her go cold first."


def not_examined_hot() -> str:
    """Said to be looked at with the fire in or steam in her: it is not taken."""
    return "Not under steam. Cold, then examined."


def never_tighten() -> str:
    """A door, plug or joint of the boiler is being tightened with steam in her."""
    return "Never tighten under pressure. Stand clear."


def leaks_still(fire_out: bool) -> str:
    """A leak of the boiler is told of again, under steam.

    >>> leaks_still(fire_out=False)
    'Stand clear. Let the fire die. Pressure down first.'
    """
    return f"Stand clear. {'' if fire_out else 'Let the fire die. '}Pressure down first."


def waiting_for(what: str, then: str) -> str:
    """What the list waits for, and what follows.

    >>> waiting_for("pressure", "Try the pump.")
    'Waiting for pressure. Then: try the pump.'
    """
    return f"{sentence('waiting for ' + what)} {sentence('then: ' + then[:1].lower() + then[1:])}"


def lit_too_soon(missing: Sequence[str]) -> str:
    """The fire was lit while holds were open.

    >>> lit_too_soon(["water in the glass", "glass proved cold"])
    'Lit too soon. First: water in the glass, glass proved cold.'
    """
    return f"Lit too soon. {sentence('first: ' + _listed(missing))}" if missing else ""


def no_step_back() -> str:
    """There is nothing before this step."""
    return "This is the first step."


def not_yet(minutes: float | None = None) -> str:
    """The step is not done; it will be asked again."""
    return "In your time." if minutes is None else f"I ask again in {minutes_words(minutes)}."


def going_on() -> str:
    """What was asked about was not meant; nothing changes."""
    return "Then we go on."


def put_away_with_fire_in() -> str:
    """The last list is through, and there is fire in her."""
    return "Fire in her: somebody stays. For the night say: banked for the night."


def nothing_more() -> str:
    """Every step of every phase is done."""
    return "Nothing more to do here. Watch water and fire."


def resumed(away_minutes: float, phase: str, last_done: str, asked: str, water: bool = True) -> str:
    """After an interruption: phase, last step done, the water, the step again.

    >>> resumed(5, "firing", "", "Damper open?")
    'I was away five minutes. Firing. Where is the water? Then: damper open?'
    """
    away = sentence("I was away " + minutes_words(away_minutes)) if away_minutes >= 0.5 else ""
    last = sentence("last done: " + last_done) if last_done else ""
    then = sentence(f"{'then' if water else 'now'}: {asked[0].lower()}{asked[1:]}") if asked else ""
    where_is_it = "Where is the water?" if water else ""
    return " ".join(filter(None, (away, sentence(phase), last, where_is_it, then)))


def taking_over(phase: str) -> str:
    """A session begins with a warm engine: safety questions come first."""
    return f"Taking over at {phase}. First what could hurt us."


DEVICE_BACK: dict[str, str] = {
    "microphone": "Microphone back. I hear you again.",
    "speaker": "Speaker back.",
}


def device_back_words(device: str) -> str:
    """A microphone or speaker works again."""
    return DEVICE_BACK[device]


def by_whom() -> str:
    """A boiler that lost its water, or let go, was looked at, and no name was said."""
    return "By whom? Say the name: it is kept as a note."


def not_heard() -> str:
    """Three utterances in a row were not understood."""
    return "I cannot hear you. Look at the glass; press or type."


def hears_again() -> str:
    """What kept us from hearing is over."""
    return "I hear you again."


def book_lost() -> str:
    """The journal cannot be written: the disk is full, or gone."""
    return "Warning. The book cannot be written. Use paper."


def book_back() -> str:
    """The journal is written again, including what had to wait."""
    return "The book is written again."


NOT_GONE_ON = "The last book cannot be gone on with. A new one. In steam, say taking over."
SCREEN_LOST = "The screen does not go on. Go by the voice."
SCREEN_BACK = "The screen goes on."
VOICE_LOST = "The voice has failed. Watch gauges and glass, then the screen."
VOICE_BACK = "The voice is back."
EAR_LOST = "The ear has failed. Type what you want to say."
EAR_BACK = "The ear is back."


def sealed(digest: str) -> str:
    """The digest of the finished journal, digit by digit, for the paper book.

    >>> sealed("1204 77")
    'The book is closed. Its digest: one two zero four, seven seven.'
    """
    groups = [
        " ".join(numbers.number_words(int(figure)) for figure in group) for group in digest.split()
    ]
    return f"The book is closed. Its digest: {', '.join(groups)}."


def fault_words() -> str:
    """An internal error was caught."""
    return "Assistant fault. Trust the gauges."


def note_follows() -> str:
    """The next words go into the book verbatim."""
    return "Speak your note."


def end_asked(in_her: str = "") -> str:
    """The session ends only after a spoken yes, to what is in her.

    >>> end_asked("fire in, sixty pounds")
    'Fire in, sixty pounds: stop all the same?'
    """
    return sentence(
        f"{in_her}: stop all the same?" if in_her else "end the session: is that right?"
    )


def ended(in_her: str = "") -> str:
    """The last words; with a fire or steam in her she is not to be left.

    >>> ended("fire in, sixty pounds")
    'Session ended. Fire in, sixty pounds: keep watch.'
    """
    return f"Session ended. {sentence(in_her + ': keep watch')}" if in_her else "Session ended."
