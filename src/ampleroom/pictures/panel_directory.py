"""The directory of a panel as a picture, to print and put inside its door: two columns of spaces, each with its
circuit, what that serves, its breaker and its wire.
"""

from __future__ import annotations

from ampleroom.pictures.drawing import Drawing, Line, Rect, Text, shortened
from ampleroom.report import Report
from ampleroom.rules.panel.directory import Directory, Entry, directory_of
from ampleroom.worksheet import SubjectReport

MARGIN = 14.0
HALF = 300.0
"""How wide a column is, pixels."""
ROW = 36.0
NUMBER = 34.0
"""How wide the number of a space stands."""
SIZE = 12.0
SMALL = 10.0
GAP = 6.0
ROOMY = 0.9
"""Fonts of other machines run wider than the one measured by."""


def panel_directory(report: Report, subject: SubjectReport, title: bool = True) -> Drawing | None:
    """The directory of a panel, with its name above where ``title``; None where it has no space to show."""
    found = directory_of(report.job, subject.name)
    return drawn(found, title) if found is not None and found.rows else None


def drawn(found: Directory, title: bool) -> Drawing:
    """The picture of a directory."""
    panel, wide = found.panel, 2 * MARGIN + 2 * HALF
    drawing = Drawing(wide, 0, f"Directory of panel {panel.name}", described(found))
    top = MARGIN
    if title:
        parts = (
            f"Panel {panel.name}",
            f"{'/'.join(map(str, panel.volts))} V" if panel.volts else "",
            f"main {panel.main} A" if panel.main else "",
            panel.description,
        )
        heading = shortened(", ".join(part for part in parts if part), (wide - 2 * MARGIN) * ROOMY, 16, True)
        drawing.add(Text(MARGIN, top + 12, heading, 16, bold=True))
        top += 24
    for index, (left, *sides) in enumerate(found.rows):
        for side, entries in enumerate(sides):
            if found.panel.spaces is None or left + side <= found.panel.spaces or entries:
                draw_space(drawing, MARGIN + side * HALF, top + index * ROW, left + side, entries)
    y = top + len(found.rows) * ROW + 14
    for entry in found.unplaced:
        text = f"no space written: {entry.text}"
        drawing.add(Text(MARGIN, y, shortened(text, (wide - 2 * MARGIN) * ROOMY, SMALL), SMALL, role="faint"))
        y += 14
    drawing.high = y
    return drawing


def draw_space(drawing: Drawing, x: float, y: float, number: int, entries: tuple[Entry, ...]) -> None:
    """One space: its number and leg, and who is in it; the halves of a tandem one above the other."""
    drawing.add(Rect(x, y, HALF, ROW, "room"))
    drawing.add(Text(x + NUMBER / 2, y + 16, str(number), SIZE, "middle", bold=True))
    leg = next((entry.leg for entry in entries if entry.leg), "")
    if leg:
        drawing.add(Text(x + NUMBER / 2, y + 29, leg, SMALL, "middle", role="faint"))
    drawing.add(Line(((x + NUMBER, y), (x + NUMBER, y + ROW)), "faint", 0.7))
    room = (HALF - NUMBER - 2 * GAP) * ROOMY
    left = x + NUMBER + GAP
    if len(entries) > 1:
        drawing.add(Line(((x + NUMBER, y + ROW / 2), (x + HALF, y + ROW / 2)), "faint", 0.7, True))
        for place, entry in enumerate(entries[:2]):
            text = f"{entry.space[-1:] if entry.space[-1:] in 'ab' else '!'}  {entry.text}"
            drawing.add(Text(left, y + 13 + place * ROW / 2, shortened(text, room, SMALL), SMALL))
        return
    for entry in entries:
        half = f"{entry.space[-1]}  " if entry.space[-1] in "ab" else ""
        if not entry.is_first:
            drawing.add(Text(left, y + 22, shortened(half + entry.text, room, SMALL), SMALL, role="faint"))
            return
        head = f"{half}{entry.circuit}  {entry.serves}".rstrip()
        below = ", ".join(part for part in (entry.breaker, entry.wire) if part)
        drawing.add(Text(left, y + 15, shortened(head, room, SIZE, True), SIZE, bold=True))
        drawing.add(Text(left, y + 29, shortened(below, room, SMALL), SMALL))


def described(found: Directory) -> str:
    """The same in words, for those who do not see it."""
    placed = [each for _, left, right in found.rows for each in (*left, *right) if each.is_first]
    texts = [f"space {each.space}: {each.text}" for each in placed]
    return f"Directory of panel {found.panel.name}. {'; '.join(texts) or 'No circuit is placed'}."


__all__ = ["panel_directory"]
