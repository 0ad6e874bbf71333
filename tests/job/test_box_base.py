"""Lines that say what a box is."""

import pytest

from tests.job.helpers import item


def test_a_cross_section_nobody_knows_is_left_open():
    assert item("conduit body c 1 area ? in2").area is None


@pytest.mark.parametrize(
    "line", ["extension ring square 4 x 1-1/2", "Extension Ring SQUARE 4 X 1-1/2", "EXTENSION box sQuare 4 x 1-1/2"]
)
def test_an_extension_ring_of_a_standard_size_is_read_in_any_case(line):
    assert (item(line).shape, item(line).size) == ("square", "4 x 1-1/2")
