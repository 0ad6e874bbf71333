"""Three pictures as they are, so that a change of any is seen. To accept a change: AMPLEROOM_SNAPSHOTS=write."""

import os

import pytest

from ampleroom.ask import ask
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.room import room_picture
from ampleroom.pictures.svg import svg
from tests.pictures.helpers import DIVIDED, ROOT, example, report

PICTURES = {
    "room-A1": lambda: room_picture(example("studio").subject("A1").fill_findings[0]),
    "entering-S1": lambda: entering(example("studio"), "S1"),
    "entering-divided": lambda: entering(report(DIVIDED), "D"),
}


def entering(found, name):
    return box_picture(found.job, found.job.box(name), found.book)


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_as_it_was_seen_to_be_good(name):
    path = ROOT / "tests" / "snapshots" / f"{name}.svg"
    now = svg(PICTURES[name]()).replace("><", ">\n<") + "\n"
    if os.environ.get("AMPLEROOM_SNAPSHOTS") == "write":
        path.write_text(now, "utf-8")
    assert now == path.read_text("utf-8")


def test_the_picture_of_the_readme_is_that_of_its_question():
    readme = (ROOT / "README.md").read_text("utf-8")
    question = readme.split('./run ask "')[1].split('"')[0]
    now = svg(room_picture(ask(question, 2020).box.findings[0])).replace("><", ">\n<") + "\n"
    path = ROOT / "docs" / "box.svg"
    if os.environ.get("AMPLEROOM_SNAPSHOTS") == "write":
        path.write_text(now, "utf-8")
    assert now == path.read_text("utf-8")
    assert "](docs/box.svg)" in readme
