"""The one-line diagram of a job: from the service to its panels and on by their feeders, with what protects and what
carries each.
"""

from __future__ import annotations

from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Panel
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Drawing, Line, Rect, Text, shortened
from ampleroom.quantities import number
from ampleroom.report import Report
from ampleroom.rules.panel.directory import wire_text
from ampleroom.rules.panel.laid_out import is_supply
from ampleroom.worksheet import SubjectReport

MARGIN = 14.0
BOX = 190.0
HIGH = 56.0
GAP = 24.0
DROP = 64.0
"""From one panel down to the next, pixels."""
SIZE = 12.0
SMALL = 10.0
ROOMY = 0.9


def one_line(report: Report, subject: SubjectReport, title: bool = True) -> Drawing | None:
    """The one-line diagram, the panel it is shown with drawn bold; None where the job has one panel and no service."""
    graph = report.job.graph
    below = fed_by(graph)
    roots = [name for name in graph.panels if name not in {each for fed in below.values() for each in fed}]
    services = {name: service_of(graph, name) for name in roots}
    if not any(services.values()) and len(graph.panels) < 2:
        return None
    places: dict[str, tuple[float, int]] = {}
    wide = 0.0
    for root in roots:
        wide = placed(root, below, 1, wide, places)
    deepest = max(depth for _, depth in places.values())
    top = MARGIN + (26 if title else 0)
    whole = max(wide - GAP, BOX) + 2 * MARGIN
    drawing = Drawing(whole, top + (deepest + 1) * (HIGH + DROP) - DROP + MARGIN, "One-line diagram", "")
    if title:
        drawing.add(Text(MARGIN, MARGIN + 12, "One-line diagram", 16, bold=True))
    words: list[str] = []
    for name, (x, depth) in places.items():
        y, middle = top + depth * (HIGH + DROP), MARGIN + x + BOX / 2
        panel = graph.panels[name]
        feeder = services.get(name) if name in services else graph.feeders.get(name)
        if name in services:
            start = middle, top + HIGH
            if feeder is not None:
                draw_box(drawing, MARGIN + x, top, "Service", (f"circuit {feeder.name}", feeder.label), False)
        else:
            source = next(each for each, fed in below.items() if name in fed)
            start = MARGIN + places[source][0] + BOX / 2, top + places[source][1] * (HIGH + DROP) + HIGH
        if feeder is not None:
            half = start[1] + 14
            drawing.add(Line((start, (start[0], half), (middle, half), (middle, y)), "ink", 1.6))
            lines = feeder_lines(graph, feeder)
            for place, line in enumerate(lines):
                drawing.add(Text(middle + 8, half + 15 + 13 * place, shortened(line, BOX / 2 + GAP - 12, SMALL), SMALL))
            words.append(f"{panel.name} by circuit {feeder.name}, {', '.join(lines)}")
        else:
            words.append(f"{panel.name}, its supply is not in the sheet")
        draw_box(drawing, MARGIN + x, y, f"Panel {name}", panel_lines(panel, graph), name == subject.name)
    drawing.description = f"One-line diagram. {'; '.join(words)}."
    return drawing


def fed_by(graph: Graph) -> dict[str, list[str]]:
    """By the name of a panel, those it feeds; without what would go round in a ring."""
    below: dict[str, list[str]] = {}
    for name, circuit in graph.feeders.items():
        source = graph.source_of(circuit.name)
        seen = {name}
        at = source
        while at is not None and at not in seen:
            seen.add(at)
            at = graph.source_of(graph.feeders[at].name) if at in graph.feeders else None
        if source is not None and at is None:
            below.setdefault(source, []).append(name)
    return below


def placed(
    name: str, below: dict[str, list[str]], depth: int, left: float, places: dict[str, tuple[float, int]]
) -> float:
    """Give a panel and all it feeds their places, from ``left`` on; where the next may begin."""
    end = left
    for each in below.get(name, ()):
        end = placed(each, below, depth + 1, end, places)
    end = max(end, left + BOX + GAP)
    places[name] = ((left + end - GAP - BOX) / 2, depth)
    return end


def service_of(graph: Graph, name: str) -> Circuit | None:
    """The service that comes to a panel; None where it is not in the sheet."""
    for circuit in graph.circuits.values():
        runs = graph.runs_of.get(circuit.name.casefold(), ())
        reaches = graph.source_of(circuit.name) == name or any(name in run.place_names for run in runs)
        if is_supply(circuit) and reaches:
            return circuit
    return None


def feeder_lines(graph: Graph, feeder: Circuit) -> list[str]:
    """``100 A``; ``3 x #3 thhn``; ``60 ft``."""
    runs = graph.runs_of.get(feeder.name.casefold(), ())
    amperes = "? A" if feeder.amperes in (None, UNKNOWN) else f"{feeder.amperes} A"
    lines = [amperes, *dict.fromkeys(map(wire_text, runs[:1]))]
    if len(runs) == 1 and runs[0].length is not None and runs[0].length is not UNKNOWN:
        lines.append(f"{number(runs[0].length, 0)} ft")
    return lines


def panel_lines(panel: Panel, graph: Graph) -> tuple[str, ...]:
    """What stands in the box of a panel: its volts and main, and its place."""
    parts = (
        f"{'/'.join(map(str, panel.volts))} V" if panel.volts else "",
        f"{panel.phases}-phase" if panel.phases else "",
        f"main {panel.main} A" if panel.main else "",
        f"bus {panel.bus} A" if panel.bus else "",
    )
    return ", ".join(part for part in parts if part), panel.description


def draw_box(drawing: Drawing, x: float, y: float, head: str, lines: tuple[str, ...], is_bold: bool) -> None:
    """A box with its name and up to two lines."""
    drawing.add(Rect(x, y, BOX, HIGH, "room"))
    if is_bold:
        corners = ((x, y), (x + BOX, y), (x + BOX, y + HIGH), (x, y + HIGH), (x, y))
        drawing.add(Line(corners, "ink", 2))
    drawing.add(Text(x + 8, y + 17, shortened(head, (BOX - 16) * ROOMY, SIZE, True), SIZE, bold=True))
    for place, line in enumerate([line for line in lines if line]):
        drawing.add(Text(x + 8, y + 32 + 14 * place, shortened(line, (BOX - 16) * ROOMY, SMALL), SMALL))


__all__ = ["one_line"]
