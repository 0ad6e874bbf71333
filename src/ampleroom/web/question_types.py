"""Every question of the page and every body the server takes, each declared once.

A field's type, whether it must be there, its limits, its words and examples stand here and nowhere else. ``openapi.py``
makes the API's document of them. The browser's Python has no msgspec, so ``question_fields.py`` holds the same as plain
tables, written by ``python3 scripts/question_fields.py``; ``fields.py`` checks what is asked against those tables, in
the browser and on the server alike. A field that is not declared is passed over.

To add a question: a class here and its name in ``QUESTIONS``, its function in ``engine/__init__.py``, then run the
script.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

import msgspec
from msgspec import Meta

from ampleroom.web.bounds import LARGEST_NUMBER, LARGEST_SHEET, LARGEST_STOCK

EXAMPLE = """job Kiln shed
edition 2020
box J1 at the rafters
  square 4 x 2-1/8
  clamps inside
  switch #14
run J1 > ? 2 x 12/2 nm-b
"""

Sheet = Annotated[str, Meta(description="a job sheet's text", examples=[EXAMPLE])]
BoxName = Annotated[str, Meta(description="a box's name", examples=["J1"])]
Edition = Annotated[int, Meta(description="another code edition than the sheet's", examples=[2017])]
StockText = Annotated[str, Meta(description="a stock file's text", examples=["currency = 'USD'\n"])]
Label = Annotated[str, Meta(description="what the history says of this change")]
BaseVersion = Annotated[int, Meta(description="the version you changed", ge=1, le=LARGEST_NUMBER)]
UseSolver = Annotated[bool, Meta(description="false: without HiGHS, as in the browser")]


class Body(msgspec.Struct, kw_only=True):
    """What a request brings. A field with a default may be left out or null."""


class Question(Body, kw_only=True):
    """A question of ``/api/answer/NAME``; ``answer`` is the form of what comes back, in ``forms.py``."""

    answer: ClassVar[str]


# ---- parts of questions --------------------------------------------------------------------------------------------


class Limits(Body, kw_only=True):
    """What remedies must keep to."""

    no_plaster: Annotated[bool, Meta(description="true: only remedies that open no plaster")] | None = None
    only_in_stock: Annotated[bool, Meta(description="true: only parts marked as in stock")] | None = None
    most_kinds: Annotated[int, Meta(description="kinds of box on the van at most", ge=0)] | None = None
    spare: Annotated[str, Meta(description="a cable every box keeps room for", examples=["12/2 nm-b"])] | None = None
    margin: Annotated[str, Meta(description="in3 every box keeps free, under 1000", examples=["2.25", "0"])] | None = (
        None
    )


class Edit(Body, kw_only=True):
    """One change by a tap; ``do`` says which of the other fields it takes."""

    do: Literal[
        "set-base",
        "set-clamps",
        "add-item",
        "divide",
        "remove-barrier",
        "put-item",
        "drop-item",
        "item-count",
        "set-device",
        "add-cable",
        "drop-run",
        "put-run",
        "run-count",
        "run-here",
        "run-to",
        "run-detail",
        "add-box",
        "drop-box",
        "copy-box",
        "set-at",
        "set-title",
        "set-edition",
        "set-text",
    ]
    box: BoxName | None = None
    line: (
        Annotated[
            str,
            Meta(
                description="a line of the sheet", examples=["receptacle #12", "marked 20.3 in3", "run J1 > ? 10/2 mc"]
            ),
        ]
        | None
    ) = None
    cable: Annotated[str, Meta(description="a cable that comes in", examples=["14/2 nm-b"])] | None = None
    to: (
        Annotated[str, Meta(description="the place at the cable's far end; ? or nothing: not known", examples=["S1"])]
        | None
    ) = None
    space: Annotated[str, Meta(description="the side of a barrier it goes to", examples=["left"])] | None = None
    index: (
        Annotated[int, Meta(description="which of the box's items, or of the job's runs, from 0", examples=[0])] | None
    ) = None
    count: (
        Annotated[int | str, Meta(description="so many alike; ? is not known, 0 takes it out", examples=[2])] | None
    ) = None
    way: (
        Annotated[
            str,
            Meta(
                description="where the clamps are; what a barrier is of",
                examples=["inside", "outside", "tabs", "none", "?", "metal", "plastic"],
            ),
        ]
        | None
    ) = None
    how: (
        Annotated[
            str,
            Meta(
                description="what a run does here; the sides a barrier makes",
                examples=["ends", "passes", "looped", "landed", "left 1/2, right 1/2"],
            ),
        ]
        | None
    ) = None
    size: (
        Annotated[str, Meta(description="the largest wire on a device; ? for what the cables say", examples=["12"])]
        | None
    ) = None
    length: Annotated[str, Meta(description="a run's length in feet; ? is not known", examples=["38"])] | None = None
    circuit: Annotated[str, Meta(description="a run's circuit; empty for none", examples=["3"])] | None = None
    name: (
        Annotated[
            str, Meta(description="a new box's name, empty to go on from the last; the box to copy", examples=["J2"])
        ]
        | None
    ) = None
    at: Annotated[str, Meta(description="where a box is")] | None = None
    title: Annotated[str, Meta(description="the job's name")] | None = None
    edition: Edition | None = None
    text: Sheet | None = None


# ---- questions -----------------------------------------------------------------------------------------------------


class SheetQuestion(Question, kw_only=True):
    """A question about a sheet, by its own code edition or another."""

    sheet: Sheet
    edition: Edition | None = None


class BoxQuestion(SheetQuestion, kw_only=True):
    """A question about one box of a sheet."""

    box: BoxName


class PlanQuestion(SheetQuestion, kw_only=True):
    """A question about the remedies of a whole job."""

    stock: StockText | None = None
    limits: Limits | None = None
    solver: UseSolver | None = None


class Ask(Question, kw_only=True):
    """One box typed in a line, answered at once."""

    answer = "asked-about"
    question: Annotated[
        str,
        Meta(
            description="a box and what is in it, with commas between",
            examples=["square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside"],
        ),
    ]
    edition: Edition | None = None
    adopted: Annotated[str, Meta(description="a place; the edition it had adopted", examples=["Colorado"])] | None = (
        None
    )


class Job(SheetQuestion, kw_only=True):
    """The whole job as a list: every subject with its verdict, and every fault of the sheet."""

    answer = "job-list"


class Standing(SheetQuestion, kw_only=True):
    """How a whole job stands, in a few words for the list of jobs."""

    answer = "standing"


class Check(SheetQuestion, kw_only=True):
    """What ``check --json`` prints."""

    answer = "report"


class Show(BoxQuestion, kw_only=True):
    """What ``show NAME --json`` prints."""

    answer = "report"


class BoxView(BoxQuestion, kw_only=True):
    """One box as the page shows it, with what a tap can change."""

    answer = "box-view"
    kind: (
        Annotated[str, Meta(description="the kind of subject, where it is no box", examples=["conduit body"])] | None
    ) = None


class EditQuestion(SheetQuestion, kw_only=True):
    """A sheet after one change by a tap."""

    answer = "changed"
    edit: Edit
    box: BoxName | None = None


class Merge(Question, kw_only=True):
    """What two people made of one sheet, and the sheet with both."""

    answer = "merged"
    base: Annotated[str, Meta(description="the text both began from", examples=[EXAMPLE])]
    mine: Annotated[str, Meta(description="what one made of it", examples=[EXAMPLE])]
    theirs: Annotated[str, Meta(description="what the other made of it", examples=[EXAMPLE])]
    choose: (
        Annotated[
            str,
            Meta(
                description=(
                    "how each part is decided, in order, with commas between; empty where nothing is chosen yet"
                ),
                examples=["mine,both,,theirs"],
            ),
        ]
        | None
    ) = None


class Fits(BoxQuestion, kw_only=True):
    """How many more of each common cable would go in, or of ``what``."""

    answer = "fits-more or fits-tried"
    what: (
        Annotated[str, Meta(description="a cable or conductors that would come in", examples=["14/2 nm-b"])] | None
    ) = None


class Remedies(BoxQuestion, kw_only=True):
    """Every remedy of one box, each with a picture of before and after."""

    answer = "remedies-shown"
    stock: StockText | None = None
    limits: Limits | None = None


class Apply(PlanQuestion, kw_only=True):
    """The sheet with a remedy made: the one chosen for a box, or the whole plan."""

    answer = "changed"
    box: BoxName | None = None
    choose: Annotated[int, Meta(description="the number of the remedy, from 1")] | None = None


class Plan(PlanQuestion, kw_only=True):
    """The remedies for a whole job that cost the least."""

    answer = "plan"


class Takeoff(Question, kw_only=True):
    """What to buy for a job."""

    answer = "takeoff"
    sheet: Sheet
    stock: StockText | None = None


class Editions(Question, kw_only=True):
    """Every subject by every code edition on offer."""

    answer = "editions"
    sheet: Sheet


class Against(PlanQuestion, kw_only=True):
    """What fails newly by another code edition, and what fixes it."""

    answer = "reexamined"
    against: Annotated[int, Meta(description="the code edition to check again by", examples=[2017])]


class Rule(Question, kw_only=True):
    """The page of a rule, of a disputed point, or a table beside them."""

    answer = "rule or point-shown or pages or box-table or points"
    name: Annotated[
        str,
        Meta(
            description="a rule, a disputed point, a trade word or a code section",
            examples=["box-fill-grounds", "plastic-tabs", "clamps", "314.16(B)(5)"],
        ),
    ]
    edition: Edition | None = None


class Rules(Question, kw_only=True):
    """All rules, tables and disputed points."""

    answer = "rules"


class Map(SheetQuestion, kw_only=True):
    """The drawing of the whole job, and where each place stands on it."""

    answer = "map-drawn"


class Words(Question, kw_only=True):
    """What the page offers to tap."""

    answer = "words"


class Packet(SheetQuestion, kw_only=True):
    """The inspection packet, a PDF."""

    answer = "packet-made"
    stock: StockText | None = None
    paper: Literal["letter", "a4"] | None = None
    only_failing: Annotated[bool, Meta(description="true: cards only of what does not pass")] | None = None
    job: Annotated[str, Meta(description="the id of the job whose photos are shown")] | None = None
    solver: UseSolver | None = None


class Workbook(SheetQuestion, kw_only=True):
    """The job as a workbook."""

    answer = "workbook-made"


class Import(Question, kw_only=True):
    """A sheet or workbook brought in."""

    answer = "brought-in"
    name: Annotated[str, Meta(description="the file's name, which says its kind", examples=["kiln.job"])]
    content: Annotated[str, Meta(description="the file, in base64", examples=["Ym94IEoxCg=="])]


QUESTIONS: dict[str, type[Question]] = {
    "ask": Ask,
    "job": Job,
    "standing": Standing,
    "check": Check,
    "show": Show,
    "box": BoxView,
    "edit": EditQuestion,
    "merge": Merge,
    "fits": Fits,
    "remedies": Remedies,
    "apply": Apply,
    "plan": Plan,
    "takeoff": Takeoff,
    "editions": Editions,
    "against": Against,
    "rule": Rule,
    "rules": Rules,
    "map": Map,
    "words": Words,
    "packet": Packet,
    "workbook": Workbook,
    "import": Import,
}
"""Every question by its name in the address."""


# ---- what else the server takes ------------------------------------------------------------------------------------

KeptSheet = Annotated[str, Meta(description="a job sheet's text", examples=[EXAMPLE], max_length=LARGEST_SHEET)]


class NewJob(Body, kw_only=True):
    """A sheet that becomes a job."""

    sheet: KeptSheet
    label: Label | None = None


class WholeSheet(Body, kw_only=True):
    """A sheet written anew, on top of a version."""

    base: BaseVersion
    sheet: KeptSheet
    label: Label | None = None


class Tap(Body, kw_only=True):
    """One change of a kept job, on top of a version."""

    base: BaseVersion
    edit: Edit
    box: BoxName | None = None
    edition: Edition | None = None
    patch: Annotated[bool, Meta(description="true: only the lines that changed come back")] | None = None


class OnTop(Body, kw_only=True):
    """A step back or forth, on top of a version."""

    base: BaseVersion


class StockFile(Body, kw_only=True):
    """The list of parts and prices to keep."""

    stock: Annotated[str, Meta(description="a stock file's text", max_length=LARGEST_STOCK)]


BODIES: tuple[type[Body], ...] = (NewJob, WholeSheet, Tap, OnTop, StockFile)
"""Every body the server takes beside the questions."""


# ---- as JSON schema ------------------------------------------------------------------------------------------------


def schemas() -> dict[str, dict[str, Any]]:
    """The JSON schema of every question and body by its class's name, ``Limits`` and ``Edit`` among them."""
    types: tuple[type[Body], ...] = (*QUESTIONS.values(), *BODIES)
    _, by_name = msgspec.json.schema_components(types, ref_template="#/components/schemas/{name}")
    return by_name
