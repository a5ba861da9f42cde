"""`footplate run`: the live steam-up, by microphone, typed lines or a script."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.app import Guarded, Loop, Performer, end_failure
from assistant.commands import board, early_imports, note_keeping, options, script
from assistant.commands.begin_anew import HANGS, NewStart, SoundHangsError, begin_anew
from assistant.commands.effect_json import effect_json
from assistant.commands.kept_learner import keep_learner
from assistant.commands.output import Out
from assistant.commands.resume import SessionStart
from assistant.commands.resume_tries import SETTLED_S
from assistant.commands.run_start import begin_run
from assistant.commands.screen_lines import ScreenPerformer
from assistant.config import paths
from assistant.devices.clock import Clock, RealClock
from assistant.devices.console import Keyboard, Screen
from assistant.devices.detached_output import detached_output
from assistant.devices.device_list import Direction
from assistant.devices.inbox import Inbox, interrupts_into
from assistant.devices.stderr_filter import filtered_stderr_throughout
from assistant.devices.supervisor import Supervisor
from assistant.dialogue.picture_now import DEAF
from assistant.dialogue.session import Session
from assistant.errors import InputWrongError, WorldFailedError
from assistant.grammar.wake_phrase import PHRASE, REPLY_S
from assistant.journal.clips import ClipStore
from assistant.journal.writer import Journal
from assistant.messages import Effect, Heard, Say, Urgency
from assistant.procedure.checklist import Phase
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.wording import walkthrough

if TYPE_CHECKING:
    from assistant.commands.live_devices import LiveListener, LiveSpeaker

_TICK_S = 1.0
SCREEN_WORDS = walkthrough.SCREEN_LOST, walkthrough.SCREEN_BACK
VOICE_WORDS = walkthrough.VOICE_LOST, walkthrough.VOICE_BACK
EAR_WORDS = walkthrough.EAR_LOST, walkthrough.EAR_BACK


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `run`."""
    options.add_engine(parser)
    options.add_checklist(parser)
    options.add_ear(parser)
    source = parser.add_mutually_exclusive_group()
    source.add_argument(
        "--typed", action="store_true", help="lines from the keyboard, no microphone"
    )
    source.add_argument(
        "--script", type=Path, metavar="FILE", help="time-stamped lines, a false clock"
    )
    parser.add_argument(
        "--from", dest="from_phase", choices=[p.value for p in Phase], metavar="PHASE",
        help="take over a warm engine at this phase: " + ", ".join(p.value for p in Phase),
    )  # fmt: skip
    book = parser.add_mutually_exclusive_group()
    book.add_argument(
        "--resume", action="store_true", help="go on with the last unfinished journal"
    )
    book.add_argument(
        "--resume-or-begin", action="store_true",
        help="the same where there is one that can be gone on with; otherwise begin a new one",
    )  # fmt: skip
    parser.add_argument(
        "--microphone", metavar="NAME", help="which microphone (see footplate devices)"
    )
    parser.add_argument("--speaker", metavar="NAME", help="which loudspeaker")
    called = parser.add_mutually_exclusive_group()
    called.add_argument(
        "--talk-key", action="store_true", help="listen only after Enter (or a foot switch)"
    )
    called.add_argument(
        "--wake", action="store_true",
        help=f"only what begins with “{PHRASE}” counts, what answers us, and a danger",
    )  # fmt: skip
    options.add_people(parser)
    options.add_teach(parser)
    board.add(parser)
    parser.add_argument(
        "--voice", choices=["plain"],
        help="plain: as the synthesiser makes it, not shaped to be heard beside an engine",
    )  # fmt: skip
    parser.add_argument("--mute", action="store_true", help="say nothing aloud; the screen only")
    parser.add_argument("--out", type=Path, metavar="DIR", help="where the journal goes")
    parser.add_argument(
        "--json", action="store_true", help="one JSON object a line for what is done"
    )


def run(given: argparse.Namespace, out: Out) -> int:
    """Run; returns 0 when it came to an end that was asked for.

    Where the sound library hangs, it goes on as a new process; under a supervisor that starts it.
    """
    supervisor = Supervisor.of_environment()
    try:
        return _run(given, out, supervisor)
    except SoundHangsError:
        if not supervisor.is_there:
            out.tell(f"{HANGS}: beginning again with the same book")
            begin_anew(sys.argv[1:])
        raise


def _run(given: argparse.Namespace, out: Out, supervisor: Supervisor) -> int:
    lines = script.read_script(given.script) if given.script else None
    folder = given.out or paths.journals_folder()
    with ExitStack() as stack:
        outputs = () if lines is not None else stack.enter_context(detached_output())
        start = begin_run(given, out, folder, scripted=lines is not None)
        journal = stack.enter_context(start.journal)
        screen = stack.enter_context(
            Screen(sys.stderr if out.json else sys.stdout, plain=out.json or given.typed or None)
        )
        display: Performer = JsonPerformer(out) if out.json else ScreenPerformer(screen)
        if lines is not None:
            loop = Loop(start.session, journal, [display])
            for event in script.events(lines, lambda: start.session.expected, start.first):
                loop.process(event)
            loop.require_all_written()
        else:
            stuck = lambda: next((o.trouble for o in outputs if o.trouble), "")  # noqa: E731
            _live(given, out, stack, start, Guarded(display, *SCREEN_WORDS, stuck), supervisor)
    keep_learner(start.session.state.lesson.learner, folder, start.session.config.engine.name, out)
    out.tell(f"journal: {journal.path}")
    if sounds := note_keeping.kept_notes_line(ClipStore(journal.path)):
        out.tell(sounds)
    return 0


class JsonPerformer:
    """Effects as JSON lines."""

    def __init__(self, out: Out) -> None:
        self._out = out

    def perform(self, at_s: float, effect: Effect) -> None:
        """One line."""
        self._out.record(effect_json(at_s, effect))


def _live(
    given: argparse.Namespace,
    out: Out,
    stack: ExitStack,
    start: SessionStart,
    display: Performer,
    supervisor: Supervisor,
) -> None:
    """In real time: keyboard or microphone in, voice out, until the end is asked for."""
    from assistant.commands.live_devices import LiveSpeaker

    clock = RealClock(start.first.at)
    inbox = Inbox(clock)
    try:
        early_imports.load(early_imports.OF_A_SESSION)
        if not given.typed:
            early_imports.load(early_imports.OF_AN_EAR)
        plain = given.voice == "plain"
        lost = "speaker" in start.session.state.lost_devices
        speaker = LiveSpeaker(out, clock, inbox, given.speaker, given.mute, plain, lost)
        stack.callback(speaker.close)
        performers: list[Performer] = [display, Guarded(speaker, *VOICE_WORDS, speaker.trouble)]
        if given.typed and _keyboard_descriptor() is None:
            raise InputWrongError("--typed reads standard input, which is closed")
        if given.typed:
            _open_keyboard(stack, inbox, start.session)
        else:
            listener = _open_microphone(given, out, stack, start, speaker, clock, inbox)
            performers.append(Guarded(listener, *EAR_WORDS))
        follow = _open_board(given, out, stack, start, inbox)
    except BaseException:
        start.settled()  # it is not the book that failed
        start.journal.discard()  # a start that failed leaves nothing for --resume to find
        raise
    loop = Loop(start.session, start.journal, performers, follow)
    if start.notice:
        for performer in performers[:2]:  # shown and spoken, but not part of the session
            performer.perform(start.first.at, Say(start.notice, Urgency.ANSWER))
    with interrupts_into(inbox, hangup_ends=given.typed):
        _until_ended(loop, start, inbox, supervisor, NewStart(_devices(given, speaker)))
    try:
        digest = _sealed(loop, start.journal)
    except WorldFailedError:
        speaker.finish()
        raise
    speaker.perform(clock.now(), Say(walkthrough.sealed(digest), Urgency.CHAT))
    speaker.finish()
    out.tell(f"digest of the journal, for the paper book: {digest}")


def _devices(
    given: argparse.Namespace, speaker: LiveSpeaker
) -> tuple[tuple[Direction, str | None], ...]:
    """The devices that this run uses, by their names."""
    microphone: tuple[Direction, str | None] = ("microphone", given.microphone)
    loudspeaker: tuple[Direction, str | None] = ("speaker", given.speaker)
    return (*(() if given.typed else (microphone,)), *(() if speaker.silent else (loudspeaker,)))


def _open_board(
    given: argparse.Namespace, out: Out, stack: ExitStack, start: SessionStart, inbox: Inbox
) -> board.Follow:
    """What keeps the board up to date, whose presses go into the inbox."""
    session = start.session

    def press(said: str, screen: str) -> None:
        inbox.post(lambda at: board.pressed(said, screen, session, at))

    name = session.config.engine.name
    book = board.Book(start.journal.path, name, start.resumed, start.first.at)
    return board.open_board(given, out, stack, session.config, session, press, book)


def _sealed(loop: Loop, journal: Journal) -> str:
    """The digest of a journal that holds everything; WorldFailedError when it does not."""
    loop.require_all_written()
    try:
        return journal.seal()
    except WorldFailedError as trouble:
        raise WorldFailedError(end_failure(str(trouble), 0)) from trouble


def _open_keyboard(
    stack: ExitStack, inbox: Inbox, session: Session, talk_key: Callable[[], None] | None = None
) -> None:
    """Typed lines into the inbox. talk_key: what an empty line does beside a microphone."""

    def hear(text: str) -> Heard:
        return hear_typed(text, session.expected, 0.0)

    descriptor = _keyboard_descriptor()
    if descriptor is None:
        return
    keyboard = (
        Keyboard(descriptor, hear, inbox)
        if talk_key is None
        else Keyboard(descriptor, hear, inbox, blank=talk_key, ends=False)
    )
    keyboard.start()
    stack.callback(keyboard.close)


def _keyboard_descriptor() -> int | None:
    """Of standard input, None when it is closed."""
    try:
        return None if sys.stdin is None else sys.stdin.fileno()
    except (OSError, ValueError):
        return None


def _open_microphone(
    given: argparse.Namespace,
    out: Out,
    stack: ExitStack,
    start: SessionStart,
    speaker: LiveSpeaker,
    clock: Clock,
    inbox: Inbox,
) -> LiveListener:
    """The microphone, and the keyboard as its talk key."""
    from assistant.commands.live_devices import LiveListener

    stack.enter_context(filtered_stderr_throughout())
    if given.wake:
        out.tell(
            f"say “{PHRASE}” before what you want; an answer to what it said needs none for "
            f"{REPLY_S:.0f} seconds, a danger never"
        )
    clips = ClipStore(start.journal.path)
    expected, deaf = start.session.expected, bool(start.session.state.lost_devices & DEAF)
    listener = LiveListener(given, out, clock, inbox, expected, speaker, clips, deaf)
    stack.callback(listener.close)

    def talk_key() -> None:
        speaker.hush()
        listener.talk_key()

    _open_keyboard(stack, inbox, start.session, talk_key)
    return listener


def _until_ended(
    loop: Loop, start: SessionStart, inbox: Inbox, supervisor: Supervisor, new_start: NewStart
) -> None:
    """Each event through the loop. The supervisor is told by nobody else, so a loop that hangs is
    missed; a quiet one ticks.
    """
    loop.process(start.first)
    supervisor.ready(f"the book is {start.journal.path.name}")
    goes_round = settled = False
    for event in inbox.events(_TICK_S):
        loop.process(event)
        if not goes_round:
            goes_round = True
            start.goes_round()
        if loop.ended is not None:
            supervisor.stopping()
            start.settled()
            return
        if new_start.due():
            start.settled()  # it is not the book that failed
            raise SoundHangsError(f"{HANGS}; go on with --resume")
        supervisor.alive()
        if not settled and event.at - start.first.at > SETTLED_S:
            settled = True
            start.settled()
