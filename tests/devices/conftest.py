"""The virtual sound card as fixtures."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

from assistant.devices.sound_card import SoundCard
from assistant.errors import WorldFailedError
from assistant.lab.faults.virtual_card import VirtualCard, environment, why_absent


@pytest.fixture(scope="module")
def sound_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[VirtualCard]:
    """The virtual sound card, running; skipped with a word where its parts are absent."""
    if why := why_absent():
        pytest.skip(why)
    card = VirtualCard(tmp_path_factory.mktemp("sound"))
    before = dict(os.environ)
    os.environ |= environment(card.folder)
    try:
        try:
            card.start()
        except WorldFailedError as error:
            pytest.skip(str(error))
        yield card
    finally:
        card.stop()
        os.environ.clear()
        os.environ.update(before)


@pytest.fixture(scope="module")
def card(sound_server: VirtualCard) -> SoundCard:
    """PortAudio on the virtual sound card."""
    try:
        card = SoundCard()
    except WorldFailedError as error:
        pytest.skip(f"no virtual sound card: {error}")
    card.refresh()  # it may have been looked for before there was a virtual one
    return card
