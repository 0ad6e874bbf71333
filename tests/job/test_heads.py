"""Lines about the whole job."""

from decimal import Decimal

import pytest

from ampleroom.job import write_job
from tests.job.helpers import fault, job


@pytest.mark.parametrize("year", ["²", "202²", "２０２０x", "20200", "99999999", "1999", "twenty"])
def test_a_year_that_is_no_edition_is_a_fault(year):
    assert fault(f"edition {year}").startswith(f"edition {year!r} is not offered; write one of: 2008, 2011")


def test_an_ambient_below_zero_is_read_and_written():
    found = job("box J1\nroute shed ambient -10 C\nroute dock ambient 5 F\n")
    assert [route.ambient for route in found.routes] == [Decimal(-10), Decimal(-15)]
    assert job(write_job(found)) == found
