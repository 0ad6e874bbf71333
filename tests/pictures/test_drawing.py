"""Words in a drawing: how wide they are, where they are cut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.pictures.drawing import Drawing, Line, Rect, Text, shortened, text_width, wrapped
from tests.pictures.boxes import true_width

WORDS = (
    *("Spliced or terminated here, #12", "1 yoke: receptacle", "check needed", "H1-S1", "13.50 short", "WMWM", "illi"),
    *("black #12", "from P, circuit 3", "(B)(1)"),
)


@pytest.mark.parametrize("text", WORDS)
def test_a_width_is_that_of_the_font_the_package_ships(text):
    assert text_width(text, 10) == pytest.approx(true_width(text, 10), rel=0.01)
    assert text_width(text, 10, True) == pytest.approx(true_width(text, 10, True), rel=0.03)


@given(st.text(max_size=60), st.floats(1, 200), st.floats(5, 20), st.booleans())
def test_what_is_shortened_fits_and_is_the_beginning_of_the_text(text, room, size, bold):
    cut = shortened(text, room, size, bold)
    assert text_width(cut, size, bold) <= room or not cut
    visible = "".join(letter if letter.isprintable() else "·" for letter in text)
    assert cut == visible or visible.startswith(cut.removesuffix("…"))


@given(st.text(max_size=90), st.floats(20, 200), st.integers(1, 3))
def test_what_is_wrapped_fits_line_by_line(text, room, most):
    lines = wrapped(text, room, 10, most=most)
    assert len(lines) <= most
    assert all(text_width(line, 10) <= room or not line for line in lines)


def test_wrapping_keeps_every_word_where_there_is_room():
    assert wrapped("one two three", 30, 10) == ["one", "two", "three"]
    assert wrapped("one two", 300, 10) == ["one two"]
    assert wrapped("one two three four", 30, 10, most=2)[1].endswith("…")


def test_a_drawing_put_into_another_is_moved_whole():
    inner = Drawing(1, 1, "", "", [Rect(1, 2, 3, 4, "room"), Line(((0, 0), (1, 1))), Text(5, 6, "x")])
    outer = Drawing(9, 9, "", "")
    outer.put(inner, 10, 20)
    assert outer.shapes == [Rect(11, 22, 3, 4, "room"), Line(((10, 20), (11, 21))), Text(15, 26, "x")]
