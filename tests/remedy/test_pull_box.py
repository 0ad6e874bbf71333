"""What is offered for a pull box that its distances make fail."""

from __future__ import annotations

from pathlib import Path

from tests.cli.helpers import inside

EXAMPLES = Path(__file__).parents[2] / "examples"

SHEET = """\
edition 2023
panel P
equipment K1
box PB
  inside 14 x 12 x 6 in
  entry R1 left
  entry R2 right
raceway R1 P > PB emt 2
raceway R2 PB > K1 emt 2
wires P > K1 3 x #1/0 thhn through PB in R1, R2
"""


def test_no_box_is_offered_by_volume_where_distances_decide(tmp_path):
    # its volume is not what is short, so nothing is said of cubic inches
    path = tmp_path / "pull.job"
    path.write_text(SHEET, "utf-8")
    out = inside("remedy", "PB", str(path), "--stock", str(EXAMPLES / "stock.toml"), "--no-solver").out
    told = " ".join(out.split())
    assert "1. Bring R2 in at the top" in told
    assert "2. Replace it with pull box 18 x 12 x 6" in told
    assert "in3" not in out
    path.write_text(SHEET.replace("emt 2", "emt 5"), "utf-8")
    out = inside("remedy", "PB", str(path), "--stock", str(EXAMPLES / "stock.toml"), "--no-solver").out
    told = " ".join(out.split())
    assert "with its raceways where they are it takes a box of 40 in. x 5 in. x 6 in. inside" in told
    assert "the largest pull box in the stock file is 36 in. x 24 in. x 8 in." in told
    assert "in3" not in out
