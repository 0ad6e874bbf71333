"""The page says a box's verdict in cables, as the terminal does. Worked by hand with Table 314.16(A) and (B), 2020."""

import pytest

from ampleroom.web import engine
from tests.cli.helpers import inside

HEAD = "edition 2020\nbox A\n  square 4 x 1-1/2\n  clamps inside\n"
CASES = [
    # 3 cables 13.50, clamps 2.25, receptacle 4.50, grounds 2.25: 22.50 in 21.00; with two cables 18.00
    ("  receptacle #12\nrun A > ? 3 x 12/2 nm-b\n", "One 12/2 cable too many"),
    # 2 cables 9.00, clamps 2.25, grounds 2.25: 13.50, 7.50 spare; each cable more takes 4.50
    ("run A > ? 2 x 12/2 nm-b\n", "Room for one more 12/2 nm-b"),
    # 18.00 as above: 3.00 spare is not enough for another cable
    ("  receptacle #12\nrun A > ? 2 x 12/2 nm-b\n", ""),
]


@pytest.mark.parametrize(("lines", "hands"), CASES)
def test_the_card_says_it_in_cables_as_show_does(lines, hands, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "one.job").write_text(HEAD + lines, "utf-8")
    assert engine.answer("box", {"sheet": HEAD + lines, "box": "A"})["says"]["hands"] == hands
    shown = inside("show", "A", "one.job").out
    assert hands in shown
    assert hands or ("Room for" not in shown and "too many" not in shown)


def test_a_typed_box_says_it_too():
    asked = engine.answer(
        "ask", {"question": "4 square 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12", "edition": 2020}
    )
    assert asked["subjects"][0]["says"]["hands"] == "One 12/2 cable too many"
