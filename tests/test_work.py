"""Work grows with the job and not with its square: lines of Python run and letters written, never seconds."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

import pytest

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.cli import json_pieces, run
from ampleroom.job import one_line
from ampleroom.job.sheet import Sheet
from ampleroom.remedy import read_stock
from ampleroom.remedy.box import in_place
from ampleroom.remedy.moves import MOVES
from ampleroom.remedy.trial import Trial
from ampleroom.report import Report
from tests.helpers import lines_run

HEAD = "job Ropewalk\nedition 2020\npanel P at landing\ncircuit 1 15 A\n"
BOX = "box B{}\n  square 4 x 2-1/8\n  clamps outside\n"


def boxes(number: int) -> str:
    return "".join(BOX.format(n) + f"run P > B{n} 12/2 nm-b\n" for n in range(number))


def boxes_of_one_circuit(number: int) -> str:
    return "".join(BOX.format(n) + f"run P > B{n} 12/2 nm-b circuit 1\n" for n in range(number))


def failing_boxes(number: int) -> str:
    return "".join(
        f"box B{n}\n  square 4 x 1-1/2\n  receptacle #12\nrun P > B{n} 4 x 12/2 nm-b\n" for n in range(number)
    )


def stops_of_one_run(number: int) -> str:
    stops = " > ".join(f"B{n}" for n in range(number))
    return "".join(BOX.format(n) for n in range(number)) + f"run P > {stops} 12/2 nm-b\n"


def places_one_run_passes(number: int) -> str:
    """Passed by a run that has as many stops elsewhere."""
    stops = " > ".join(f"E{n}" for n in range(number))
    passed = ", ".join(f"B{n} loop 14 in" for n in range(number))
    ends = "".join(f"equipment E{n}\n" for n in range(number))
    return ends + "".join(BOX.format(n) for n in range(number)) + f"run P > {stops} 12/2 nm-b through {passed}\n"


def runs_into_one_box(number: int) -> str:
    return "box B0\n  inside 24 x 24 x 12 in\n  clamps outside\n" + "run P > B0 12/2 nm-b\n" * number


def runs_too_many_for_one_box(number: int) -> str:
    return "box B0\n  square 4 x 1-1/2\n  clamps outside\n" + "run P > B0 12/2 nm-b\n" * (12 + number)


def devices_in_one_box(number: int) -> str:
    return "box B0\n  marked 90 in3\n  clamps outside\n" + "  receptacle #12\n" * number + "run P > B0 12/2 nm-b\n"


def unknown_loops_in_one_box(number: int) -> str:
    loops = "run P > ? 12/2 nm-b through B0 loop ?\n" * number
    return f"box B0\n  marked {5 * number + 10} in3\n{loops}"  # it passes only if they are short


def uncounted_groups_in_one_box(number: int) -> str:
    return "box B0\n  marked 500 in3\n  clamps outside\n" + "wires P > B0 ? x #12 thhn\n" * number


def groups_of_one_run(number: int) -> str:
    return BOX.format(0) + "wires P > B0 " + ", ".join(["2 x #12 thhn"] * number) + "\n"


def circuits_and_panels(number: int) -> str:
    panels = "".join(f"panel L{n}\ncircuit L{n}-1 20 A on L{n}\n" for n in range(number))
    return panels + BOX.format(0) + "run P > B0 12/2 nm-b\n"


def circuits_along_one_route(number: int) -> str:
    return "route loft ambient 110 F spaced\n" + "".join(
        f"equipment M{n}\ncircuit {n + 2} 20 A 1200 VA\nrun P > M{n} 12/2 nm-b circuit {n + 2} by loft\n"
        for n in range(number)
    )


def circuits_in_one_raceway(number: int) -> str:
    return "equipment M\nraceway R1 P > M emt 4 40 ft\n" + "".join(
        f"circuit {n + 2} 20 A\nwires P > M 2 x #12 thhn, ground #12 bare in R1 circuit {n + 2}\n"
        for n in range(number)
    )


def kinds(number: int) -> str:
    return "".join(f"kind k{n}\n  square 4 x 2-1/8\nbox B{n} k{n}\nrun P > B{n} 12/2 nm-b\n" for n in range(number))


def mixed_devices_in_one_box(number: int) -> str:
    devices = "  switch #12\n  receptacle #12\n" * (number // 2)
    return f"box B0\n  marked 20 in3\n  clamps outside\n{devices}run P > B0 12/2 nm-b\n"


def twin_runs_between_two_boxes(number: int) -> str:
    return (
        BOX.format(0)
        + BOX.format(1)
        + "run B1 > B0 12/2 nm-b 10 ft circuit 1\n" * number
        + "run P > B1 12/2 nm-b\nrun ? > B0 12/2 nm-b circuit 1\n"
    )


SHAPES: list[Callable[[int], str]] = [
    boxes,
    boxes_of_one_circuit,
    failing_boxes,
    stops_of_one_run,
    places_one_run_passes,
    runs_into_one_box,
    runs_too_many_for_one_box,
    devices_in_one_box,
    unknown_loops_in_one_box,
    uncounted_groups_in_one_box,
    groups_of_one_run,
    circuits_and_panels,
    circuits_along_one_route,
    circuits_in_one_raceway,
    kinds,
]


def work(job: Path, *words: str) -> tuple[int, int]:
    """Lines of Python a command runs, a loop's once each time around, and letters it writes."""

    def command() -> None:
        assert run([words[0], str(job), *words[1:]]) in (0, 1, 3)

    one_line.kept_line.cache_clear()
    out = StringIO()
    with redirect_stdout(out):
        lines = lines_run(command)
    return lines, len(out.getvalue())


@pytest.mark.parametrize("words", [("check",), ("check", "--json")], ids=" ".join)
@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_twice_the_job_is_twice_the_work(shape: Callable[[int], str], words: tuple[str, ...], tmp_path: Path):
    job = tmp_path / "long.job"
    job.write_text(HEAD + shape(1), "utf-8")
    work(job, *words)  # what is loaded or worked out once is not counted
    found = []
    for number in (60, 120, 240):  # past the facts that are weighed one by one
        job.write_text(HEAD + shape(number), "utf-8")
        found.append(work(job, *words))
    for small, middle, large in zip(*found, strict=True):
        # a line doubles from step to step, a square grows fourfold
        assert large - middle <= 2.25 * max(middle - small, 400)


def test_a_sheet_is_split_once_however_many_places_are_told():
    sheet = Sheet("box A\n  square 4 x 1-1/2\n")
    assert sheet.lines is sheet.lines


def test_json_is_made_one_subject_at_a_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    job = tmp_path / "three.job"
    job.write_text(HEAD + boxes(3), "utf-8")
    out, seen = StringIO(), []
    whole = Report.subject_json

    def subject_json(report: Report, box: object) -> object:
        seen.append(out.getvalue().count('"where"'))
        return whole(report, box)  # type: ignore[arg-type]

    monkeypatch.setattr(Report, "subject_json", subject_json)
    with redirect_stdout(out):
        run(["check", str(job), "--json"])
    assert len(set(seen)) == 4  # three boxes and a circuit; what came before was written by then


@pytest.mark.parametrize(
    "shape", [mixed_devices_in_one_box, twin_runs_between_two_boxes], ids=lambda shape: shape.__name__
)
def test_remedies_of_one_box_grow_with_its_lines(shape: Callable[[int], str]):
    stock = read_stock(Path(__file__).parents[1] / "examples" / "stock.toml")

    def moves(number: int) -> int:
        job = read_job(HEAD + shape(number))
        trial = Trial(job, book_for(job))
        return sum(1 for make in MOVES["box"].makers for _ in make(in_place(trial, job.box("B0"), stock)))

    assert 0 < moves(30) == moves(60)


def test_json_written_piece_by_piece_says_the_same(tmp_path: Path):
    job = tmp_path / "two.job"
    for sheet in (HEAD + boxes(2), "edition 2020\npanel P\n"):
        job.write_text(sheet, "utf-8")
        report = check(read_job(job))
        assert json.loads("".join(json_pieces(report.json_by_subject()))) == report.to_json()
        assert json.loads("".join(json_pieces(report.to_json()))) == report.to_json()
    assert "".join(json_pieces({})) == "{}"
