"""A whole practice by touch alone: the microphone is dead, and every word is a press on the page.

The practice operator decides what to tell; here it is found on the page and touched, as the page
offers it. What the page does not offer cannot be told.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from queue import Queue
from typing import Any

import pytest
from board_page import opened, served

from assistant.app import Loop
from assistant.board import web
from assistant.board.hub import Hub
from assistant.boiler.scales import PRESSURE_PA, PSI_PA
from assistant.commands import board
from assistant.commands.session_build import header_of, session_config_of
from assistant.config import engine_file
from assistant.config.engine_file import EngineFile
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import (
    PRESSED,
    Correction,
    DeviceLost,
    Effect,
    Event,
    Expected,
    Heard,
    Meaning,
    Report,
    Started,
)
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.simulator import practice
from assistant.simulator.scene import FIVE_PHASES, NoWaiting

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

ENGINES = (("practice", "psi", 5), ("copper", "bar", 11))
"""The engine, the unit of her gauge, and which day it is."""
FIGURE = re.compile(r"([\d.]+) psi\b")


def engine_file_of(name: str, unit: str, folder: Path) -> EngineFile:
    """A shipped engine, with a gauge in this unit."""
    found = engine_file.find_engine(name)
    scale = PSI_PA / PRESSURE_PA[unit]
    text = FIGURE.sub(lambda psi: f"{float(psi[1]) * scale:.2f} {unit}", found.text)
    (folder / "engine.yaml").write_text(text, encoding="utf-8")
    return engine_file.find_engine(folder / "engine.yaml")


class Touch:
    """The operator's finger: what he means is touched where the page offers it."""

    def __init__(self, page: Any, hub: Hub, session: Session, pressed: Queue[Any]) -> None:
        self._page, self._hub, self._session, self._pressed = page, hub, session, pressed
        self.untold: list[str] = []
        """What the page had no way to tell."""
        self.touches = 0

    def hear(self, words: str, expected: Expected, at: float) -> tuple[float, list[Heard]]:
        """Seconds, and what the presses said; the words themselves reach nobody."""
        found = hear_typed(words, expected, at).alternatives
        meaning = found[0].meaning if found else None
        self._await_page()
        told = meaning is not None and self._tell(meaning, expected, at)
        if not told:
            self.untold.append(words)
            return 1.0, []
        said, screen = self._pressed.get(timeout=10)
        return 1.0, [board.pressed(said, screen, self._session, at)]

    def _await_page(self) -> None:
        """Until the page shows the latest picture."""
        for _ in range(500):
            wanted = json.loads(self._hub.picture())
            shown = self._page.evaluate("[picture.at_s, picture.asks, picture.answers]")
            if shown == [wanted["at_s"], wanted["asks"], wanted["answers"]]:
                return
            self._page.wait_for_timeout(10)
        raise AssertionError("the page does not follow")

    def _tell(self, meaning: Meaning, expected: Expected, at: float) -> bool:
        if isinstance(meaning, Correction):
            meaning = meaning.report
        is_value = isinstance(meaning, Report) and not isinstance(meaning.value, str)
        if isinstance(meaning, Report) and is_value and meaning.what in ("water", "pressure"):
            self._pick(meaning)
            return True
        self._tap("nav [data-show=far]")
        if self._tap_same("#answers", meaning, expected, at):
            return True
        self._tap("nav [data-show=press]")
        for leads in ("", "More", "More", "Other", "Valve", "Back", "Draught", "Back", "Feed"):
            if leads:
                self._settle()
                if not self._page.locator(f"#choices button:text-is('{leads}')").count():
                    continue
                self._tap(f"#choices button:text-is('{leads}')")
            if self._tap_same("#choices", meaning, expected, at):
                return True
        return False

    def _tap_same(self, where: str, meaning: Meaning, expected: Expected, at: float) -> bool:
        """Touch the button that says this, where there is one."""
        buttons = self._page.locator(f"{where} button")
        said = self._page.evaluate(
            "(where) => [...document.querySelectorAll(`${where} button`)].map((e) => "
            "e.dataset.said || ([...CHOICES, ...VALVE, ...DRAUGHT, ...FEED]"
            ".find(([n]) => n === e.textContent) || [])[1] || e.textContent)",
            where,
        )
        for number, words in enumerate(said):
            if not isinstance(words, str):
                continue  # leads on to others
            found = hear_typed(words.lower(), expected, at).alternatives
            if found and found[0].meaning == meaning:
                self._settle()
                self._tap_at(buttons.nth(number))
                return True
        return False

    def _settle(self) -> None:
        """In the place of waiting until buttons that changed by themselves are taken."""
        self._page.evaluate("changedAt = 0")

    def _pick(self, reading: Report) -> None:
        self._tap("nav [data-show=press]")
        name = reading.what.capitalize()
        self._settle()
        if not self._page.locator(f"#choices button:text-is('{name}')").count():
            self._tap("#choices button:text-is('Other')")
        self._tap(f"#choices button:text-is('{name}')")
        part = float(reading.value) if reading.what == "water" else None
        assert part is not None or reading.unit == self._page.evaluate("picture.engine.unit")
        while away := self._away(part, float(reading.value)):
            little = "little-" if part is None and abs(away) < self._far() else ""
            self._tap(f"#{little}more" if away > 0 else f"#{little}less")
        self._tap("#take")

    def _away(self, part: float | None, wanted: float) -> float:
        """How far it is from what is picked to what is meant: levels, or as the gauge shows it."""
        away = self._page.evaluate(
            "([part, wanted]) => part === null ? wanted - value : nearest(part) - value",
            [part, wanted],
        )
        return round(float(away), 3)

    def _far(self) -> float:
        """How far one touch goes that is no fine one."""
        return float(self._page.evaluate("step(false)")) - 0.001

    def _tap(self, selector: str) -> None:
        self._tap_at(self._page.locator(selector).first)

    def _tap_at(self, place: Any) -> None:
        place.tap()
        self.touches += 1


@pytest.mark.parametrize(("engine", "unit", "seed"), ENGINES)
def test_a_whole_practice_by_touch_with_a_dead_microphone(
    chromium: Any,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    engine: str,
    unit: str,
    seed: int,
) -> None:
    monkeypatch.setattr(web, "LEAST_S", 0.01)  # time passes here without waiting
    file = engine_file_of(engine, unit, tmp_path)
    header = header_of(file, "2026-05-01T09:00:00+00:00", seed, "x")
    config, pressed = session_config_of(header), Queue[Any]()
    session = Session(config)
    hub = Hub(config, session, lambda *press: pressed.put(press))
    path = tmp_path / "touch.jsonl"
    with (
        served(hub) as server,
        opened(chromium, server, has_touch=True) as page,
        Journal.create(path, header) as journal,
    ):
        touch = Touch(page, hub, session, pressed)
        loop = Loop(session, journal, (), hub.follow)

        def process(event: Event) -> list[Effect]:
            effects = loop.process(event)
            if isinstance(event, Started):
                effects += loop.process(DeviceLost(event.at, "microphone", "unplugged"))
            return effects

        cast = practice.Cast(
            config.engine, config.lists, touch, NoWaiting(), seed, dial=config.dial
        )
        tally = practice.play(cast, process, lambda: session.expected, lambda *_: None)
        hearing = page.evaluate("picture.hears.state")
    readings = session.state.reports.of("pressure")
    assert {timed.report.unit for timed in readings} == {unit}
    heard = [event for event in reader.read(path).events() if isinstance(event, Heard)]
    assert tuple(tally.phases_done) == tuple(FIVE_PHASES)
    assert hearing == "lost"
    assert heard and all(event.ear.startswith(PRESSED) for event in heard)
    assert tally.mistakes == []
    assert touch.untold == []
    assert touch.touches > len(heard) > 80
