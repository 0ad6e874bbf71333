"""The rules: one folder each, named for what it weighs. ``RULES`` has them in the order an answer shows them.

A rule's code is its folder's ``__init__.py``: a module of its own beside it would cost every cold check one more file.
"""

from ampleroom.rules import reminders
from ampleroom.rules.box import depth, fill, pull_box, side_entry, support_ratings, volume
from ampleroom.rules.conduit_body import passing, splices
from ampleroom.rules.raceway import bends, flexible, jam
from ampleroom.rules.raceway import fill as raceway_fill
from ampleroom.rules.raceway.reminders import bend_radius, cover_depth, expansion, supports
from ampleroom.rules.registry import Rule, rule_in

__all__ = ["RULES", "Rule"]

IN_ORDER = (
    *fill.IN_ORDER,
    *volume.IN_ORDER,
    *(splices, passing, depth, side_entry, pull_box, support_ratings),
    *(raceway_fill, flexible, bends, jam),
    *reminders.IN_ORDER,
    *(bend_radius, supports, expansion, cover_depth),
)

RULES: dict[str, Rule] = {rule.name: rule for rule in map(rule_in, IN_ORDER)}
