"""The job map: places and runs. Laid out as a tree from the panels, so that runs cross little; what closes a loop is
dashed.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise

from ampleroom.job.lines.runs import raceways_text
from ampleroom.job.model import Job, Run, Wireway
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, shortened, text_width
from ampleroom.quantities import plural
from ampleroom.record import Record
from ampleroom.report import Report
from ampleroom.worksheet import Verdict

ROW = 32.0
LEFT = 26.0
TOP = 84.0
BEND = 34.0
"""Room for the curves between the names of one column and the level stretches before the next."""
MOST_NAME = 190.0
MOST_LABEL = 130.0
"""Wider names of places and of runs are cut."""
MOST_SUBTITLE = 1000.0
"""The map grows to the width of its subtitle, points, up to this; a longer one is cut."""
ROOMY = 1.12
"""Fonts of other machines run wider than the one measured by."""
LANE = 7.0
"""Between two dashed lines that stand side by side."""
SWEEPS = 4
"""How often the rows are put in order again to shorten the dashed lines."""
ROLE = {Verdict.PASSES: "passes", Verdict.ADVICE: "advice", Verdict.OPEN: "open", Verdict.FAILS: "fails"}
SHAPE = {Verdict.PASSES: "circle", Verdict.ADVICE: "triangle", Verdict.OPEN: "diamond", Verdict.FAILS: "square"}
WORD = {Verdict.PASSES: "", Verdict.ADVICE: "advice", Verdict.OPEN: "?", Verdict.FAILS: "fails"}

TONES = ("circuit-1", "circuit-2", "circuit-3")

Link = tuple[str, str]


class Node:
    """A place in the tree: how far from a panel, on which row. No two are the same, so a node can be a key."""

    __slots__ = ("arriving", "children", "column", "is_open_end", "name", "row")

    def __init__(self, name: str, column: int = 0, arriving: Iterable[Run] = (), is_open_end: bool = False) -> None:
        self.name = name
        self.column = column
        self.row = 0.0
        self.children: list[Node] = []
        self.arriving = list(arriving)
        """The runs that lead here from the node before it."""
        self.is_open_end = is_open_end
        """Nobody knows what is at the end of the run that leads here."""


class Layout:
    """Where everything stands: the tree, each column's left edge, and how wide a name and the label before it may
    be.
    """

    __slots__ = ("arrive", "edges", "loops", "panels", "roots", "tones", "verdicts")

    def __init__(self, roots: list[Node], verdicts: dict[str, Verdict], panels: set[str]) -> None:
        self.roots = roots
        self.verdicts = verdicts
        self.panels = panels
        self.edges: list[float] = []
        """Left edge of each column, points."""
        self.arrive: list[float] = []
        """Width of the labels that arrive in each column, points."""
        self.tones: dict[str, str] = {}
        """The tone of each circuit's lines, by the circuit."""
        self.loops: list[tuple[Node, Node, list[Run]]] = []
        """What is not in the tree: two places and the runs between them."""

    @property
    def nodes(self) -> list[Node]:
        """Every place on the map, roots first."""
        return [node for root in self.roots for node in walk(root)]

    def x(self, node: Node) -> float:
        """Left edge of a place, points."""
        return self.edges[node.column]

    def y(self, node: Node) -> float:
        """Middle line of a place, points."""
        return TOP + node.row * ROW + 12

    def right(self, node: Node) -> float:
        """Where what is written of a place ends."""
        return self.x(node) + self.wide(node)

    def wide(self, node: Node) -> float:
        """Width of a place with its name and verdict, points."""
        name = min(text_width(node.name, 11, True), MOST_NAME)
        verdict = self.verdicts.get(node.name)
        if node.is_open_end:
            return 12
        if verdict is None:
            return max(name + 12, 40)
        word = WORD[verdict]
        return 11 + name + (8 + text_width(word, 10, True) if word else 0) + 6


def job_map(report: Report) -> Drawing:
    """Every place and run of a job, with each box's verdict by word and shape."""
    return job_map_with_places(report)[0]


class PlaceDrawn(Record):
    """Where a place stands on the map: left, top, width and height, points."""

    name: str
    x: float
    y: float
    wide: float
    high: float


def job_map_with_places(report: Report) -> tuple[Drawing, list[PlaceDrawn]]:
    """The map, and where each place stands on it, in the order they are drawn."""
    job = report.job
    layout = layout_of(report)
    nodes = layout.nodes
    summary = report.counts_text
    if report.not_judged:
        summary += f"; {report.not_judged_text[0].lower()}{report.not_judged_text[1:]}"
    title = job.title or job.file
    rows = max((node.row for node in nodes), default=0.0) + 1
    subtitle = f"{report.book.title}: {summary}" + (" · all runs of a circuit in one tone" if layout.tones else "")
    least = min(text_width(subtitle, 11.5) * ROOMY + 2 * LEFT, MOST_SUBTITLE)
    wide = max([560.0, least, *(layout.right(node) + LEFT + 90 for node in nodes)])
    drawing = Drawing(wide, TOP + ROW * rows + 16, f"Map of {title}", describe(job, layout.verdicts, summary))
    drawing.add(Text(LEFT, 26, shortened(title, wide - 2 * LEFT, 17, True), 17, bold=True))
    drawing.add(Text(LEFT, 45, shortened(subtitle, wide - 2 * LEFT, 11.5), 11.5, role="faint"))
    legend(drawing, layout.verdicts.values())
    for parent in nodes:
        for child in parent.children:
            draw_run(drawing, layout, parent, child)
    draw_loops(drawing, layout)
    for node in nodes:
        draw_place(drawing, layout, node)
    places = [
        PlaceDrawn(node.name, layout.x(node), layout.y(node) - ROW / 2, layout.wide(node), ROW)
        for node in nodes
        if not node.is_open_end
    ]
    return drawing, places


# ---- the tree ------------------------------------------------------------------------------------------------------


def verdicts_of(report: Report) -> dict[str, Verdict]:
    """The verdict of each place: the worst of the subjects of that name."""
    verdicts: dict[str, Verdict] = {}
    for subject in report.subjects:
        verdicts[subject.name] = max(subject.verdict, verdicts.get(subject.name, Verdict.PASSES))
    return verdicts


def layout_of(report: Report) -> Layout:
    """Where each place of a job goes, and which runs close a loop."""
    job = report.job
    links = links_of(job)
    roots = forest(job, links)
    layout = Layout(roots, verdicts_of(report), {panel.name for panel in job.panels})
    by_name = {node.name: node for node in layout.nodes}
    drawn: set[Link] = set()
    for parent in layout.nodes:
        for child in parent.children:
            drawn |= {(parent.name, child.name), (child.name, parent.name)}
            child.arriving = runs_between(links, parent.name, child.name)
    for (start, end), runs in links.items():
        if (start, end) not in drawn and start in by_name and end in by_name:
            layout.loops.append((by_name[start], by_name[end], runs))
    for name, run in open_ends(job):
        node = Node("?", by_name[name].column + 1, arriving=[run], is_open_end=True)
        by_name[name].children.append(node)
    place(roots)
    put_in_order(layout)
    set_columns(layout)
    set_tones(layout)
    return layout


def set_tones(layout: Layout) -> None:
    """Circuits take the tones in turn as they are met from the top down, so that neighbors differ."""
    drawn = [node.arriving for node in layout.nodes] + [runs for _, _, runs in layout.loops]
    for circuit in filter(None, map(circuit_of, drawn)):
        layout.tones.setdefault(circuit, TONES[len(layout.tones) % len(TONES)])


def circuit_of(runs: list[Run]) -> str:
    """The one circuit of the runs between two places; empty where there are several or none."""
    circuits = {run.circuit for run in runs}
    return circuits.pop() if len(circuits) == 1 else ""


def links_of(job: Job) -> dict[Link, list[Run]]:
    """Runs between each two places next to one another on them."""
    links: dict[Link, list[Run]] = {}
    for run in job.runs:
        for start, end in pairwise(along(run, job)):
            if start != "?" and end != "?":
                key = (end, start) if (end, start) in links else (start, end)
                links.setdefault(key, []).append(run)
    return links


def along(run: Run, job: Job) -> list[str]:
    """The places of a run, in order, with the wireways it lies in; ``?`` where nobody knows it."""
    stops = ["?" if stop.name is UNKNOWN else str(stop.name) for stop in run.stops]
    places = [stops[0], *(passed.name for passed in run.through), *stops[1:]]
    for wireway in wireways_of(run, job):
        if wireway.name not in places:
            places.insert(where_in(places, wireway.ends), wireway.name)
    return places


def wireways_of(run: Run, job: Job) -> Iterator[Wireway]:
    """The wireways and gutters a run lies in, in order: those it names, and those a raceway of it ends at."""
    if not job.wireways or not run.raceways:
        return
    by_name = {wireway.name.casefold(): wireway for wireway in job.wireways}
    ends = {raceway.name.casefold(): raceway.ends for raceway in job.raceways}
    for raceway in run.raceways:
        for name in (raceway.name, *ends.get(raceway.name.casefold(), ())):
            if name.casefold() in by_name:
                yield by_name[name.casefold()]


def where_in(places: list[str], ends: tuple[str, ...]) -> int:
    """Where a wireway stands among the places of a run: between those it joins, else behind the one it is at or the
    last of them, else before the end.
    """
    named = {end.casefold() for end in ends}
    meets = [number for number, place in enumerate(places[:-1]) if place.casefold() in named]
    return meets[0] + 1 if meets else len(places) - 1


def open_ends(job: Job) -> list[tuple[str, Run]]:
    """A place and a run that goes on from it to nobody knows where."""
    ends = []
    for run in job.runs:
        for start, end in pairwise(along(run, job)):
            if (start == "?") != (end == "?"):
                ends.append((end if start == "?" else start, run))
    return ends


def runs_between(links: dict[Link, list[Run]], start: str, end: str) -> list[Run]:
    """The runs that join two places, in either direction."""
    return links.get((start, end)) or links.get((end, start), [])


def forest(job: Job, links: dict[Link, list[Run]]) -> list[Node]:
    """A tree from each panel, nearest places first; then one from every place no panel reaches."""
    near: dict[str, list[str]] = {}
    for start, end in links:
        near.setdefault(start, []).append(end)
        near.setdefault(end, []).append(start)
    known = [panel.name for panel in job.panels] + [box.name for box in job.boxes] + [e.name for e in job.equipment]
    known += [wireway.name for wireway in job.wireways]
    written = set(known)  # a half-written sheet has runs to boxes that are not in it yet: they are places all the same
    known += [name for run in job.runs for name in along(run, job) if name != "?" and name not in written]
    known = list(dict.fromkeys(known))
    order = {name: rank for rank, name in enumerate(known)}
    seen: set[str] = set()
    roots: list[Node] = []
    for name in known:
        if name in seen:
            continue
        roots.append(Node(name))
        seen.add(name)
        queue = deque([roots[-1]])
        while queue:
            node = queue.popleft()
            for end in sorted(near.get(node.name, ()), key=lambda other: order.get(other, 0)):
                if end not in seen:
                    seen.add(end)
                    child = Node(end, node.column + 1)
                    node.children.append(child)
                    queue.append(child)
    return roots


def place(roots: list[Node]) -> None:
    """Rows: leaves one under another, each place in the middle of its children."""
    row = 0
    for root in roots:
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


def walk(root: Node) -> list[Node]:
    """A place and all beyond it, from the panel outward."""
    nodes, stack = [], [root]
    while stack:
        node = stack.pop()
        nodes.append(node)
        stack += reversed(node.children)
    return nodes


def put_in_order(layout: Layout) -> None:
    """Brothers that a loop draws together are put next to one another, as long as that shortens the loops."""
    if not layout.loops:
        return
    for _ in range(SWEEPS):
        before = loop_length(layout)
        kept = [(node, list(node.children)) for node in layout.nodes if len(node.children) > 1]
        pulls = pulls_of(layout)
        for node, children in kept:
            node.children = sorted(children, key=lambda child: pulls.get(child, child.row))
        place(layout.roots)
        if loop_length(layout) >= before:
            for node, children in kept:
                node.children = children
            place(layout.roots)
            return


def loop_length(layout: Layout) -> float:
    """How many rows all loops span together: the fewer, the clearer."""
    return sum(abs(start.row - end.row) for start, end, _ in layout.loops)


def pulls_of(layout: Layout) -> dict[Node, float]:
    """For every place with a loop in it or beyond it: the middle of the rows that its loops lead to."""
    partners: dict[Node, list[float]] = {}
    for start, end, _ in layout.loops:
        partners.setdefault(start, []).append(end.row)
        partners.setdefault(end, []).append(start.row)
    beyond: dict[Node, list[float]] = {}
    for node in reversed(layout.nodes):
        rows = [row for child in node.children for row in beyond.get(child, [])] + partners.get(node, [])
        if rows:
            beyond[node] = rows
    return {node: sum(rows) / len(rows) for node, rows in beyond.items()}


def set_columns(layout: Layout) -> None:
    """Each column as wide as its names, and before it as wide as the labels of the runs that arrive there."""
    columns: list[list[Node]] = []
    for node in layout.nodes:
        while len(columns) <= node.column:
            columns.append([])
        columns[node.column].append(node)
    labels: list[list[str]] = [[label_of(node.arriving) for node in nodes] for nodes in columns]
    for start, end, runs in layout.loops:
        labels[max(start.column, end.column)].append(label_of(runs))
    x = LEFT
    for column, nodes in enumerate(columns):
        widest = max(text_width(label, 8.5) for label in labels[column])
        arrive = min(widest + 14, MOST_LABEL) if column else 0.0
        x += arrive
        layout.edges.append(x)
        layout.arrive.append(arrive)
        x += max(layout.wide(node) for node in nodes) + BEND


# ---- drawing it ----------------------------------------------------------------------------------------------------


def label_of(runs: list[Run]) -> str:
    """The circuits and the cables of the runs between two places."""
    circuits = ", ".join(dict.fromkeys(run.circuit for run in runs if run.circuit))
    cables = ", ".join(dict.fromkeys(cable_words(run) for run in runs))
    return f"{circuits}: {cables}" if circuits else cables


def cable_words(run: Run) -> str:
    """``2 x 12/2``: what a run is, in a few words."""
    if run.cable is None:
        return f"wires in {raceways_text(run)}" if run.raceways else "wires"
    times = "" if run.count == 1 else f"{'?' if run.count is UNKNOWN else run.count} x "
    return times + run.cable.name.removesuffix(" nm-b")


def draw_run(drawing: Drawing, layout: Layout, from_node: Node, to_node: Node) -> None:
    """A line from one place to the next, with its circuit and cable written where it arrives."""
    runs = to_node.arriving
    thick = 2.6 if len(runs) > 1 else 1.4
    start, end = (layout.right(from_node) - 2, layout.y(from_node)), (layout.x(to_node) - 8, layout.y(to_node))
    level = (layout.x(to_node) - layout.arrive[to_node.column], end[1])
    tone = layout.tones.get(circuit_of(runs), "faint")
    drawing.add(Line((start, level), tone, thick, curved=True), Line((level, end), tone, thick))
    label = shortened(label_of(runs), end[0] - level[0] - 2, 8.5)
    drawing.add(Text(end[0] - 2, end[1] - 4, label, 8.5, "end", role="faint"))


def draw_loops(drawing: Drawing, layout: Layout) -> None:
    """Runs that close a loop, dashed: into a place farther out from below, else around the right of both, each in its
    lane.
    """
    lanes: dict[int, list[tuple[float, float, int]]] = {}
    beside: list[tuple[Node, Node, str, int]] = []
    for from_node, to_node, runs in layout.loops:
        first, last = sorted((from_node, to_node), key=lambda node: (node.column, node.row))
        if last.column > first.column:
            draw_forward(drawing, layout, first, last, label_of(runs))
            continue
        taken = lanes.setdefault(last.column, [])
        lane = next(
            n for n in range(len(taken) + 1) if all(n != k or last.row < a or b < first.row for a, b, k in taken)
        )
        taken.append((first.row, last.row, lane))
        beside.append((first, last, label_of(runs), lane))
    for first, last, label, lane in beside:
        start, end = (layout.right(first), layout.y(first) + 4), (layout.right(last), layout.y(last) - 4)
        edge = max(start[0], end[0]) + 8
        out = edge + LANE * lane
        drawing.add(Line((start, (out, start[1]), (out, end[1]), end), "ink", 1.2, True))
        most = edge + LANE * max(lane for _, _, lane in lanes[last.column])
        drawing.add(Text(most + 4, layout.y(last) + 13, shortened(label, MOST_LABEL, 8.5), 8.5, role="faint"))


def draw_forward(drawing: Drawing, layout: Layout, first: Node, last: Node, label: str) -> None:
    """Draws a run that goes on to a later column, dashed."""
    y = layout.y(last) + 6
    level, end = (layout.x(last) - layout.arrive[last.column], y), (layout.x(last) - 5, y)
    start = (layout.right(first) - 2, layout.y(first) + (3 if last.row > first.row else -3))
    drawing.add(Line((start, level), "ink", 1.2, True, curved=True), Line((level, end), "ink", 1.2, True))
    drawing.add(Text(end[0] - 5, y + 9, shortened(label, end[0] - level[0] - 6, 8.5), 8.5, "end", role="faint"))


def draw_place(drawing: Drawing, layout: Layout, node: Node) -> None:
    """Draws a place with its name and its verdict."""
    x, y = layout.x(node), layout.y(node)
    if node.is_open_end:
        drawing.add(Text(x - 4, y + 4, "?", 11, bold=True, role="open"))
        return
    name = shortened(node.name, MOST_NAME, 11, True)
    verdict = layout.verdicts.get(node.name)
    if verdict is None:
        rounded = 0 if node.name in layout.panels else 9
        drawing.add(Rect(x - 6, y - 9, layout.wide(node) + 2, 18, "room", rounded=rounded))
        drawing.add(Text(x, y + 4, name, 11, bold=True))
        return
    drawing.add(Dot(x, y, 6, ROLE[verdict], shape=SHAPE[verdict], filled=verdict is not Verdict.OPEN))
    drawing.add(Text(x + 11, y + 4, name, 11, bold=True))
    if WORD[verdict]:
        beside = x + 19 + text_width(name, 11, True)
        drawing.add(Text(beside, y + 4, WORD[verdict], 10, role=ROLE[verdict], bold=True))


def legend(drawing: Drawing, verdicts: Collection[Verdict]) -> None:
    """Draws what the marks of the verdicts mean."""
    x, y = LEFT, 64.0
    for verdict in reversed(Verdict):
        if verdict is Verdict.ADVICE and verdict not in verdicts:
            continue
        drawing.add(Dot(x + 5, y, 5, ROLE[verdict], shape=SHAPE[verdict], filled=verdict is not Verdict.OPEN))
        drawing.add(Text(x + 15, y + 4, verdict.word, 10.5))
        x += 30 + text_width(verdict.word, 10.5)
    for words, line in (
        ("several runs", Line(((x, y), (x + 22, y)), "faint", 2.6)),
        ("closes a loop", Line(((x + 106, y), (x + 128, y)), "ink", 1.2, True)),
    ):
        drawing.add(line, Text(line.points[1][0] + 6, y + 4, words, 10.5))
    x += 216
    drawing.add(Text(x, y + 4, "?", 11, bold=True, role="open"), Text(x + 12, y + 4, "far end not known", 10.5))


def describe(job: Job, verdicts: dict[str, Verdict], summary: str) -> str:
    """What the map shows, in words, for those who cannot see it."""
    failing = [name for name, verdict in verdicts.items() if verdict is Verdict.FAILS]
    sentence = (
        f"{plural(len(job.boxes), 'box', 'boxes')}, {plural(len(job.panels), 'panel')}, "
        f"{plural(len(job.runs), 'run')}: {summary}."
    )
    return sentence + (f" Failing: {', '.join(failing)}." if failing else "")
