"""The thinnest wire and the breaker of a circuit: minimal, and as the published problems have it."""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.errors import NameUnknown
from ampleroom.record import replace
from ampleroom.sizing.circuit import is_circuit, ratings, size_json, size_of, subject_named
from ampleroom.worksheet import Verdict
from tests.cli.helpers import inside

AM_009 = """edition 2005x
panel P 120/240 V
equipment M
raceway R1 P > M emt 1-1/4 60 ft
route hall 60 ft ambient 100 F
circuit 1 60 A 240 V 12000 VA terminals 60 C
wires P > M 4 x #8 thhn in R1 by hall circuit 1
""".replace("2005x", "2008")
KILN = """edition 2020
panel P 120/240 V
equipment K1
circuit 5 50 A 240 V 9600 VA continuous for kiln
run P > K1 6/2 nm-b circuit 5
"""


def sized(sheet: str, name: str = "1"):
    job = read_job(sheet)
    return size_of(subject_named(job, name), job, book_for(job))


def test_the_thinnest_wire_of_a_published_problem():
    """Trade-forum thread on 110.14(C), 2005: 50 A on four current-carrying THHN at 100 F want 6 AWG: 54.6 A."""
    (wire,) = sized(AM_009).wires
    assert (wire.certain, wire.text) == ("6", "#6")


def test_a_breaker_for_the_wires_and_one_for_the_load():
    size = sized(KILN, "circuit 5")
    assert size.smallest is not None
    assert (size.smallest.certain, size.smallest.possible) == (50, 50)
    assert size.largest.certain == 60  # 55 A at 60 C, the next standard rating
    assert size_json(size)["smallest_breaker"] == {"certain": 50, "possible": 50, "text": "50 A"}


@pytest.mark.parametrize("amperes", [15, 20, 30, 50, 60, 100])
def test_one_size_thinner_and_one_rating_larger_do_not_pass(amperes: int):
    sheet = KILN.replace("50 A 240 V 9600 VA continuous", f"{amperes} A 240 V").replace("6/2 nm-b", "3 x #3 thhn in R1")
    sheet = sheet.replace("run P", "raceway R1 P > K1 emt 2 40 ft\nwires P")
    job = read_job(sheet)
    book, subject = book_for(job), subject_named(job, "5")
    (wire,) = size_of(subject, job, book).wires
    sizes = ["14", "12", "10", "8", "6", "4", "3", "2", "1"]
    thinner = sizes[sizes.index(wire.certain) - 1] if wire.certain != "14" else ""
    for size, passes in ((wire.certain, True), (thinner, False)):
        if size:
            found = next(
                each for each in check(read_job(sheet.replace("#3", f"#{size}"))).subjects if each.kind == "circuit"
            )
            assert (found.verdict is Verdict.PASSES) is passes
    largest = size_of(subject, job, book).largest.certain
    assert largest is not None
    above = next(rating for rating in ratings(book) if rating > largest)
    over = check(replace(job, circuits=(replace(job.circuits[0], amperes=above),)))
    assert next(each for each in over.subjects if each.kind == "circuit").verdict is not Verdict.PASSES


def test_a_circuit_is_found_by_its_name_alone_too():
    job = read_job(KILN)
    assert is_circuit(job, "5")
    assert is_circuit(job, "Circuit 5")
    assert not is_circuit(job, "6")
    with pytest.raises(NameUnknown, match="there is no circuit '6'; there is 5"):
        subject_named(job, "6")


def test_the_command_prints_both_and_says_what_is_not_known(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "kiln.job").write_text(KILN)
    told = inside("size", "5", "kiln.job")
    text = " ".join(told.out.split())
    assert told.status == 0
    assert "Thinnest wire, 6/2 nm-b, P > K1 #6; #8 if the facts not checked yet allow it" not in text
    assert "Thinnest wire, 6/2 nm-b, P > K1 #6" in text
    assert "Smallest breaker for its load 50 A" in text
    (tmp_path / "open.job").write_text(KILN.replace("6/2 nm-b", "?/2 mc"))
    assert inside("size", "circuit 5", "open.job").status == 0
    assert inside("size", "circuit 5", "open.job", "--json").json["circuit"] == "5"


@pytest.mark.parametrize(
    ("wires", "electrode", "answer"),
    [
        ("2 x 250 thwn, 1 x #1/0 thwn", "water ?", "2"),  # gr-111, a building-code forum of about 2019
        ("3 x 500 thwn", "water ?", "1/0"),  # gr-117, a code quiz of 2007; its key was not seen
        ("4 sets 12 x 250 thwn", "water ?", "2/0"),  # gr-009, an exam guide; its key was not seen
        ("3 sets 9 x 600 thwn", "water ?", "3/0"),  # gr-114, a trade magazine's answer of about 2006
        ("4 sets 12 x 500 thwn", "water ?", "3/0"),  # gr-011, an exam guide; its key was not seen
        ("3 x 500 thwn", "rod ?", "6"),  # gr-013, a trade forum of 2009
        ("3 x 500 thwn", "concrete ?", "4"),  # the table's own note for nothing but that electrode
    ],
)
def test_the_conductor_to_an_electrode_is_that_of_the_published_problems(wires: str, electrode: str, answer: str):
    sheet = f"""edition 2020
panel P 120/240 V
equipment M
circuit 1 800 A 240 V 1-phase electrode {electrode}
wires P > M {wires} circuit 1
"""
    (conductor,) = sized(sheet).electrodes
    assert (conductor.certain, conductor.text) == (answer, f"#{answer}")
