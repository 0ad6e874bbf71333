"""The facts about a box that may not be known, by the name under which a finding declares its worse end."""

from __future__ import annotations

from ampleroom.facts import End, Ends
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.space import exactly

VOLUMES = ("volume", "ring volume", "box size")
SIZES = ("cable size", "wire size", "ground size")
"""Of what comes in by a run."""
COUNTS = ("run count", "wires count", "ground")
"""How many runs or wires come in; ``ground``: whether a cable has one."""
BOX_WIRES = ("box wires size", "box wires count", "canopy")
"""Of wires written under the box and not by a run."""
CONTENTS = ("clamps", "gangs", "width", "connected size")
OTHER = ("loop", "insulation", "depth")
FIELDS = (*VOLUMES, *SIZES, *COUNTS, *BOX_WIRES, *CONTENTS, *OTHER)

LEANS_ON_NONE: Ends = dict.fromkeys(FIELDS, "neither")
"""For a finding on which no unknown fact bears."""

MAY_BE_NONE: End = (exactly(0), exactly(1), NO_LIMIT)
"""Of how many wires there are, where the first one tells what may be connected to a device, and more of them add to
it."""
