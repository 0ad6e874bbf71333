"""The room picture: a box's volume as a rectangle to scale, every allowance a tile of its true area, in the worksheet's
order.

The room is as wide as it is drawn and as high as its volume asks for. Each line of the worksheet is a row of tiles, one
tile an allowance; what does not fit stands below the room's edge, hatched.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.arithmetic import Counted, Unit
from ampleroom.arithmetic import Line as SheetLine
from ampleroom.pictures.drawing import Drawing, Line, Rect, Text, shortened, text_width, wrapped
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES
from ampleroom.words import BEST_CASE, WORST_CASE, capital, lowered, margin_text
from ampleroom.worksheet import Finding, Verdict, Worksheet

WIDE = 220.0
"""Width of the drawn room, pixels."""
LABELS = 330.0
"""Width of the column of words beside it."""
MARGIN = 14.0
HIGHEST = 420.0
"""No room is drawn higher than this, nor lower than LOWEST; all in one picture share one scale."""
LOWEST = 150.0
LABEL_STEP = 30.0
NARROWEST = 3.0
"""A tile narrower than this, in pixels, is not drawn: its whole row is one."""
OUTLINE = 130.0
OUTLINE_SCALE = 0.44
"""The outline is narrower, and smaller in area, than the picture with words."""
BAR, BAR_TOP, BAR_HIGH, BAR_EDGE, BAR_TEXT = 328.0, 24.0, 36.0, 3.0, 15.0
"""Of the picture that lies down: width, top and height of the bar, room at its ends, and the size of its words,
pixels."""
BAR_SLACK = 1.25
"""How much wider than reckoned the words may be in another font."""
GAP = 9.0
"""How far below the room's edge stands what does not fit."""

VERDICT_ROLE = {Verdict.PASSES: "passes", Verdict.ADVICE: "advice", Verdict.OPEN: "open", Verdict.FAILS: "fails"}


class Tile(Record):
    """One allowance, or a part of one: where it lies, and whether it is past the room's edge."""

    line: int
    x: float
    y: float
    wide: float
    high: float
    over: bool

    @property
    def area(self) -> float:
        """Its area, square points."""
        return self.wide * self.high


def role_of(rule: str) -> str:
    """The role of a rule's lines, as the rule says it; lines of a rule that says none are drawn as conductors."""
    return (RULES[rule].drawn_as if rule in RULES else "") or "conductors"


def scale_for(sheets: list[Worksheet]) -> float:
    """Pixels of area for one in3, so that the highest room or fill of several fits, and a small one can still be
    read.
    """
    tallest = max((max(finite(sheet.there), finite(sheet.needed)) for sheet in sheets), default=1.0) or 1.0
    by_height = HIGHEST * WIDE / tallest
    most = max((len(shown(sheet)) for sheet in sheets), default=1)
    wanted = max(LOWEST, most * 16.0) * WIDE / tallest
    return min(by_height, max(wanted, HIGHEST * WIDE / 40)) if tallest < 40 else by_height


def finite(value: Decimal) -> float:
    """A number to draw; 0 for one without limit."""
    return float(value) if value.is_finite() else 0.0


def shown(sheet: Worksheet) -> list[SheetLine]:
    """Lines that take room; those that count nothing are only in the words."""
    return [line for line in sheet.need if line.amount > 0]


def tiles(sheet: Worksheet, scale: float, wide: float = WIDE) -> list[Tile]:
    """Every tile of a worksheet, no two overlapping, each of its allowance's true area."""
    laid: list[Tile] = []
    edge = max(finite(sheet.there), 0.0) * scale / wide if sheet.there.is_finite() else float("inf")
    y = 0.0
    for index, line in enumerate(sheet.need):
        if line.amount <= 0 or not line.amount.is_finite():
            continue
        high = float(line.amount) * scale / wide
        for x, part in parts_of(line, wide):
            for top, bottom in split(y, y + high, edge):
                laid.append(Tile(index, x, top, part, bottom - top, top >= edge - 1e-9))
        y += high
    return laid


def parts_of(line: SheetLine, wide: float) -> list[tuple[float, float]]:
    """Where each allowance of a line begins in its row, and how wide it is: whole ones, then what is left of one.

    A line that is no count of allowances is one.
    """
    if not isinstance(line, Counted):
        return [(0.0, wide)]
    number_of = float(line.count)
    if number_of * NARROWEST > wide:
        return [(0.0, wide)]
    tile_width = wide / number_of
    whole = int(number_of)
    parts = [(tile_width * place, tile_width) for place in range(whole)]
    if number_of - whole > 1e-9:
        parts.append((tile_width * whole, wide - tile_width * whole))
    return parts


def split(top: float, bottom: float, edge: float) -> list[tuple[float, float]]:
    """A row cut where the room ends."""
    if top < edge - 1e-9 < bottom - 1e-9 and edge < bottom - 1e-9:
        return [(top, edge), (edge, bottom)]
    return [(top, bottom)]


# ---- the picture ---------------------------------------------------------------------------------------------------


def room_picture(finding: Finding) -> Drawing:
    """One space: its room and what is in it; where facts are unknown the worst and the best case side by side."""
    cases = cases_of(finding)
    scale = scale_for([sheet for _, sheet in cases])
    columns = [
        room_column(title, sheet, scale, finding.verdict, room_is_unread(finding, sheet)) for title, sheet in cases
    ]
    wide = sum(column.wide for column in columns) + MARGIN * (len(columns) + 1)
    message = wrapped(finding.message, wide - 2 * MARGIN, 11)
    top = 41 + 13 * len(message)
    high = max(column.high for column in columns) + top + 8
    drawing = Drawing(wide, high, f"Fill of {finding.subject}", describe(finding, cases))
    drawing.add(
        Text(MARGIN, 24, shortened(finding.subject, wide - 2 * MARGIN - 120, 16, True), 16, bold=True),
        Text(wide - MARGIN, 24, finding.verdict.word.upper(), 14, "end", True, VERDICT_ROLE[finding.verdict]),
        *(Text(MARGIN, 42 + 13 * place, text, 11, role="faint") for place, text in enumerate(message)),
    )
    x = MARGIN
    for column in columns:
        drawing.put(column, x, top)
        x += column.wide + MARGIN
    return drawing


def room_outline(finding: Finding) -> Drawing:
    """The same without the words: every row has the number of its line in the worksheet beside it."""
    cases = cases_of(finding)
    scale = scale_for([sheet for _, sheet in cases]) * OUTLINE_SCALE
    space = finding.subject.partition("/")[2]
    columns = [
        outline_column(f"{space}, {title.lower()}" if space and title else space or title, sheet, scale)
        for title, sheet in cases
    ]
    wide = sum(column.wide for column in columns) + MARGIN * (len(columns) - 1)
    drawing = Drawing(
        wide, max(column.high for column in columns), f"Fill of {finding.subject}", describe(finding, cases)
    )
    x = 0.0
    for column in columns:
        drawing.put(column, x, 0)
        x += column.wide + MARGIN
    return drawing


def outline_column(title: str, sheet: Worksheet, scale: float) -> Drawing:
    """One case as an outline of the box with what fills it; ``scale`` is square points for 1 in3."""
    top = 18.0 if title else 2.0
    laid = tiles(sheet, scale, OUTLINE)
    known = sheet.there.is_finite()
    fill_high = max((drawn_y(tile) + tile.high for tile in laid), default=0.0)
    room_high = max(finite(sheet.there), 0.0) * scale / OUTLINE if known else fill_high + 20
    drawing = Drawing(OUTLINE + 34, top + max(room_high, fill_high) + 22, title, "")
    if title:
        drawing.add(Text(0, 12, shortened(title, OUTLINE + 34, 12, True), 12, bold=True))
    drawing.add(Rect(0, top, OUTLINE, room_high, "room", dashed=not known))
    for tile in laid:
        role = role_of(sheet.need[tile.line].rule)
        drawing.add(Rect(tile.x, top + drawn_y(tile), tile.wide, tile.high, role, hatched=tile.over))
    y = top
    for line, middle in sorted(row_middles(laid).items()):
        y = max(y + 11, top + middle + 4)
        drawing.add(
            Line(((OUTLINE, top + middle), (OUTLINE + 12, y - 4)), "faint"),
            Text(OUTLINE + 16, y, str(line + 1), 11, bold=True),
        )
    drawing.add(Line(((0, top + room_high), (OUTLINE, top + room_high)), thick=3, dashed=not known))
    drawing.add(Text(0, drawing.high - 6, margin_text(sheet), 12, bold=True))
    return drawing


def room_bar(finding: Finding) -> Drawing:
    """The room lying down, to scale, for a narrow screen: a mark an in3, a tile an allowance, a stop where the box
    ends.

    Facts not known are at their worst; what depends on them is dashed.
    """
    sheet, best = finding.worst, finding.best
    drawing = Drawing(BAR, 88, f"Fill of {finding.subject}", describe(finding, cases_of(finding)))
    if sheet is None:
        return drawing
    certain = {line.label: line.amount for line in (best or sheet).need}
    known = sheet.there.is_finite() and not room_is_unread(finding, sheet)
    finite_need = sum((line.amount for line in sheet.need if line.amount.is_finite()), Decimal(0))
    most = max(finite(sheet.there), float(finite_need), 1.0) * (1.0 if sheet.needed.is_finite() else 1.25)
    scale = (BAR - 2 * BAR_EDGE) / most
    edge = BAR_EDGE + (finite(sheet.there) if known else most) * scale
    drawing.add(Rect(BAR_EDGE, BAR_TOP, edge - BAR_EDGE, BAR_HIGH, "room", dashed=not known))
    x = BAR_EDGE
    for line in sheet.need:
        if line.amount <= 0:
            continue
        wide = float(line.amount) * scale if line.amount.is_finite() else max(BAR - BAR_EDGE - x, 8.0)
        unsure = certain.get(line.label) != line.amount
        for offset, part in parts_of(line, wide) if line.amount.is_finite() else [(0.0, wide)]:
            over = known and x + offset + part > edge + 0.01
            drawing.add(
                Rect(x + offset, BAR_TOP + 2, part, BAR_HIGH - 4, role_of(line.rule), hatched=over, dashed=unsure)
            )
        x += wide
    foot = BAR_TOP + BAR_HIGH
    drawing.add(Line(((BAR_EDGE, foot), (BAR - BAR_EDGE, foot)), thick=2))
    step = 1
    while most > 60 * step:  # closer together, their numbers would run into each other
        step *= 10
    for mark in range(0, int(most) + 1, step):
        at, is_long = BAR_EDGE + mark * scale, mark % (5 * step) == 0
        drawing.add(Line(((at, foot), (at, foot + (7 if is_long else 4)))))
    unit = sheet.unit.plain
    volume_text = f"box {sheet.unit.number(sheet.there)} {unit}" if known else "box not known"
    room_wide = text_width(volume_text, BAR_TEXT, True)
    if known:
        drawing.add(Line(((edge, BAR_TOP - 5), (edge, foot + 9)), thick=4))
    is_last = edge + room_wide * BAR_SLACK / 2 > BAR - 2  # then its words end at the picture's edge, in whatever font
    left = BAR - 2 - room_wide * BAR_SLACK if is_last else edge - room_wide / 2
    drawing.add(Text(BAR - 2 if is_last else left, 86, volume_text, BAR_TEXT, "end" if is_last else "start", bold=True))
    for mark in range(5 * step, int(most) + 1, 5 * step):
        at = BAR_EDGE + mark * scale
        if at + 12 < left or at - 12 > left + room_wide * BAR_SLACK:
            drawing.add(Text(at, 86, str(mark), BAR_TEXT, "middle", role="faint"))
    if x > BAR_EDGE:
        fill_text = f"fill {sheet.unit.number(sheet.needed)}" if sheet.needed.is_finite() else "fill not known"
        wide = text_width(fill_text, BAR_TEXT, True)
        fits = x > wide * BAR_SLACK
        drawing.add(
            Text(min(x, BAR - 2) if fits else 2.0, 15, fill_text, BAR_TEXT, "end" if fits else "start", bold=True)
        )
    return drawing


def cases_of(finding: Finding) -> list[tuple[str, Worksheet]]:
    """The cases of a finding to draw, each with its title; none where nothing is judged."""
    if finding.worst is None:
        return []
    if finding.best is None:
        return [("", finding.worst)]
    return [(capital(WORST_CASE), finding.worst), (capital(BEST_CASE), finding.best)]


def room_is_unread(finding: Finding, sheet: Worksheet) -> bool:
    """Whether a room that is counted with a number has it only because nobody knows better: in the best case it has no
    bound.
    """
    return finding.best is not None and not finding.best.there.is_finite() and sheet.there.is_finite()


def before_and_after(before: Finding, after: Finding, action: str) -> Drawing:
    """A remedy: the room as it is and as it would be, to one scale."""
    first = before.worksheet or before.worst
    second = after.worksheet or after.worst
    assert first is not None
    assert second is not None
    scale = scale_for([first, second])
    columns = [
        room_column("As it is", first, scale, before.verdict),
        room_column("With this fix", second, scale, after.verdict),
    ]
    wide = sum(column.wide for column in columns) + 3 * MARGIN
    high = max(column.high for column in columns) + 62
    drawing = Drawing(
        wide, high, f"{before.subject} before and after: {action}", f"{before.message}. After: {after.message}."
    )
    drawing.add(Text(MARGIN, 24, shortened(f"{before.subject}: {action}", wide - 2 * MARGIN, 15, True), 15, bold=True))
    drawing.put(columns[0], MARGIN, 54)
    drawing.put(columns[1], columns[0].wide + 2 * MARGIN, 54)
    return drawing


def room_column(title: str, sheet: Worksheet, scale: float, verdict: Verdict, is_unread: bool = False) -> Drawing:
    """One rectangle with its tiles, and its words beside it, each led to its row. ``is_unread``: its room is a
    guess.
    """
    top = 22.0 if title else 4.0
    laid = tiles(sheet, scale)
    known = sheet.there.is_finite()
    fill_high = max((drawn_y(tile) + tile.high for tile in laid), default=0.0)
    room_high = max(finite(sheet.there), 0.0) * scale / WIDE if known else max(fill_high, 36.0) + 24
    drawing = Drawing(WIDE + LABELS, 0, title, "")
    if title:
        drawing.add(Text(0, 14, title, 13, bold=True))
    drawing.add(Rect(0, top, WIDE, room_high, "room", dashed=not known))
    for tile in laid:
        line = sheet.need[tile.line]
        role = role_of(line.rule)
        takes = f"{line.unit.amount(line.each)} each" if isinstance(line, Counted) else line.text
        note = f"{line.label}: {takes}"
        drawing.add(Rect(tile.x, top + drawn_y(tile), tile.wide, tile.high, role, hatched=tile.over, note=note))
    rows = row_middles(laid)
    drawing.add(
        Line(((0, top + room_high), (WIDE, top + room_high)), thick=3 if fill_high > room_high else 2, dashed=not known)
    )
    if known and room_high - fill_high > 14:
        drawing.add(
            Text(
                WIDE / 2,
                top + (fill_high + room_high) / 2 + 4,
                margin_text(sheet),
                11,
                "middle",
                role="faint",
            )
        )
    there = (
        f"{lowered(sheet.purpose.have)} "
        f"{'not known, worst case ' if is_unread else ''}{amount(sheet.there, sheet.unit)}"
    )
    bottom = label_rows(
        drawing, sheet, rows, top, there if known else f"{lowered(sheet.purpose.have)} not known", verdict
    )
    drawing.high = max(top + max(room_high, fill_high), bottom) + 10
    return drawing


def drawn_y(tile: Tile) -> float:
    """Where a tile is drawn: past the room's edge with a gap, so that it is seen to be outside."""
    return tile.y + GAP if tile.over else tile.y


def row_middles(laid: list[Tile]) -> dict[int, float]:
    """For every line that takes room, the middle of its row."""
    spans: dict[int, tuple[float, float]] = {}
    for tile in laid:
        low, high = spans.get(tile.line, (drawn_y(tile), drawn_y(tile)))
        spans[tile.line] = (min(low, drawn_y(tile)), max(high, drawn_y(tile) + tile.high))
    return {line: (low + high) / 2 for line, (low, high) in spans.items()}


def label_rows(
    drawing: Drawing,
    sheet: Worksheet,
    rows: dict[int, float],
    top: float,
    there: str,
    verdict: Verdict,
) -> float:
    """The words: each line of fill level with its row where there is room, in order, joined to it by a thin line."""
    x = WIDE + 34
    room = LABELS - 36
    y = top + 8
    for index, line in enumerate(sheet.need):
        middle = rows.get(index)
        if middle is not None:
            y = max(y, top + middle - 4)
            drawing.add(Line(((WIDE, top + middle), (WIDE + 14, top + middle), (WIDE + 30, y)), "faint"))
        named = wrapped(line.label, room, 11.5, True, 2)
        for text in named:
            drawing.add(Text(x, y + 4, text, 11.5, bold=True))
            y += 13
        sum_words = line.text
        drawing.add(Text(x, y + 4, shortened(f"{sum_words} · {line.cite}", room, 10.5), 10.5, role="faint"))
        y += LABEL_STEP - 13
    y = max(y, top + 10)
    drawing.add(Line(((x, y - 3), (x + room, y - 3)), "faint"))
    drawing.add(
        Text(x, y + 14, there, 11.5),
        Text(x, y + 28, f"{lowered(sheet.purpose.need)} {amount(sheet.needed, sheet.unit)}", 11.5),
        Text(x, y + 42, margin_text(sheet), 11.5, bold=True, role=VERDICT_ROLE[verdict]),
    )
    y += 42
    for line in sheet.have:
        y += 13
        drawing.add(Text(x, y, shortened(f"{line.label}: {line.printed}", room, 10.5), 10.5, role="faint"))
    return y + 6


def amount(value: Decimal, unit: Unit) -> str:
    """``21.00 in3``, ``0.12 in2``."""
    return unit.amount(value)


def count_words(line: SheetLine) -> str:
    """``4 of 2.25``; of a line that counts no allowances its sum."""
    return f"{line.times} of {line.unit.number(line.each)}" if isinstance(line, Counted) else line.text


def describe(finding: Finding, cases: list[tuple[str, Worksheet]]) -> str:
    """The picture in words, line by line."""
    sentences = [finding.message + "."]
    for title, sheet in cases:
        lines = "; ".join(f"{line.label}, {count_words(line)}" for line in sheet.need if line.amount > 0)
        sentences.append(
            f"{title + ': ' if title else ''}{lowered(sheet.purpose.have)} {amount(sheet.there, sheet.unit)}; "
            f"{lines or 'nothing in it'}."
        )
    return " ".join(sentences)


__all__ = ["Tile", "before_and_after", "room_picture", "scale_for", "text_width", "tiles"]
