"""The one loop: an event in, its record, the session's effects, their record, then the deeds.

Knows the order of things and nothing of what they mean.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from assistant.dialogue.session import Session
from assistant.errors import WorldFailedError
from assistant.messages import Effect, Ended, Event, Say, Urgency
from assistant.wording.walkthrough import book_back, book_lost

LogEntry = Event | tuple[float, Effect]


class EventLog(Protocol):
    """Where events and effects are written before anything acts on them."""

    def event(self, event: Event) -> None: ...

    def effect(self, at_s: float, effect: Effect) -> None: ...

    def sync(self) -> None: ...


class Performer(Protocol):
    """Somebody who acts on effects (speaks, sounds a tone, shows, listens)."""

    def perform(self, at_s: float, effect: Effect) -> None: ...


class Loop:
    """Hands each event to the session and its effects to the performers, by way of the book.

    A book that cannot be written (a full disk) is told once, aloud; the steam-up goes on, and what
    could not be written is kept and written, in its order, as soon as there is room again.
    """

    def __init__(
        self, session: Session, book: EventLog, performers: Iterable[Performer] = ()
    ) -> None:
        self.session = session
        self._book = book
        self._performers = tuple(performers)
        self._unwritten: list[LogEntry] = []
        self.book_lost = False
        self.ended: Ended | None = None

    @property
    def unwritten(self) -> int:
        """How many records wait for room on the disk."""
        return len(self._unwritten)

    def process(self, event: Event) -> list[Effect]:
        """One event through the house: written, thought about; its effects written, then performed.

        An utterance that kills whoever thinks about it is in the book all the same. The book is on
        the disk before any effect is performed.
        """
        was_lost = self.book_lost
        self._write([event])
        effects = self.session.handle(event)
        self._write([(event.at, effect) for effect in effects], sync=bool(effects) or was_lost)
        for effect in (*self._news(was_lost), *effects):
            for performer in self._performers:
                performer.perform(event.at, effect)
            if isinstance(effect, Ended):
                self.ended = effect
        return effects

    def _write(self, entries: list[LogEntry], sync: bool = False) -> None:
        """Write what waited before and these; what cannot be written waits on."""
        self._unwritten += entries
        self.book_lost = False
        try:
            while self._unwritten:
                self._enter(self._unwritten[0])
                del self._unwritten[0]
            if sync:
                self._book.sync()
        except WorldFailedError:
            self.book_lost = True

    def _news(self, was_lost: bool) -> list[Effect]:
        """What is to be said of the book itself."""
        if self.book_lost == was_lost:
            return []
        return [Say(book_lost() if self.book_lost else book_back(), Urgency.ALARM)]

    def _enter(self, entry: LogEntry) -> None:
        if isinstance(entry, tuple):
            self._book.effect(*entry)
        else:
            self._book.event(entry)
