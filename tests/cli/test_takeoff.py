"""``takeoff`` as text, CSV and JSON."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from pathlib import Path

import pytest

from tests.cli.helpers import CAUTION_ENDS, inside, outside
from tests.remedy.helpers import CONNECTOR, LABOR, box_entry

SHEET = """job Sail shop
edition 2020
panel P
box J1
  square 4 x 1-1/2
  clamps outside
box J2
  octagon 4 x 1-1/2
  clamps outside
  stud
run P  > J1 12/2 nm-b 300 ft
run J1 > J2 12/2 nm-b
raceway R1 P > J2 emt 1 25 ft
"""
COIL = '[[cable]]\nname = "{}"\nis = "12/2 nm-b"\nper_foot = 0.75\ncoil_feet = 250\ncoil_price = 135\n'
STOCK = LABOR + CONNECTOR + box_entry("square 4 x 1-1/2", 2) + COIL.format("12/2 NM-B")


@pytest.fixture(autouse=True)
def sheet(tmp_path, monkeypatch):
    (tmp_path / "stock.toml").write_text(STOCK, "utf-8")
    (tmp_path / "shop.job").write_text(SHEET, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "60")
    return tmp_path / "shop.job"


def test_the_text_reads_as_a_list_for_the_counter_at_60_columns():
    """300 ft and a tenth: 330, a coil of 250 and 80 ft at 0.75 = 60.00. 25 ft of raceway: 3 lengths."""
    ran = inside("takeoff", "shop.job")
    assert (ran.status, ran.err) == (0, "")
    assert max(map(len, ran.out.splitlines())) <= 60
    rows = [" ".join(row.split()) for row in ran.out.splitlines()]
    for row in (
        "1 x square 4 x 1-1/2 at $2.00 $2.00",
        "1 x octagon 4 x 1-1/2 no price",
        "4 x clamp connector at $1.00 $4.00",
        "1 coil of 250 ft, 12/2 NM-B at $135.00 $135.00",
        "80 ft of 12/2 NM-B at $0.75 $60.00",
        "3 lengths of 10 ft, EMT 1 no price",
        "Check first: the length of 12/2 nm-b J1 > J2 (line 12).",
    ):
        assert row in rows
    assert ran.out.rstrip().endswith(CAUTION_ENDS)


def test_csv_and_json_have_the_same_lines_and_the_lines_sum_to_the_total():
    found = inside("takeoff", "shop.job", "--json").json
    table = list(csv.DictReader(io.StringIO(inside("takeoff", "shop.job", "--csv").out)))
    lines = [{key: value or "" for key, value in line.items()} for line in found["lines"]]
    unknown = [dict.fromkeys(table[0], "") | {"group": "check first", "what": words} for words in found["not_known"]]
    assert lines + unknown == table
    assert Decimal(found["total"]) == sum(Decimal(line["price"]) for line in found["lines"] if line["price"])
    assert found["lines_without_price"] == sum(line["price"] is None for line in found["lines"])
    assert found["schema"] == "ampleroom-takeoff/1"
    assert found["not_known"] == ["the length of 12/2 nm-b J1 > J2 (line 12)"]


def test_csv_has_the_line_ends_of_csv_and_runs_no_formula():
    Path("stock.toml").write_text(STOCK.replace("12/2 NM-B", "=1+1"), "utf-8")
    out = inside("takeoff", "shop.job", "--csv").out
    assert "cable,'=1+1,1,coil of 250 ft" in out
    assert not any(cell.startswith(("=", "+", "@")) for row in csv.reader(io.StringIO(out)) for cell in row)


def test_a_sheet_from_standard_input_uses_the_stock_of_this_folder(sheet):
    ran = outside("takeoff", "-", typed=SHEET.encode())
    assert ran.out.splitlines()[0].startswith("Sail shop")


def test_no_stock_file_is_told_with_what_to_do(sheet):
    Path("stock.toml").unlink()
    ran = inside("takeoff", "shop.job")
    assert (ran.status, "--stock" in ran.err) == (2, True)
