"""The board's page for everybody: names, contrast, keys, size of what is pressed, quiet motion."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import board_pictures
import pytest
from board_page import SIZES, Shown, opened, served

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

CONTRAST = 7.0  # WCAG 2.2, 1.4.6, here for letters of every size
EDGE_CONTRAST = 3.0  # WCAG 2.2, 1.4.11: what is drawn, and the edge of a button
TARGET_PX = 134.0  # 20 mm at 6.7 px/mm, a 7 inch screen of 1024 x 600
LEAST_PX = 24.0  # WCAG 2.2, 2.5.8
VIEWS = ("far", "near", "answers", "press", "troubles", "pick water", "pick pressure")
VIEW = """
([name, night]) => {
  document.body.classList.toggle("night", night);
  left();
  page(["far", "near"].includes(name) ? name : "press");
  if (name === "troubles") chooseOther(TROUBLES);
  if (name === "press") chooseOther(CHOICES);
  if (name.startsWith("pick")) pick(name.slice(5));
}
"""
# Of each text, button edge and drawn line: what it is, and its contrast with what lies behind it.
CONTRASTS = """
() => {
  const parts = (colour) => colour.match(/[0-9.]+/g).map(Number);
  const light = (colour) => {
    const [r, g, b] = parts(colour).slice(0, 3).map((c) => c / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const between = (a, b) => {
    const [less, more] = [light(a), light(b)].sort((one, other) => one - other);
    return (more + 0.05) / (less + 0.05);
  };
  const behind = (e) => {
    for (; e; e = e.parentElement) {
      const colour = getComputedStyle(e).backgroundColor, alpha = parts(colour)[3];
      if (alpha === undefined || alpha === 1) return colour;
      if (alpha !== 0) throw new Error(`half transparent: ${e.id}`);
    }
    throw new Error("no background");
  };
  const found = [];
  for (const e of document.body.querySelectorAll("*")) {
    if (!e.checkVisibility()) continue;
    const style = getComputedStyle(e);
    const name = `${e.id || e.tagName} ${e.textContent.trim().slice(0, 20)}`;
    if ([...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
      found.push(["text", name, between(style.color, behind(e))]);
    if (e.matches("button"))
      found.push(["edge", name, between(style.borderTopColor, behind(e.parentElement))]);
    if (e.matches("svg line, svg rect, svg path") && style.stroke !== "none")
      found.push(["edge", e.id || "line", between(style.stroke, behind(e.closest("svg")))]);
    if (e.matches("#seen"))
      found.push(["edge", e.id, between(style.fill, behind(e.closest("svg")))]);
    if (e.matches("#due i"))
      found.push(["edge", "due", between(style.backgroundColor, behind(e.parentElement))]);
  }
  return found;
}
"""


@pytest.fixture(scope="module")
def page(chromium: Any) -> Iterator[Any]:
    """A page full of words, on the screen that the sizes are made for."""
    pictures = Shown(board_pictures.many_alarms())
    with served(pictures) as server, opened(chromium, server) as shown:
        shown.pressed = pictures.pressed
        yield shown


def test_axe_finds_nothing(page: Any) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe here")
    run, found = axe.Axe(), []
    options = {"rules": {"color-contrast-enhanced": {"enabled": True}}}
    for view in VIEWS:
        for night in (False, True):
            page.evaluate(VIEW, [view, night])
            results = run.run(page, options=options).response
            assert len(results["passes"]) > 10  # it looked
            found += [
                (view, night, one["id"], one["impact"], node["target"])
                for one in results["violations"]
                for node in one["nodes"]
            ]
    assert found == []
    page.evaluate("by('night').textContent = ''")
    spoiled = run.run(page, options=options).response["violations"]
    page.evaluate("by('night').textContent = 'Night'")
    assert [one["id"] for one in spoiled] == ["button-name"]


@pytest.mark.parametrize("night", [False, True], ids=["day", "night"])
@pytest.mark.parametrize("alarm", [False, True], ids=["calm", "alarm"])
def test_everything_stands_out_from_what_lies_behind_it(
    page: Any, night: bool, alarm: bool
) -> None:
    picture = board_pictures.many_alarms() if alarm else board_pictures.longest()
    seen, faint = set(), []
    for view in VIEWS:
        page.evaluate("text => { show(text); by('lost').hidden = false; }", json.dumps(picture))
        page.evaluate(VIEW, [view, night])
        for kind, name, contrast in page.evaluate(CONTRASTS):
            seen.add(kind)
            if contrast < (CONTRAST if kind == "text" else EDGE_CONTRAST):
                faint.append((view, kind, name, round(contrast, 2)))
    assert seen == {"text", "edge"}
    assert faint == []


def test_what_was_pressed_is_still_read(page: Any) -> None:
    page.evaluate(VIEW, ["far", False])
    for night in (False, True):
        page.evaluate("n => document.body.classList.toggle('night', n)", night)
        page.evaluate("document.querySelector('#answers button').classList.add('sent')")
        worst = min(contrast for _, name, contrast in page.evaluate(CONTRASTS) if "Right" in name)
        page.evaluate("document.querySelector('#answers button').classList.remove('sent')")
        assert worst >= CONTRAST


def test_what_is_pressed_with_gloves_is_large_enough(page: Any) -> None:
    sizes = (
        "() => [...document.querySelectorAll('main button, #answers button')]"
        ".filter((e) => e.checkVisibility()).map((e) => {"
        " const b = e.getBoundingClientRect(); return [e.textContent, b.width, b.height]; })"
    )
    for view in (v for v in VIEWS if v != "near"):
        page.evaluate(VIEW, [view, False])
        found = page.evaluate(sizes)
        assert len(found) >= 3
        assert [one for one in found if min(one[1:]) < TARGET_PX] == []


def test_everything_else_that_is_pressed_is_no_smaller_than_a_finger_tip(chromium: Any) -> None:
    for size in SIZES:
        pictures = Shown(board_pictures.usual())
        with served(pictures) as server, opened(chromium, server, size) as page:
            for view in VIEWS:
                page.evaluate(VIEW, [view, False])
                least = page.evaluate(
                    "() => Math.min(...[...document.querySelectorAll('button')].filter((e) =>"
                    " e.checkVisibility()).flatMap((e) => { const b = e.getBoundingClientRect();"
                    " return [b.width, b.height]; }))"
                )
                assert least >= LEAST_PX, (size, view)


@pytest.mark.parametrize("view", VIEWS)
def test_the_tab_key_comes_to_all_in_the_order_it_is_read(page: Any, view: str) -> None:
    page.evaluate(VIEW, [view, False])
    wanted = page.evaluate(
        "() => [...document.querySelectorAll('button, [tabindex]')]"
        ".filter((e) => e.checkVisibility()).map((e) => e.id || e.textContent)"
    )
    page.evaluate("() => { document.activeElement.blur(); getSelection().removeAllRanges(); }")
    page.evaluate("() => { document.body.tabIndex = -1; document.body.focus(); }")
    come, outlines = [], []
    for _ in wanted:
        page.keyboard.press("Tab")
        name, width, style = page.evaluate(
            "() => { const e = document.activeElement, s = getComputedStyle(e);"
            " return [e.id || e.textContent, parseFloat(s.outlineWidth), s.outlineStyle]; }"
        )
        come.append(name)
        outlines.append((name, width >= 2.0 and style != "none"))
    page.evaluate("document.body.removeAttribute('tabindex')")
    assert come == wanted and len(wanted) > 4
    assert [name for name, seen in outlines if not seen] == []


def test_a_level_and_a_trouble_are_told_by_keys_alone(chromium: Any) -> None:
    pictures = Shown(board_pictures.usual() | {"asks": "", "answers": []})
    with served(pictures) as server, opened(chromium, server) as page:
        page.keyboard.press("3")  # the page of presses
        page.locator("#choices button", has_text="Water").focus()
        page.keyboard.press("Enter")
        page.keyboard.press("ArrowUp")
        assert page.locator("#pick-glass").get_attribute("aria-valuetext") == "five eighths"
        for _ in range(3):  # from the glass: more, less, say it
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.locator("#choices button:focus").wait_for()  # and the keys go on from the choices
        for _ in range(7):
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.locator("#choices button:focus", has_text="No water in sight").wait_for()
        page.keyboard.press("Enter")
        page.locator("#choices button.sent").wait_for()
        page.keyboard.press("1")
        page.keyboard.press("r")
        page.wait_for_timeout(300)
    assert [said for said, _ in pictures.pressed] == [
        "water five eighths", "no water in sight", "that's right",
    ]  # fmt: skip


def test_answers_that_change_by_themselves_are_not_pressed_by_mistake(chromium: Any) -> None:
    first = board_pictures.usual() | {"asks": "gear", "answers": ["out of gear", "still in gear"]}
    other = json.dumps(first | {"asks": "glass", "answers": ["glass stays empty"]})
    pictures = Shown(first)
    with served(pictures) as server, opened(chromium, server) as page:
        page.keyboard.press("3")
        page.locator("#choices button", has_text="Still in gear").wait_for()
        page.evaluate("text => { show(text); by('choices').children[0].click(); }", other)
        page.wait_for_timeout(500)
        assert pictures.pressed == []
        pictures.text = other
        page.locator("#choices button", has_text="Glass stays empty").click()
        page.locator("#choices button.sent").wait_for()
    assert pictures.pressed == [("glass stays empty", "the board")]


@pytest.mark.parametrize("motion", ["reduce", "no-preference"])
def test_nothing_moves_for_who_wants_no_motion(chromium: Any, motion: str) -> None:
    pictures = Shown(board_pictures.usual())
    with served(pictures) as server, opened(chromium, server, reduced_motion=motion) as page:
        page.evaluate("text => show(text)", json.dumps(board_pictures.usual() | {"due_s": 400.0}))
        page.evaluate("text => show(text)", json.dumps(board_pictures.usual() | {"due_s": 1.0}))
        moving = page.evaluate("document.getAnimations().length")
    assert (moving == 0) == (motion == "reduce")
