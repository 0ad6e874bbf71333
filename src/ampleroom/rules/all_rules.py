"""Every rule by its name, in the order an answer shows them. A check does without this list: it loads the rules of the
kinds of subject its job has.
"""

from ampleroom.rules.box.judge.other_findings import finding_rules
from ampleroom.rules.box.judge.weighing import FILL_RULES, REMINDER_RULES, ROOM_RULES
from ampleroom.rules.circuit import judge as circuit
from ampleroom.rules.load import judge as load
from ampleroom.rules.panel import judge as panel
from ampleroom.rules.raceway import judge as raceway
from ampleroom.rules.registry import Rule
from ampleroom.rules.wireway import judge as wireway

IN_ORDER = (
    *(*FILL_RULES, *ROOM_RULES),
    *(*finding_rules(), *raceway.FINDINGS, *wireway.FINDINGS, *circuit.FINDINGS, *load.FINDINGS, *panel.FINDINGS),
    *(*REMINDER_RULES, *raceway.REMINDERS, *wireway.REMINDERS, *circuit.REMINDERS, *load.REMINDERS, *panel.REMINDERS),
)

RULES: dict[str, Rule] = {rule.name: rule for rule in IN_ORDER}
