"""Every view and dialog of the page, each with the way to it: looked at by the checker of accessibility, and by
people.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from tests.web.browser.helpers import Window
from tests.web.helpers import STUDIO

SIDES = """job Two sides of a barrier
edition 2020
box D1 at the slip
  square 4 x 2-1/8
  barrier plastic
  space left 1/2
  space right 1/2
run D1/left > ? 12/2 nm-b
run D1/right > ? 14/2 nm-b
"""
PULL = """job Pull
edition 2020
panel P
panel P2
box PB1 at the pier
  inside 14 x 12 x 6 in
  entry R1 left
  entry R2 right
raceway R1 P > PB1 emt 2 40 ft
raceway R2 PB1 > P2 emt 1 30 ft
wires P > P2 3 x #1/0 thhn through PB1 in R1, R2
"""
"""A straight pull of trade size 2 wants 16 in. Three #1/0 of 0.1855 in2 are over 40 % of the 0.864 in2 of a trade size
1.
"""
FAULTY = STUDIO.replace("  clamps outside", "  clamps outsde", 1)


def every_view(window: Window, make: Callable[[str], dict[str, Any]]) -> Iterator[str]:
    """Goes to one after another and says its name when it is shown; ``make`` makes a job of a sheet."""
    page = window.page
    studio, sides, faulty, pull = (make(sheet)["id"] for sheet in (STUDIO, SIDES, FAULTY, PULL))
    empty = make("job Nothing yet\n\n")["id"]

    def dialog(name: str) -> str:
        page.locator("#dialog[open]").wait_for()
        return f"dialog-{name}"

    window.go("#/")
    yield "jobs"
    page.locator("#question").fill("device 3 x 2 x ?, 2 x 12/2 nm-b, receptacle #12")
    page.locator("#asked-edition").select_option("2020")
    window.tap("Answer")
    page.locator("#answer").wait_for()
    page.locator("#asked-place").wait_for()
    yield "jobs-asked"
    window.tap("Parts and prices")
    yield dialog("stock")
    window.close_dialog()
    window.job(empty)
    yield "job-empty"
    for tab in ("boxes", "map", "takeoff", "editions", "sheet", "hand-over"):
        window.job(studio, tab)
        yield f"job-{tab}"
    window.go(f"#/j/{studio}/s/raceway/R1")
    page.locator("#answer").wait_for()
    yield "subject-raceway"
    page.keyboard.press("?")
    yield dialog("keys")
    window.close_dialog()
    window.go(f"#/j/{studio}/s/circuit/3")
    page.get_by_role("heading", name="circuit 3").first.wait_for()
    yield "subject-circuit"
    window.box(pull, "PB1")
    yield "box-pull"
    window.tap("Worksheet")
    yield dialog("worksheet-pull")
    window.close_dialog()
    window.tap("Fixes")
    page.locator("#dialog-body", has_text="Change").or_(page.locator("#dialog-body p")).first.wait_for(timeout=60_000)
    yield dialog("fixes-pull")
    window.close_dialog()
    window.go(f"#/j/{pull}/s/raceway/R2")
    page.locator("#answer.fails").wait_for()
    yield "subject-raceway-fails"
    window.job(pull, "map")
    yield "map-pull"
    window.job(studio, "remedies")
    yield "job-remedies"
    window.tap("Work it out")
    page.get_by_role("heading", name="fixed for").wait_for(timeout=60_000)
    yield "job-remedies-found"
    window.job(faulty, "sheet")
    page.locator(".paper mark").first.wait_for()
    yield "job-sheet-faulty"
    window.box(sides, "D1")
    yield "box-sides"
    for box, name in (("A2", "fails"), ("A1", "open"), ("S1", "passes"), ("J9", "large")):
        window.box(studio, box)
        yield f"box-{name}"
    window.box(studio, "A2")
    for name in ("Other box", "Other cable", "Other device"):
        window.tap(name)
        yield dialog(name.lower().replace(" ", "-"))
        window.close_dialog()
    for row in ("box", "cables", "devices", "clamps"):
        window.touch(page.locator(f".entry.{row} button.name").first)
        for more in page.locator("#dialog summary").all():
            window.touch(more)
        yield dialog(f"row-{row}")
        window.close_dialog()
    window.tap("What else fits")
    yield dialog("fits")
    window.close_dialog()
    window.tap("Fixes")
    page.get_by_role("button", name="Do this").first.wait_for(timeout=60_000)
    yield dialog("remedies")
    window.close_dialog()
    window.tap("Worksheet")
    yield dialog("worksheet")
    window.tap("Equipment grounds: the rule in plain words")
    page.get_by_role("heading", name="By edition").wait_for()
    yield dialog("rule")
    window.close_dialog()
    if page.locator("[data-mode=server]").count():
        page.evaluate(
            (
                "async (id) => { const store = await import('./app.js'); const job = await store.get(id); await "
                "store.save(job, job.sheet.replace('P  > J1', 'P > J1'), 'x'); }"
            ),
            studio,
        )
        window.tap("Add one 12/2")
        page.get_by_role("heading", name="Changed in another window").wait_for()
        yield dialog("conflict")
        window.close_dialog()
    window.page.evaluate("location.hash = '#/j/no-such-job/boxes'")
    page.get_by_role("alert").wait_for()
    yield "not-there"
