"""The loop: an event is recorded and handled; its effects are recorded, then performed.

Knows the order of these and nothing of what they mean.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from assistant.dialogue.session import Session
from assistant.errors import WorldFailedError
from assistant.messages import Effect, Ended, Event, Fault, Say, Urgency
from assistant.wording.walkthrough import book_back, book_lost

LogEntry = Event | tuple[float, Effect]


class EventLog(Protocol):
    """Where events and effects are recorded before anything acts on them."""

    def event(self, event: Event) -> None: ...

    def effect(self, at_s: float, effect: Effect) -> None: ...

    def sync(self) -> None: ...


class Performer(Protocol):
    """Something that acts on effects: speaks, sounds a tone, shows, listens."""

    def perform(self, at_s: float, effect: Effect) -> None: ...


class Guarded:
    """A performer that can stop nothing else: when it fails the others tell it, and it is tried on.

    trouble: why it cannot be followed now, for one that works in a thread of its own; empty while
    it can be. lost, back: what the others say then.
    """

    def __init__(
        self,
        performer: Performer,
        lost: str,
        back: str,
        trouble: Callable[[], str] = lambda: "",
    ) -> None:
        self._performer = performer
        self._lost, self._back = lost, back
        self._trouble = trouble
        self._fault = ""
        self._told = False

    def perform(self, at_s: float, effect: Effect) -> None:
        """Perform it; a fault is kept for `news`."""
        try:
            self._performer.perform(at_s, effect)
            self._fault = ""
        except Exception as fault:
            self._fault = f"{type(fault).__name__}: {fault}"

    def news(self) -> tuple[Effect, ...]:
        """What the others have to tell of it, once for each change."""
        why = self._fault or self._trouble()
        if bool(why) == self._told:
            return ()
        self._told = bool(why)
        if why:
            return (Say(self._lost, Urgency.ALARM), Fault(f"{self._lost} ({why})"))
        return (Say(self._back, Urgency.ALARM),)


class Loop:
    """Hands each event to the session and its effects to the performers, by way of the journal.

    A journal that cannot be written (a full disk) is told once, aloud. The session goes on, and
    the pending records are written, in order, as soon as there is room again.
    """

    def __init__(
        self,
        session: Session,
        journal: EventLog,
        performers: Iterable[Performer] = (),
        follow: Callable[[Event, list[Effect]], None] = lambda event, effects: None,
    ) -> None:
        self.session = session
        self._follow = follow
        self._journal = journal
        self._performers = tuple(performers)
        self._unwritten: list[LogEntry] = []
        self._journal_lost = False
        self._why_lost = ""
        self.ended: Ended | None = None

    @property
    def unwritten(self) -> int:
        """How many records wait for room on the disk."""
        return len(self._unwritten)

    def process(self, event: Event) -> list[Effect]:
        """Record an event, handle it, record its effects, perform them.

        The event is recorded first, so that one that kills the process is in the journal. The
        journal is on the disk before any effect is performed.
        """
        was_lost = self._journal_lost
        self._write([event])
        effects = self.session.handle(event)
        self._write([(event.at, effect) for effect in effects], sync=bool(effects) or was_lost)
        for effect in (*self._journal_notice(was_lost), *effects):
            for performer in self._performers:
                performer.perform(event.at, effect)
            if isinstance(effect, Ended):
                self.ended = effect
        self._follow(event, effects)
        self._tell_of_performers(event.at)
        return effects

    def _tell_of_performers(self, at_s: float) -> None:
        """Have the others say which performer has failed, or works again. Not in the journal."""
        for guarded in self._performers:
            if isinstance(guarded, Guarded):
                for effect in guarded.news():
                    for other in self._performers:
                        if other is not guarded:
                            other.perform(at_s, effect)

    def require_all_written(self) -> None:
        """Try once more to write what waits; WorldFailedError with its count while any does.

        To be called before a seal: its digits would vouch for what is not in the journal.
        """
        self._write([], sync=True)
        if self._journal_lost:
            raise WorldFailedError(end_failure(self._why_lost, self.unwritten))

    def _write(self, entries: list[LogEntry], sync: bool = False) -> None:
        """Write the pending entries and these; what cannot be written stays pending."""
        self._unwritten += entries
        self._journal_lost = False
        try:
            while self._unwritten:
                self._write_entry(self._unwritten[0])
                del self._unwritten[0]
            if sync:
                self._journal.sync()
        except WorldFailedError as trouble:
            self._journal_lost = True
            self._why_lost = str(trouble)

    def _journal_notice(self, was_lost: bool) -> list[Effect]:
        """What is to be said when the journal was lost, or can be written again."""
        if self._journal_lost == was_lost:
            return []
        return [Say(book_lost() if self._journal_lost else book_back(), Urgency.ALARM)]

    def _write_entry(self, entry: LogEntry) -> None:
        if isinstance(entry, tuple):
            self._journal.effect(*entry)
        else:
            self._journal.event(entry)


def end_failure(why: str, unwritten: int) -> str:
    """The message for a journal that could not be sealed."""
    lost = f", and its last {unwritten} records are not in it" if unwritten else ""
    return f"{why}; the journal is not sealed{lost}"
