"""Enrolment of an owner: twenty phrases read aloud, checked, trained on; some are held out.

Knows phrases, a recogniser and what to say; microphone, keyboard and noise are handed in.
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
from assistant.recogniser.snr import Noise, in_noise

# Numbers in their different forms, water, states, orders: what is said most in a steam-up.
PHRASES = (
    "pressure seventy five", "water half", "pressure one two zero", "what next",
    "water two thirds", "fifteen pounds", "say again", "blower half open", "pressure thirty",
    "no water in sight", "five bar", "how long", "half a glass", "pressure four five",
    "where are we", "water three quarters", "damper shut", "pressure ninety", "not yet", "ready",
)  # fmt: skip
HELD_OUT = frozenset({3, 8, 13, 15, 17})  # numbers of the phrases that are only evaluated on
TRIES = 3
QUIET_PEAK, LOUD_SHARE, SHORTEST_S = 0.02, 0.001, 0.15
_WINDOW = 500  # frames: a phrase takes 4 s at most, and half the window is half the time
_SNRS_DB = (None, 10.0, 5.0)
# The last two layers only, and few steps, against overfitting to few phrases.
SETTINGS = TrainingSettings(
    steps=36,
    batch=8,
    rank=4,
    adapter_rate=5e-4,
    full_rate=1e-4,
    warm_up=6,
    evaluate_every=9,
    last_layers=2,
)

RecordPhrase = Callable[[], Sound]
Ask = Callable[[str], str]
_Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class HeldOutScore:
    """How well the held-out phrases are recognised."""

    right: int
    trials: int
    probability: float
    """Mean posterior of what was said."""

    def __str__(self) -> str:
        return f"{self.right} of {self.trials} right, given {self.probability:.2f} on average"


def recording_trouble(sound: Sound) -> str | None:
    """Why a recording is unusable, by its level alone; None if it is usable.

    >>> recording_trouble(np.zeros(16000, np.float32))
    'nothing was heard: speak up, or nearer to the microphone'
    """
    peak = float(np.abs(sound).max(initial=0.0))
    if peak < QUIET_PEAK or len(trimmed(sound, 0.0, 25.0)) < SHORTEST_S * SPEECH_RATE_HZ:
        return "nothing was heard: speak up, or nearer to the microphone"
    if float(np.mean(np.abs(sound) >= 0.985)) > LOUD_SHARE:
        return "too loud, the microphone cuts it off: speak less loudly, or from farther away"
    return None


def record_phrases(
    record: RecordPhrase,
    ask: Ask,
    tell: _Tell,
    recogniser: Recogniser,
    folder: VoiceFolder,
    phrases: Sequence[str] = PHRASES,
) -> None:
    """Have every phrase read, three tries each at most, and keep it in the folder.

    A phrase that is taken for another is asked for again, but kept at the last try: such phrases
    are what enrolment is for. Raises WorldFailedError where a level stays wrong.
    """
    tell(
        f"{len(phrases)} phrases. Press Enter, then read what is shown, as you would on the engine."
    )
    for number, phrase in enumerate(phrases):
        sound = _record_phrase(number, phrase, record, ask, tell, recogniser)
        folder.keep(number, tuple(phrase.split()), sound)


def _record_phrase(
    number: int,
    phrase: str,
    record: RecordPhrase,
    ask: Ask,
    tell: _Tell,
    recogniser: Recogniser,
) -> Sound:
    for attempt in range(TRIES):
        ask(f"{number + 1:>2}. {phrase.upper()}   [Enter] ")
        sound = record()
        trouble = recording_trouble(sound)
        if trouble is None:
            sound = trimmed(sound)
            heard = _heard(recogniser, sound)
            if heard == phrase or _mean_the_same(heard, phrase):
                return sound
            trouble = f"understood as {heard!r}" if heard else "not understood"
            if attempt == TRIES - 1:
                tell(f"    {trouble}; kept all the same, to be learnt")
                return sound
        tell(f"    {trouble}. Once more:")
    raise WorldFailedError(f"{phrase!r} could not be recorded: try `footplate devices --test`")


def _heard(recogniser: Recogniser, sound: Sound) -> str:
    n_best = recogniser.hear(sound, grammar(Expected("any")))
    return n_best.alternatives[0].words if n_best.alternatives else ""


def _mean_the_same(heard: str, phrase: str) -> bool:
    anything = grammar(Expected("any"))
    meant = anything.meaning(tuple(phrase.split()))
    return meant is not None and anything.meaning(tuple(heard.split())) == meant


def train_adapter(
    folder: VoiceFolder, device: str, seed: int, tell: _Tell, settings: TrainingSettings = SETTINGS
) -> Path:
    """Train on the recordings, on top of the shipped adapter; the new file, not yet kept."""
    clips = tuple(
        LabelledClip(sound, words, "owner", "owner", PROMPTS["any"])
        for number, words, sound in folder.recordings()
        if number not in HELD_OUT
    )
    if not clips:
        raise WorldFailedError("no recordings of yours here: footplate tune --mine makes them")
    corpus = Corpus(clips, (PROMPTS["any"],))
    teacher = Teacher(device, corpus.words(), corpus.every_prompt(), BUNDLED, _WINDOW)
    corpus = with_texts(corpus, teacher.best)
    augmentation = Augmentation(speed=(0.9, 1.1), snr_db=(0.0, 30.0))
    examples = Examples(corpus, augmentation, MixtureWeights(), seed)
    tell(f"learning from {len(clips)} phrases; some minutes")
    evaluations = train(teacher, batches(examples, settings.batch, 0), settings, (), tell)
    tried = folder.path / "tried.npz"
    write_adapter(tried, evaluations[-1].adapter)
    return tried


def _evaluated(folder: VoiceFolder, noise: Noise, adapters: Sequence[Path]) -> HeldOutScore:
    """The held-out phrases, clean and in the engine's noise, with these adapters."""
    recogniser = ConstrainedWhisper(load_model(adapters=adapters))
    anything = grammar(Expected("any"))
    right, probabilities = 0, []
    for number, words, sound in folder.recordings():
        for snr_db in _SNRS_DB if number in HELD_OUT else ():
            n_best = recogniser.hear(in_noise(sound, noise, snr_db, [7, number]), anything)
            meant = anything.meaning(words)
            matching = [a for a in n_best.alternatives if a.meaning == meant]
            right += bool(matching) and n_best.alternatives[0] == matching[0]
            probabilities.append(matching[0].probability if matching else 0.0)
    mean = float(np.mean(probabilities)) if probabilities else 0.0
    return HeldOutScore(right, len(probabilities), mean)


def keep_or_discard(
    folder: VoiceFolder, tried: Path, before: HeldOutScore, after: HeldOutScore, ask: Ask
) -> bool:
    """Show both and do what is answered; nothing is kept without a yes."""
    answer = ask(f"before: {before}\nafter:  {after}\nkeep it? [y/N] ")
    if answer.strip().lower() in ("y", "yes"):
        tried.replace(folder.adapter)
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
    """From the first phrase to keeping the adapter or not; whether it is kept.

    A whole set of earlier recordings is used again, if wanted.
    """
    recorded = len(list(folder.recordings()))
    again = recorded == len(PHRASES) and ask(f"use the {recorded} recordings of before? [Y/n] ")
    if again is False or str(again).strip().lower() in ("n", "no"):
        record_phrases(record, ask, tell, ConstrainedWhisper(load_model()), folder)
    tried = train_adapter(folder, "cpu", seed, tell, settings)
    before, after = (_evaluated(folder, noise, files) for files in ((BUNDLED,), (BUNDLED, tried)))
    kept = keep_or_discard(folder, tried, before, after, ask)
    tell(f"kept in {folder.adapter}" if kept else "thrown away; the ear is as it was before")
    return kept
