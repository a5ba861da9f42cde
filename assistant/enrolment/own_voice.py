"""An owner's own voice: twenty phrases read aloud, checked, learnt from; judged by some kept out.

Knows phrases, an ear and what to say; the microphone, the keyboard and the noise are handed in.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import Corpus, LabelledClip, trimmed
from assistant.enrolment.examples import Examples, MixtureWeights, with_texts
from assistant.enrolment.own_folder import VoiceFolder
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.training import TrainingSettings, batches, train
from assistant.errors import WorldFailedError
from assistant.grammar.phrases import PROMPTS, grammar
from assistant.messages import SPEECH_RATE_HZ, Expected
from assistant.recogniser.adapter import BUNDLED, write_adapter
from assistant.recogniser.base import Recogniser, Sound
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model
from assistant.recogniser.snr import Noise, mix

# Numbers in their different forms, water, states, orders: what is said most in a steam-up.
PHRASES = (
    "pressure seventy five", "water half", "pressure one two zero", "what next",
    "water two thirds", "fifteen pounds", "say again", "blower half open", "pressure thirty",
    "no water in sight", "five bar", "how long", "half a glass", "pressure four five",
    "where are we", "water three quarters", "damper shut", "pressure ninety", "not yet", "ready",
)  # fmt: skip
HELD_OUT = frozenset({3, 8, 13, 15, 17})  # numbers of those that are only judged by
TRIES = 3
QUIET_PEAK, LOUD_SHARE, SHORTEST_S = 0.02, 0.001, 0.15
_WINDOW = 500  # frames; a phrase is at most 4 s, and half the window is half the time
LEVELS_DB = (None, 10.0, 5.0)
# The last two layers only, a short course: few phrases must not bend the whole ear to them.
SETTINGS = TrainingSettings(
    steps=36, batch=8, rank=4, adapter_rate=5e-4, full_rate=1e-4, warm_up=6, look=9, last_layers=2
)

RecordPhrase = Callable[[], Sound]
Ask = Callable[[str], str]
_Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class HeldOutScore:
    """right: of trials. likely: the mean probability given to what was said."""

    right: int
    trials: int
    likely: float

    def __str__(self) -> str:
        return f"{self.right} of {self.trials} right, given {self.likely:.2f} on average"


def recording_trouble(sound: Sound) -> str | None:
    """Why a recording is of no use, by its level alone; None if it is of use.

    >>> trouble_with(np.zeros(16000, np.float32))
    'nothing was heard: speak up, or nearer to the microphone'
    """
    peak = float(np.abs(sound).max(initial=0.0))
    if peak < QUIET_PEAK or len(trimmed(sound, 0.0, 25.0)) < SHORTEST_S * SPEECH_RATE_HZ:
        return "nothing was heard: speak up, or nearer to the microphone"
    if float(np.mean(np.abs(sound) >= 0.985)) > LOUD_SHARE:
        return "too loud, the microphone cuts it off: speak less loudly, or from farther away"
    return None


def read_aloud(
    record: RecordPhrase,
    ask: Ask,
    tell: _Tell,
    ear: Recogniser,
    folder: VoiceFolder,
    phrases: Sequence[str] = PHRASES,
) -> None:
    """Have every phrase read, three tries each at most; what is of use is kept in the folder.

    A phrase that the ear takes for another is asked for again, but kept at the last try: to learn
    such phrases is the purpose. Raises WorldFailedError where a level stays wrong.
    """
    tell(
        f"{len(phrases)} phrases. Press Enter, then read what is shown, as you would on the engine."
    )
    for number, phrase in enumerate(phrases):
        folder.keep(
            number, tuple(phrase.split()), _read_one(number, phrase, record, ask, tell, ear)
        )


def _read_one(
    number: int, phrase: str, record: RecordPhrase, ask: Ask, tell: _Tell, ear: Recogniser
) -> Sound:
    for attempt in range(TRIES):
        ask(f"{number + 1:>2}. {phrase.upper()}   [Enter] ")
        sound = record()
        trouble = recording_trouble(sound)
        if trouble is None:
            sound = trimmed(sound)
            heard = _heard(ear, sound)
            if heard == phrase or _same(heard, phrase):
                return sound
            trouble = f"understood as {heard!r}" if heard else "not understood"
            if attempt == TRIES - 1:
                tell(f"    {trouble}; kept all the same, to be learnt")
                return sound
        tell(f"    {trouble}. Once more:")
    raise WorldFailedError(f"{phrase!r} could not be recorded: try `footplate devices --test`")


def _heard(ear: Recogniser, sound: Sound) -> str:
    opinion = ear.hear(sound, grammar(Expected("any")))
    return opinion.alternatives[0].words if opinion.alternatives else ""


def _same(heard: str, phrase: str) -> bool:
    anything = grammar(Expected("any"))
    meant = anything.meaning(tuple(phrase.split()))
    return meant is not None and anything.meaning(tuple(heard.split())) == meant


def trained(
    folder: VoiceFolder, device: str, seed: int, tell: _Tell, settings: TrainingSettings = SETTINGS
) -> Path:
    """Learn from the recordings, on top of the shipped differences; the new file, not yet kept."""
    clips = tuple(
        LabelledClip(sound, words, "owner", "owner", PROMPTS["any"])
        for number, words, sound in folder.recordings()
        if number not in HELD_OUT
    )
    if not clips:
        raise WorldFailedError("no recordings of yours here: footplate tune --mine makes them")
    corpus = Corpus(clips, {}, (PROMPTS["any"],))
    teacher = Teacher(device, corpus.words(), corpus.every_prompt(), BUNDLED, _WINDOW)
    corpus = with_texts(corpus, teacher.best, seed)
    rough = Augmentation(pace=(0.9, 1.1), snr_db=(0.0, 30.0))
    examples = Examples(corpus, rough, MixtureWeights(digits=0.0, orders=0.0), seed)
    tell(f"learning from {len(clips)} phrases; some minutes")
    looks = train(teacher, batches(examples, settings.batch, 0), settings, (), tell)
    tried = folder.path / "tried.npz"
    write_adapter(tried, looks[-1].adapter)
    return tried


def _evaluated(folder: VoiceFolder, noise: Noise, changes: Sequence[Path]) -> HeldOutScore:
    """The phrases kept out, clean and in the engine's noise, by an ear with these differences."""
    ear = ConstrainedWhisper(load_model(changes=changes))
    anything = grammar(Expected("any"))
    right, given = 0, []
    for number, words, sound in folder.recordings():
        for level_db in LEVELS_DB if number in HELD_OUT else ():
            opinion = ear.hear(_in_noise(sound, noise, level_db, number), anything)
            meant = anything.meaning(words)
            found = [a for a in opinion.alternatives if a.meaning == meant]
            right += bool(found) and opinion.alternatives[0] == found[0]
            given.append(found[0].probability if found else 0.0)
    return HeldOutScore(right, len(given), float(np.mean(given)) if given else 0.0)


def _in_noise(sound: Sound, noise: Noise, level_db: float | None, number: int) -> Sound:
    if level_db is None:
        return sound
    under = noise("mix", len(sound) / SPEECH_RATE_HZ + 0.1, np.random.default_rng([7, number]))
    return mix(sound, under, level_db)


def keep_or_throw(
    folder: VoiceFolder, tried: Path, before: HeldOutScore, after: HeldOutScore, ask: Ask
) -> bool:
    """Show both and do what is answered; nothing is kept without a yes."""
    answer = ask(f"before: {before}\nafter:  {after}\nkeep it? [y/N] ")
    if answer.strip().lower() in ("y", "yes"):
        tried.replace(folder.learnt)
        return True
    tried.unlink()
    return False


def enrol(
    record: RecordPhrase,
    ask: Ask,
    tell: _Tell,
    folder: VoiceFolder,
    noise: Noise,
    seed: int,
    settings: TrainingSettings = SETTINGS,
) -> bool:
    """From the first phrase to keeping it or not. Recordings that are there are used again, if
    wanted."""
    there = len(list(folder.recordings()))
    again = there == len(PHRASES) and ask(f"use the {there} recordings of before? [Y/n] ")
    if again is False or str(again).strip().lower() in ("n", "no"):
        read_aloud(record, ask, tell, ConstrainedWhisper(load_model()), folder)
    tried = trained(folder, "cpu", seed, tell, settings)
    before, after = (_evaluated(folder, noise, files) for files in ((BUNDLED,), (BUNDLED, tried)))
    kept = keep_or_throw(folder, tried, before, after, ask)
    tell(f"kept in {folder.learnt}" if kept else "thrown away; the ear is as it was before")
    return kept
