"""For everybody: axe finds nothing, the keyboard reaches all, targets and letters are large, nothing needs sideways
scrolling, less motion. WCAG 2.2 AA; the numbers of its success criteria stand beside the checks.
"""

import re
from typing import Any

import pytest

from tests.web.browser.helpers import DESK, PHONE
from tests.web.browser.views import every_view
from tests.web.helpers import STUDIO

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

RUN_AXE = """
async (tags) => {
  const { violations } = await axe.run(document, { runOnly: tags });
  return violations.map((each) =>
    `${each.id}: ${each.help}: ${each.nodes.slice(0, 3).map((node) => node.html.slice(0, 200)).join(' | ')}`);
}
"""

WITHIN = """(scrolling) => {
  const wide = document.documentElement.clientWidth, over = [];
  const { scrollWidth } = document.documentElement;
  if (scrollWidth > wide) over.push(`the page: ${scrollWidth} of ${wide}`);
  for (const node of document.querySelectorAll('body *')) {
    if (!node.checkVisibility() || node.closest(`.scroll, .paper, .side, .unseen, .skip, svg${scrolling}`)) continue;
    const { left, right } = node.getBoundingClientRect();
    if (right <= wide + 1 && left >= -1) continue;
    const ends = `${Math.round(left)}..${Math.round(right)}`;
    over.push(`${node.tagName}.${node.className} ${ends}: ${node.textContent.slice(0, 40)}`);
  }
  return over.slice(0, 5);
}"""

SMALL = """(least) => {
  const small = [];
  const open = document.querySelector('dialog[open]') ?? document;
  for (const node of open.querySelectorAll('button, a[href], select, input, textarea, summary')) {
    if (!node.checkVisibility() || node.matches('.unseen, .skip')) continue;
    const seen = node.matches('input[type=checkbox]') ? node.closest('label') : node;
    const { width, height } = seen.getBoundingClientRect();
    if (node.matches('p a, li a:not(.grow), td a, th a, .notice a')) continue; // links in a sentence
    if (width < least - 0.5
      || height < least - 0.5) {
      const name = node.getAttribute('aria-label') ?? node.textContent.slice(0, 30);
      small.push(`${node.tagName} ${name}: ${Math.round(width)} x ${Math.round(height)}`);
    }
  }
  return small;
}"""


def nothing_told(told):
    faults = [f"{view}: {fault}" for view, found in told.items() for fault in found]
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize(("kind", "scheme"), [("phone", "light"), ("desk", "dark")])
def test_axe_finds_nothing_on_any_view_or_dialog(window, server, axe, kind, scheme):
    found = window(server, PHONE if kind == "phone" else DESK, color_scheme=scheme)
    found.open()
    found.page.evaluate(axe)
    told = {}
    for view in every_view(found, server.new):
        found.shot(f"{kind}-{scheme}-{view}")
        told[view] = found.page.evaluate(RUN_AXE, TAGS)
    assert len(told) > 24
    nothing_told(told)


def test_axe_sees_a_fault_that_is_sown(phone, axe):
    """What finds nothing has to be able to find something. The faults are sown beside what the page draws, which may be
    drawn anew.
    """
    phone.page.evaluate(axe)
    phone.page.evaluate(
        "document.body.append(Object.assign(document.createElement('img'), { src: 'icon.svg' }), "
        "document.createElement('button'))"
    )
    faults = " ".join(phone.page.evaluate(RUN_AXE, TAGS))
    assert "image-alt" in faults
    assert "button-name" in faults


TINY = """(least) => {
  const tiny = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !node.checkVisibility() || node.closest('noscript, .unseen')) continue;
    const size = parseFloat(getComputedStyle(node).fontSize);
    if (size < least) tiny.add(`${size} px: ${walker.currentNode.data.trim().slice(0, 40)}`);
  }
  return [...tiny].slice(0, 5);
}"""

CUT = """() => [...document.querySelectorAll('button, .button')]
  .filter((node) => node.checkVisibility()
    && (node.scrollWidth > node.clientWidth + 1 || node.scrollHeight > node.clientHeight + 1))
  .map((node) => `cut: ${node.textContent}`)"""

COVERED = """() => {
  let covered = 0;
  for (const node of document.querySelectorAll('body *')) {
    if (!['sticky', 'fixed'].includes(getComputedStyle(node).position) || !node.checkVisibility()
      || node.closest('dialog, .flank, #status, .skip, table')) continue;
    covered += node.getBoundingClientRect().height;
  }
  return covered > innerHeight / 3 ? [`bars that stay take ${Math.round(covered)} of ${innerHeight}`] : [];
}"""


def test_a_small_screen_needs_no_sideways_scrolling_and_has_large_targets_and_letters(window, server):
    """1.4.10 at 320 pixels. 2.5.8 asks for targets of 24 pixels; a gloved thumb for 48 but for links within a sentence.
    No letter is under 14 pixels. On its side, a phone shows more than bars that stay.
    """
    found = window(server, {**PHONE, "viewport": {"width": 320, "height": 640}})
    found.open()
    told = {}
    for view in every_view(found, server.new):
        told[view] = [
            fault
            for claim, given in ((WITHIN, ""), (SMALL, 48), (TINY, 14))
            for fault in found.page.evaluate(claim, given)
        ]
        if view in ("jobs", "job-boxes", "job-map", "box-fails"):
            found.page.set_viewport_size({"width": 740, "height": 360})
            told[f"{view} on its side"] = found.page.evaluate(COVERED) + found.page.evaluate(WITHIN, "")
            found.page.set_viewport_size({"width": 320, "height": 640})
    nothing_told(told)


BROKEN = """() => {
  const broken = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (!node.parentElement.closest('button, .button') || !node.parentElement.checkVisibility()) continue;
    for (const { 0: word, index } of node.data.matchAll(/[^\\s/-]+/g)) {
      const range = document.createRange();
      range.setStart(node, index);
      range.setEnd(node, index + word.length);
      if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) broken.push(word);
    }
  }
  return broken;
}"""
"""Words within a button that stand on two lines."""


def test_no_word_on_a_key_is_broken_on_a_phone(window, server):
    found = window(server, {**PHONE, "viewport": {"width": 360, "height": 780}})
    found.open()
    told = {view: found.page.evaluate(BROKEN) for view in every_view(found, server.new)}
    assert {"box-fails", "box-sides", "box-large", "box-pull"} <= set(told)
    nothing_told(told)
    found.page.evaluate("""() => {
      const sown = Object.assign(document.createElement('button'), { textContent: 'receptacle' });
      Object.assign(sown.style, { width: '4em', overflowWrap: 'anywhere' });
      document.body.append(sown);
    }""")
    assert found.page.evaluate(BROKEN) == ["receptacle"]  # it has to be able to find one


def test_the_readers_own_text_of_twice_the_size_loses_nothing(window, server):
    """1.4.4: the browser's own text size at 200 %, as a reader sets it: the page follows, still without sideways
    scrolling, with every button's words inside it and the bars out of the way.
    """
    found = window(server)
    session = found.page.context.new_cdp_session(found.page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": 32, "fixed": 26}})
    found.open()
    assert found.page.evaluate("getComputedStyle(document.documentElement).fontSize") == "36px"
    told = {}
    for view in every_view(found, server.new):
        found.shot(f"large-text-{view}")
        wide = found.page.evaluate(WITHIN, ", dialog .card *")
        told[view] = wide + found.page.evaluate(COVERED) + found.page.evaluate(CUT)
    nothing_told(told)


FOCUS = """() => {
  const node = document.activeElement;
  if (!node || node === document.body) return null;
  const style = getComputedStyle(node);
  const near = node.matches('input.unseen') ? getComputedStyle(document.querySelector(`label[for=${node.id}]`)) : style;
  const { left, right, top, bottom } = (node.matches('input.unseen')
    ? document.querySelector(`label[for=${node.id}]`) : node).getBoundingClientRect();
  const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return { name: node.getAttribute('aria-label') ?? node.labels?.[0]?.textContent ?? node.textContent.trim(),
    tag: node.tagName, key: node.dataset.key ?? node.id,
    outlined: near.outlineStyle !== 'none' && parseFloat(near.outlineWidth) >= 2,
      bar: Boolean(over?.closest('footer.bar, header.top')) && !node.closest('footer.bar, header.top') };
}"""


def reached(page, most=200):
    """All that the Tab key comes to, once around."""
    found: list[dict[str, Any]] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        here = page.evaluate(FOCUS)
        if here is None or (found and here == found[0]):
            break
        found.append(here)
    return found


def test_the_keyboard_reaches_all_of_the_box_view_in_sight(window, server):
    """2.1.1, 2.4.7 and 2.4.11: every control, with its focus seen, and not under the bars that stay."""
    found = window(server, DESK)
    job = server.new(STUDIO)
    found.open(f"#/j/{job['id']}/b/A2")
    found.page.locator(".entry.grounds").wait_for()
    around = reached(found.page)
    wanted = found.page.evaluate("""() =>
        [...document.querySelectorAll('a[href], button, select, input, textarea, summary')].filter((node) =>
        node.checkVisibility())
        .map((node) => node.dataset.key ?? node.id)""")  # fmt: skip
    assert {each["key"] for each in around} >= set(wanted)
    assert [each["name"] for each in around if not each["outlined"]] == []
    assert [each["name"] for each in around if each["bar"]] == []


def test_a_box_entered_by_the_keyboard_alone(window, server):
    found = window(server, DESK)
    found.open()
    page = found.page

    def to(name, tag="BUTTON"):
        for _ in range(150):
            here = page.evaluate(FOCUS)
            if here and here["name"] == name and here["tag"] == tag:
                return
            page.keyboard.press("Tab")
        raise AssertionError(f"the Tab key does not come to {name}")

    to("New job")
    page.keyboard.press("Enter")
    page.get_by_text("Nothing is counted until you choose it").wait_for()
    to("Code edition adopted here", "SELECT")
    page.keyboard.type("2020")
    page.get_by_text("Job name and code edition: 2020 edition").wait_for()
    page.get_by_role("heading", name="First box").wait_for()
    to("Name", "INPUT")
    page.keyboard.type("J1")
    to("Where it is", "INPUT")
    page.keyboard.type("the stair")
    page.keyboard.press("Enter")
    page.locator("#answer").wait_for()
    to("Other box")
    page.keyboard.press("Enter")
    to("Volume marked in it, in³", "INPUT")
    page.keyboard.type("18")
    page.keyboard.press("Enter")
    page.locator("#dialog").wait_for(state="hidden")
    page.get_by_text("18.00 in³").first.wait_for()
    to("Add one 12/2")
    for count in (1, 2):
        page.keyboard.press("Enter")
        found.has_cables("12/2", count)
        assert page.evaluate(FOCUS)["name"] == "Add one 12/2"  # the focus stays where it was
    to("Add a receptacle")
    page.keyboard.press("Space")
    to("Clamps none")
    page.keyboard.press("Space")
    page.locator("#answer").get_by_text(
        "2.25 in³ spare", exact=True
    ).wait_for()  # 18 - 4 x 2.25 - 2 x 2.25 - 2.25, by hand
    to("Worksheet")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Worksheet of J1").wait_for()
    to("Equipment grounds: the rule in plain words")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="By edition").wait_for()
    page.keyboard.press("Escape")
    page.get_by_role("heading", name="Worksheet of J1").wait_for()
    page.keyboard.press("Escape")
    page.locator("#dialog").wait_for(state="hidden")
    assert page.evaluate(FOCUS)["name"] == "Worksheet"
    to("Undo: J1 clamps none")
    page.keyboard.press("Enter")
    page.get_by_text("Exactly full", exact=True).wait_for()  # the clamps nobody has looked at take 2.25 at the worst


def test_a_dialog_keeps_the_focus_until_it_is_closed(window, server):
    found = window(server, DESK)
    job = server.new(STUDIO)
    found.open(f"#/j/{job['id']}/b/A2")
    found.button("What else fits").click()
    found.page.get_by_role("heading", name="What else fits in A2").wait_for()
    for _ in range(8):
        found.page.keyboard.press("Tab")
        assert found.page.evaluate(
            "document.activeElement === document.body || Boolean(document.activeElement.closest('dialog'))"
        )


def test_the_verdict_is_spoken_after_a_tap(phone, server):
    """4.1.3: what changes on the screen is told to who does not see it, by words and not by colour."""
    job = server.new("job Spoken\nedition 2020\nbox J1\n  square 4 x 1-1/2\n")
    phone.box(job["id"], "J1")
    phone.tap("Add one 12/2")
    phone.page.locator("#spoken", has_text=re.compile(r"^passes, [\d.]+ cubic inches spare$")).wait_for(
        state="attached"
    )
    assert phone.page.locator("#spoken").get_attribute("role") == "status"


def test_nothing_moves_for_who_asked_for_less_motion(window, server):
    job = server.new(STUDIO)
    for motion in ("reduce", "no-preference"):
        found = window(server, PHONE, reduced_motion=motion)
        found.open(f"#/j/{job['id']}/b/A2")
        found.page.locator("#answer").wait_for()
        moving = found.page.evaluate("""() => [...document.querySelectorAll('*')].filter((node) => {
            const { transitionDuration, animationName } = getComputedStyle(node);
            return transitionDuration.split(',').some((each) => parseFloat(each) > 0) || animationName !== 'none';
        }).map((node) => node.className)""")  # fmt: skip
        assert bool(moving) == (motion == "no-preference"), moving


def test_the_screen_can_be_set_light_or_dark_whatever_the_system_says(window, server):
    found = window(server, PHONE, color_scheme="light")
    found.open()
    ground = "getComputedStyle(document.body).backgroundColor"
    light = found.page.evaluate(ground)
    found.tap("Screen: auto")
    assert found.page.evaluate(ground) == light
    found.tap("Screen: light")
    dark = found.page.evaluate(ground)
    assert dark != light
    found.page.reload()
    found.button("Screen: dark").wait_for()
    assert found.page.evaluate(ground) == dark
