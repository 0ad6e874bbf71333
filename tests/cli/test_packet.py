"""packet: the PDF and the labels as files, with what was asked for in them."""

import shutil

import pytest

from tests.cli.helpers import FAILS, ROOT, inside, outside
from tests.packet.helpers import reader, text_of

pytest.importorskip("typst")

THREE = """job Cider press
edition 2020
box J1 at the vat
  device 3 x 2 x 1-1/2
  clamps inside
  receptacle #12
box J2 at the press
  square 4 x 2-1/8
  clamps outside
box J3 at the door
  marked ? in3
run J1 > J2 > J3 12/2 nm-b
"""


@pytest.fixture
def three(folder):
    (folder / "three.job").write_text(THREE)
    return folder


def cards(path):
    """The boxes that have a card, in order."""
    return [
        line.split("·")[1].strip()
        for line in text_of(path.read_bytes()).splitlines()
        if line.strip().startswith("B0") and "·" in line
    ]


def test_the_packet_lies_beside_the_sheet_and_its_fingerprint_is_told(three):
    ran = inside("packet", "three.job")
    assert ran.status == 0
    told = " ".join(ran.out.split())
    assert told.startswith("three.pdf is written; the sheet's fingerprint is ")
    assert told[-19:] in text_of((three / "three.pdf").read_bytes())
    assert cards(three / "three.pdf") == ["J1", "J2", "J3"]


def test_only_failing_has_the_cards_of_what_does_not_pass(three):
    inside("packet", "three.job", "--only", "failing", "--to", "f.pdf")
    assert cards(three / "f.pdf") == ["J1", "J3"]


def test_boxes_by_name_in_any_case_have_the_only_cards(three):
    inside("packet", "three.job", "--boxes", "j3, J2", "--to", "b.pdf")
    assert cards(three / "b.pdf") == ["J2", "J3"]


def test_a_box_that_is_not_there_is_told_and_nothing_is_written(three):
    ran = inside("packet", "three.job", "--boxes", "J1,J9", "--to", "b.pdf")
    assert ran.status == 2
    assert "there is no box 'J9'" in ran.err
    assert not (three / "b.pdf").exists()


def test_boxes_without_a_name_are_told(three):
    assert "name the boxes whose cards are wanted: --boxes J1,S1" in inside("packet", "three.job", "--boxes", " , ").err
    assert not (three / "three.pdf").exists()


@pytest.mark.parametrize(("paper", "wide"), [("letter", 612), ("a4", 595)])
def test_the_paper_is_the_one_asked_for(three, paper, wide):
    inside("packet", "three.job", "--paper", paper, "--to", "p.pdf")
    assert int(reader((three / "p.pdf").read_bytes()).pages[0].mediabox.width) == wide


def test_labels_are_a_file_of_their_own(three):
    assert inside("packet", "three.job", "--labels").status == 0
    text = text_of((three / "three.labels.pdf").read_bytes())
    assert all(name in text for name in ("J1", "J2", "J3", "B001"))
    inside("packet", "three.job", "--labels", "--boxes", "J2", "--to", "l.pdf")
    assert "B001" not in text_of((three / "l.pdf").read_bytes())


def test_with_a_stock_file_there_are_remedies_and_a_takeoff(three):
    shutil.copy(ROOT / "examples" / "stock.toml", three / "stock.toml")
    inside("packet", "three.job")
    text = text_of((three / "three.pdf").read_bytes())
    assert "Fixes for what fails or needs a check" in text
    assert "Takeoff" in text


def test_a_stock_file_that_was_named_and_is_not_there_is_told(three):
    ran = inside("packet", "three.job", "--stock", "none.toml")
    assert ran.status == 2
    assert "none.toml" in ran.err
    assert not (three / "three.pdf").exists()


def test_as_json_it_says_the_file_the_fingerprint_and_the_verdict(three):
    said = inside("packet", "three.job", "--json").json
    assert (said["schema"], said["file"], said["verdict"]) == ("ampleroom-packet/1", "three.pdf", "fails")
    assert said["bytes"] == (three / "three.pdf").stat().st_size


def test_a_packet_is_a_pdf(three):
    ran = inside("packet", "three.job", "--to", "three.docx")
    assert ran.status == 2
    assert "a packet is a PDF: --to three.pdf, not three.docx" in " ".join(ran.err.split())


def test_a_sheet_with_faults_has_no_packet(folder):
    ran = inside("packet", "faulty.job")
    assert ran.status == 2
    assert "sqare" in ran.err
    assert not (folder / "faulty.pdf").exists()


def test_the_same_command_gives_the_same_bytes(three):
    for seed in ("1", "2"):
        assert outside("packet", "three.job", "--to", f"{seed}.pdf", PYTHONHASHSEED=seed).status == 0
    assert (three / "1.pdf").read_bytes() == (three / "2.pdf").read_bytes()


def test_another_edition_is_named_at_the_head_of_every_page(folder):
    (folder / "fails.job").write_text(FAILS)
    inside("packet", "fails.job", "--edition", "2017")
    assert "2017 edition" in text_of((folder / "fails.pdf").read_bytes())
