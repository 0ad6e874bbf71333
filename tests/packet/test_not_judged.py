"""What no rule judges stands on the packet's cover, and in the workbook's results and the CSV."""

import csv
import io

import pytest

from ampleroom import check, read_job
from ampleroom.packet import packet
from ampleroom.packet.data import packet_data
from ampleroom.sheets.writing import results_csv
from tests.packet.helpers import text_of

SHEET = "edition 2020\nbox J1\n  square 4 x 2-1/8\n  switch #12\npanel P main 200 A\nload range 12 kW\n"


def test_the_cover_says_what_was_not_judged_beside_the_boxes():
    data = packet_data(check(read_job(SHEET)))
    assert data["summary"] == "The only box passes."
    assert data["not_judged"] == "Not judged: 1 load, 1 panel"


def test_an_empty_box_is_a_trouble_on_the_cover():
    data = packet_data(check(read_job("edition 2020\nbox J1\n  marked ? in3\n")))
    assert data["summary"] == "1 box needs a check; 0 of 1 pass."
    assert data["troubles"][0][3:] == ["?", "check needed", "nothing in it yet; box volume not known"]


def test_it_is_printed():
    pytest.importorskip("typst")
    assert "Not judged: 1 load, 1 panel" in " ".join(text_of(packet(check(read_job(SHEET)))).split())


def test_the_last_row_of_the_results_says_it():
    rows = list(csv.reader(io.StringIO(results_csv(check(read_job(SHEET))))))
    assert (rows[-1][2], rows[-1][-1]) == ("check needed", "Not judged: 1 load, 1 panel")
