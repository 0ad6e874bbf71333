"""The log stays within its bounds, and says what it left out."""

import io
import logging

import pytest

from ampleroom.web import bounded_log
from ampleroom.web.bounded_log import A_MINUTE, BURST, LONGEST, Bounded


@pytest.fixture
def log():
    """A logger of its own with a clock that is moved by hand."""

    class Log:
        now = 0.0
        stream = io.StringIO()
        logger = logging.Logger("test")

        @property
        def lines(self):
            return self.stream.getvalue().splitlines()

    found = Log()
    found.stream = io.StringIO()
    found.logger = logging.Logger("test")
    found.logger.addHandler(Bounded(found.stream, lambda: found.now))
    return found


def test_a_flood_is_cut_off_and_counted_and_does_not_hide_an_error(log):
    for number in range(100_000):
        log.logger.warning("refused %s", number)
    log.logger.error("the disk is full")
    assert len(log.lines) == BURST + 1
    assert log.lines[-1] == "the disk is full"
    log.now += 60
    for number in range(100):
        log.logger.warning("later %s", number)
    assert log.lines[BURST + 1] == f"({100_000 - BURST} more of level WARNING are left out: too many at once)"
    assert log.lines[BURST + 2 :] == [f"later {number}" for number in range(A_MINUTE)]


def test_one_entry_is_not_longer_than_a_page_and_keeps_its_end(log):
    log.logger.error("begin %s end", "x" * 1_000_000)
    (line,) = log.lines
    assert len(line) < LONGEST + 10
    assert line.startswith("begin")
    assert line.endswith("end")


def test_the_whole_log_has_an_end_and_says_so(log, monkeypatch):
    monkeypatch.setattr(bounded_log, "LARGEST", 1000)
    for _ in range(100):
        log.logger.warning("x" * 99)
    assert len(log.stream.getvalue()) < 1300
    assert log.lines[-1].startswith("the log is full")


def test_a_server_that_is_asked_for_nothing_hundreds_of_times_writes_a_bounded_log(server):
    import http.client

    link = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
    for _ in range(BURST + 200):
        link.request("GET", "/nothing")
        assert link.getresponse().read()
    link.close()
    assert BURST <= len(server.logged.splitlines()) <= BURST + 60
