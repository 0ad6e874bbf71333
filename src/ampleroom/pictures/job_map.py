"""The job map: places and runs. Laid out as a tree from the panels, so that runs cross little; what closes a loop is dashed."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from ampleroom.job.model import Job, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, shortened, text_width
from ampleroom.quantities import plural
from ampleroom.report import Report
from ampleroom.worksheet import Verdict

ROW = 30.0
COLUMN = 200.0
ARRIVE = 84.0
"""The level stretch before a place, where the run's name is written."""
LEFT = 26.0
TOP = 74.0
ROLE = {Verdict.PASSES: "passes", Verdict.OPEN: "open", Verdict.FAILS: "fails"}
SHAPE = {Verdict.PASSES: "circle", Verdict.OPEN: "diamond", Verdict.FAILS: "square"}


@dataclass(slots=True)
class Node:
    """A place in the tree: how far from a panel, on which row."""

    name: str
    column: int = 0
    row: float = 0.0
    children: list[Node] = field(default_factory=list)


def job_map(report: Report) -> Drawing:
    """Every place and run of a job, with each box's verdict by word and shape."""
    job = report.job
    verdicts = {box.name: box.verdict for box in report.boxes}
    links = links_of(job)
    roots = forest(job, links)
    rows = place(roots)
    nodes = {node.name: node for root in roots for node in walk(root)}
    columns = max((node.column for node in nodes.values()), default=0) + 1
    wide, high = LEFT * 2 + COLUMN * columns, TOP + ROW * max(rows, 1) + 20
    counts = report.counts
    summary = f"{counts[Verdict.FAILS]} fail, {counts[Verdict.OPEN]} not settled, {counts[Verdict.PASSES]} pass"
    drawing = Drawing(max(wide, 560), high, f"Map of {job.title or job.file}", describe(job, verdicts, summary))
    drawing.add(Text(LEFT, 26, shortened(job.title or job.file, wide - 2 * LEFT, 17, True), 17, bold=True))
    drawing.add(Text(LEFT, 44, f"{report.book.title}: {summary}", 11.5, role="faint"))
    legend(drawing)
    drawn: set[tuple[str, str]] = set()
    for parent, child in tree_edges(roots):
        drawn |= {(parent.name, child.name), (child.name, parent.name)}
        draw_run(
            drawing,
            parent,
            child,
            links.get((parent.name, child.name)) or links.get((child.name, parent.name), []),
            False,
        )
    for (one, other), runs in links.items():
        if (one, other) not in drawn and one in nodes and other in nodes:
            drawn |= {(one, other), (other, one)}
            draw_run(drawing, nodes[one], nodes[other], runs, True)
    for node in nodes.values():
        draw_place(drawing, node, verdicts.get(node.name), job)
    return drawing


def links_of(job: Job) -> dict[tuple[str, str], list[Run]]:
    """Runs between each two places next to one another on them."""
    found: dict[tuple[str, str], list[Run]] = {}
    for run in job.runs:
        names = [run.stops[0].name, *(passed.name for passed in run.through), *(stop.name for stop in run.stops[1:])]
        for one, other in pairwise(names):
            if one is not UNKNOWN and other is not UNKNOWN:
                key = (other, one) if (other, one) in found else (one, other)
                found.setdefault(key, []).append(run)
    return found


def forest(job: Job, links: dict[tuple[str, str], list[Run]]) -> list[Node]:
    """A tree from each panel, nearest places first; then one from every place no panel reaches."""
    near: dict[str, list[str]] = {}
    for one, other in links:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    known = [panel.name for panel in job.panels] + [box.name for box in job.boxes] + [e.name for e in job.equipment]
    order = {name: number for number, name in enumerate(known)}
    seen: set[str] = set()
    roots: list[Node] = []
    for name in known:
        if name in seen:
            continue
        root = Node(name)
        roots.append(root)
        seen.add(name)
        queue = [root]
        while queue:
            node = queue.pop(0)
            for other in sorted(near.get(node.name, ()), key=lambda other: order.get(other, 0)):
                if other not in seen:
                    seen.add(other)
                    child = Node(other, node.column + 1)
                    node.children.append(child)
                    queue.append(child)
    return roots


def place(roots: list[Node]) -> int:
    """Rows: leaves one under another, each place in the middle of its children. Returns how many rows there are."""
    row = 0

    def settle(root: Node) -> None:
        nonlocal row
        stack: list[tuple[Node, bool]] = [(root, False)]
        while stack:
            node, done = stack.pop()
            if done:
                node.row = (node.children[0].row + node.children[-1].row) / 2
            elif node.children:
                stack.append((node, True))
                stack += [(child, False) for child in reversed(node.children)]
            else:
                node.row = row
                row += 1

    for root in roots:
        settle(root)
    return row


def walk(root: Node) -> list[Node]:
    found, stack = [], [root]
    while stack:
        node = stack.pop()
        found.append(node)
        stack += node.children
    return found


def tree_edges(roots: list[Node]) -> list[tuple[Node, Node]]:
    return [(node, child) for root in roots for node in walk(root) for child in node.children]


def x_of(node: Node) -> float:
    return LEFT + node.column * COLUMN


def y_of(node: Node) -> float:
    return TOP + node.row * ROW + 12


def draw_run(drawing: Drawing, one: Node, other: Node, runs: list[Run], loops: bool) -> None:
    """A line from one place to the next, with its circuit and cable written where it arrives."""
    circuits = ", ".join(dict.fromkeys(run.circuit for run in runs if run.circuit))
    label = (f"{circuits}: " if circuits else "") + ", ".join(dict.fromkeys(cable_words(run) for run in runs))
    thick = 2.6 if len(runs) > 1 else 1.4
    start = (right_of(one), y_of(one))
    if loops:
        draw_loop(drawing, one, other, start, thick)
        return
    end = (x_of(other) - 8, y_of(other))
    level = (max(start[0] + 12, end[0] - ARRIVE), end[1])
    drawing.add(Line((start, level), "faint", thick, curved=True), Line((level, end), "faint", thick))
    room = end[0] - level[0] - 2
    drawing.add(Text(end[0] - 2, end[1] - 4, shortened(label, room, 8.5), 8.5, "end", role="faint"))


def draw_loop(drawing: Drawing, one: Node, other: Node, start: tuple[float, float], thick: float) -> None:
    """A run that closes a loop: to the left of a place farther out, else around the right of both."""
    if other.column > one.column:
        drawing.add(Line((start, (x_of(other) - 8, y_of(other))), "ink", thick, True, curved=True))
        return
    end = (right_of(other), y_of(other))
    out = max(start[0], end[0]) + 14
    drawing.add(Line((start, (out, start[1]), (out, end[1]), end), "ink", thick, True))


def right_of(node: Node) -> float:
    """Where the name of a place ends."""
    return x_of(node) + min(96.0, 18 + text_width(node.name, 11, True) + 34)


def cable_words(run: Run) -> str:
    if run.cable is None:
        return "wires"
    return run.cable.name.removesuffix(" nm-b")


def draw_place(drawing: Drawing, node: Node, verdict: Verdict | None, job: Job) -> None:
    x, y = x_of(node), y_of(node)
    if verdict is None:
        is_panel = any(panel.name == node.name for panel in job.panels)
        drawing.add(Rect(x - 6, y - 9, 100, 18, "signal", rounded=0 if is_panel else 9))
        drawing.add(Text(x, y + 4, shortened(node.name, 88, 11, True), 11, bold=True))
        return
    drawing.add(Dot(x, y, 6, ROLE[verdict], shape=SHAPE[verdict], filled=verdict is not Verdict.OPEN))
    words = {Verdict.FAILS: "fails", Verdict.OPEN: "?", Verdict.PASSES: ""}[verdict]
    name = shortened(node.name, 80 if not words else 58, 11, True)
    drawing.add(Text(x + 11, y + 4, name, 11, bold=True))
    if words:
        drawing.add(Text(x + 20 + text_width(name, 11, True), y + 4, words, 10, role=ROLE[verdict], bold=True))


def legend(drawing: Drawing) -> None:
    x = LEFT
    for verdict in (Verdict.FAILS, Verdict.OPEN, Verdict.PASSES):
        drawing.add(Dot(x + 5, 58, 5, ROLE[verdict], shape=SHAPE[verdict], filled=verdict is not Verdict.OPEN))
        drawing.add(Text(x + 15, 62, verdict.word, 10.5))
        x += 30 + text_width(verdict.word, 10.5)
    drawing.add(Line(((x, 58), (x + 24, 58)), dashed=True, thick=1.4))
    drawing.add(Text(x + 30, 62, "closes a loop; thick: several runs", 10.5))


def describe(job: Job, verdicts: dict[str, Verdict], summary: str) -> str:
    failing = [name for name, verdict in verdicts.items() if verdict is Verdict.FAILS]
    said = f"{plural(len(job.boxes), 'box', 'boxes')}, {plural(len(job.panels), 'panel')}, {plural(len(job.runs), 'run')}: {summary}."
    return said + (f" Failing: {', '.join(failing)}." if failing else "")
