"""Rule pages: what a rule says, why, how it differs by edition, a worked example, its sources.

All of it is made from the objects that judge: the rule's own words, its tables, and a check of its example. ``look_up``
finds a page by name, trade word or code section; ``explain`` makes the page of a rule; ``box_table`` is what
``rule box`` prints; ``as_json`` has all of them as JSON.
"""

from ampleroom.explain.box_table import BoxRow, BoxTable, box_table
from ampleroom.explain.by_edition import Period, Sure, periods, provisional_note
from ampleroom.explain.look_up import BOX, DISPUTED, PageName, PagesFound, PageUnknown, look_up
from ampleroom.explain.rule_page import RulePage, explain

__all__ = [
    "BOX",
    "DISPUTED",
    "BoxRow",
    "BoxTable",
    "PageName",
    "PageUnknown",
    "PagesFound",
    "Period",
    "RulePage",
    "Sure",
    "box_table",
    "explain",
    "look_up",
    "periods",
    "provisional_note",
]
