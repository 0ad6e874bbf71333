"""What stands around a box on its screen: the boxes before and after it, the one to copy, and the keys this job asks
for.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Any

from ampleroom.job.cables import COMMON
from ampleroom.job.model import Base, Box, Clamps, Device, Job
from ampleroom.job.one_line import read_item
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable
from ampleroom.job.writer import written
from ampleroom.quantities import number
from ampleroom.web.edits import clamps_words, item_words, next_name, run_words
from ampleroom.words import CABLE_UNKNOWN, DEVICE_UNKNOWN, alike_words, lowered

BOX_KEYS, CABLE_KEYS, DEVICE_KEYS = 3, 3, 2
"""So many keys of each there are, beside the one for any other and the one for not known."""
USUAL_BOXES = ("square 4 x 1-1/2", "square 4 x 2-1/8", "device 3 x 2 x 3-1/2")
USUAL_DEVICES = ("receptacle", "switch")
"""What is offered before a job has any of its own. Common practice, no source."""
SHORT_SHAPES = {"square": "sq", "octagon": "oct"}


def around(job: Job, box: Box) -> dict[str, Any]:
    """The boxes before and after this one, the name a new one would get, the box to copy, and the keys."""
    names = [other.name for other in job.boxes]
    at = names.index(box.name)
    return {
        "previous": names[at - 1] if at else "",
        "next": names[at + 1] if at + 1 < len(names) else "",
        "new": next_name(job),
        "like": like(job, box, at),
        "boxes": box_keys(job, box),
        "cables": cable_keys(job),
        "uses_cables": any(run.cable is not None for run in job.runs),
        "devices": device_keys(job, box),
    }


def like(job: Job, box: Box, at: int) -> dict[str, str] | None:
    """The last box before this one that has something in it, else the last of all; in a few words what it has."""
    for other in (*reversed(job.boxes[:at]), *reversed(job.boxes[at + 1 :])):
        says = contents_words(job, other)
        if says:
            return {"box": other.name, "says": says}
    return None


def contents_words(job: Job, box: Box) -> str:
    """What is in a box in a few words: ``square 4 x 1-1/2, three 12/2, one receptacle, clamps inside``."""
    items = job.items(box)
    cables: Counter[str] = Counter()
    for run, _ in job.graph_at(box.name).runs_at.get(box.name, ()):
        cables[CABLE_UNKNOWN if run_words(run) == lowered(CABLE_UNKNOWN) else run_words(run)] += (
            1 if run.count is UNKNOWN else run.count
        )
    devices: Counter[str] = Counter()
    for item in items:
        if isinstance(item, Device):
            devices[DEVICE_UNKNOWN if item.names == ("device",) else item_words(item)] += item.count
    base = next((written(item) for item in items if isinstance(item, Base)), "")
    clamps = next((clamps_words(item) for item in items if isinstance(item, Clamps)), "")
    if not base and not cables:
        return ""
    return ", ".join(filter(None, (base, *(alike_words(n, name) for name, n in (cables + devices).items()), clamps)))


# ---- keys ----------------------------------------------------------------------------------------------------------


def most_used(used: Iterable[str], usual: Iterable[str], most: int) -> list[str]:
    """What a job uses most, with its last one among them, filled up with the usual; always in one order, so that keys
    keep their places from box to box.
    """
    met = list(used)
    counted = [name for name, _ in Counter(met).most_common(most)]
    if met and met[-1] not in counted:
        counted[-1] = met[-1]
    order = list(dict.fromkeys([*usual, *met]))
    filled = [*counted, *(name for name in usual if name not in counted)][:most]
    return sorted(filled, key=order.index)


def box_keys(job: Job, box: Box) -> list[dict[str, str]]:
    """What a box can be set to by one tap: its line, two short lines for the key, and the clamps such a box had
    last.
    """
    clamps: dict[str, str] = {}
    used = []
    for other in job.boxes:
        items = job.items(other)
        base = next((item for item in items if isinstance(item, Base)), None)
        if other.name == box.name or base is None or UNKNOWN in (base.volume, base.size):
            continue
        used.append(written(base))
        way = next((item.way for item in items if isinstance(item, Clamps)), None)
        if way is not None and way is not UNKNOWN:
            clamps[used[-1]] = str(way)
    return [
        {"line": line, **key_words(line), "clamps": clamps.get(line, "")}
        for line in most_used(used, USUAL_BOXES, BOX_KEYS)
    ]


def key_words(line: str) -> dict[str, str]:
    """A line that says what a box is, in two short lines: ``4 sq`` and ``1-1/2``."""
    try:
        base = read_item(line)
    except Unreadable:
        base = None
    if isinstance(base, Base) and base.form == "standard":
        face, _, depth = str(base.size).rpartition(" x ")
        short = SHORT_SHAPES.get(base.shape)
        return {"top": f"{face} {short}" if short else base.shape, "bottom": depth or str(base.size)}
    if isinstance(base, Base) and base.volume is not None and base.volume is not UNKNOWN:
        gangs = f"{base.gangs}-gang" if base.gangs else ""
        return {"top": base.material or gangs or base.form, "bottom": number(base.volume)}
    return {"top": line.split()[0], "bottom": " ".join(line.split()[1:])[:10]}


def cable_keys(job: Job) -> list[dict[str, str]]:
    """The cables this job uses most: as the sheet names them, and as the key does."""
    used = [run.cable.name for run in job.runs if run.cable is not None and "?" not in run.cable.name]
    known = most_used(used, COMMON, CABLE_KEYS)
    return [{"name": name, "text": name.removesuffix(" nm-b")} for name in known]


def device_keys(job: Job, box: Box) -> list[str]:
    """The devices this job uses most."""
    used = [
        item.names[0]
        for other in job.boxes
        if other.name != box.name
        for item in job.items(other)
        if isinstance(item, Device) and len(item.names) == 1 and item.names != ("device",)
    ]
    return most_used(used, USUAL_DEVICES, DEVICE_KEYS)
