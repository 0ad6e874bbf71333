"""What people on a job call things, and the plain form of a sheet that each is read as. One table a family.

Common practice, no source. A word belongs here only if it has one meaning; one with several stands in ``ASKED`` with the
choices to write instead. No brand's word is read, and none is ever written. To add one, put it in its table and in the
table of the same name in ``docs/sheet.md``; a test holds the two together and reads every row.
"""

from __future__ import annotations

BOXES = {
    "1900": "square 4 x 1-1/2",
    "4 square": "square 4",
    "four square": "square 4",
    "4-11/16 square": "square 4-11/16",
    "square": "square",
    "sq": "square",
    "octagon": "octagon",
    "octagonal": "octagon",
    "oct": "octagon",
    "round": "octagon",
    "handy": "device 4 x 2-1/8",
    "utility": "device 4 x 2-1/8",
    "masonry": "masonry",
    "pancake": "pancake",
    "deep": "deep",
    "shallow": "shallow",
    "single gang": "1-gang",
    "one gang": "1-gang",
    "double gang": "2-gang",
    "two gang": "2-gang",
    "three gang": "3-gang",
    "four gang": "4-gang",
    "plastic": "plastic",
    "nonmetallic": "plastic",
    "fiberglass": "plastic",
    "metal": "metal",
    "steel": "metal",
    "nail-on": "plastic, mounted new-work",
    "nail on": "plastic, mounted new-work",
    "new work": "mounted new-work",
    "new-work": "mounted new-work",
    "old work": "mounted old-work",
    "old-work": "mounted old-work",
    "cut-in": "mounted old-work",
    "cut in": "mounted old-work",
    "remodel": "mounted old-work",
    "fan": "rated fan",
    "fan-rated": "rated fan",
    "device": "any",
    "switch": "any",
    "outlet": "any",
    "marked": "any",
    "box": "any",
}
"""What the words of a line about a box say of it. ``any``: no more than that it is a box."""

DEPTHS = {
    ("square", "4", "deep"): "2-1/8",
    ("square", "4-11/16", "deep"): "2-1/8",
    ("octagon", "4", "deep"): "2-1/8",
}
"""The one depth that ``deep`` means for a face."""

PARTS = {
    "extension ring": "extension ring",
    "ext ring": "extension ring",
    "ext. ring": "extension ring",
    "plaster ring": "plaster ring",
    "mud ring": "plaster ring",
    "p-ring": "plaster ring",
    "tile ring": "plaster ring",
    "device ring": "plaster ring",
    "raised cover": "raised cover",
    "industrial cover": "raised cover",
    "domed cover": "domed cover",
}

BOX_LINES = {
    "no clamps": "clamps none",
    "no clamp": "clamps none",
    "stapled": "clamps none",
    "no internal clamps": "clamps none",
    "internal clamps": "clamps inside",
    "clamps internal": "clamps inside",
    "inside clamps": "clamps inside",
    "built-in clamps": "clamps inside",
    "external clamps": "clamps outside",
    "clamps external": "clamps outside",
    "outside clamps": "clamps outside",
    "outside connectors": "clamps outside",
    "locknut connectors": "clamps outside",
    "2-screw connectors": "clamps outside",
    "two-screw connectors": "clamps outside",
    "push-in connectors": "clamps push-in",
    "snap-in connectors": "clamps push-in",
    "spring tabs": "clamps tabs",
    "plastic tabs": "clamps tabs",
    "wire connectors": "wire connectors",
    "blank cover": "blank cover",
    "twist-on connectors": "wire connectors",
    "splice connectors": "wire connectors",
    "splicing connectors": "wire connectors",
    "lever connectors": "wire connectors",
    "grounding screw": "ground screw",
    "green screw": "ground screw",
    "blank plate": "blank cover",
    "cover plate": "blank cover",
    "flat blank cover": "blank cover",
    "fixture stud": "stud",
    "ceiling fan": "carries fan",
    "paddle fan": "carries fan",
    "fan box": "rated fan",
}
"""Whole lines under a box. A count may stand before those that have one, and a weight after what a box carries."""

DEVICES = {
    "gfi": "gfci",
    "gfi receptacle": "gfci receptacle",
    "gfi outlet": "gfci receptacle",
    "3-way": "3-way switch",
    "3way": "3-way switch",
    "three-way": "3-way switch",
    "three way": "3-way switch",
    "3 way": "3-way switch",
    "4-way": "4-way switch",
    "4way": "4-way switch",
    "four-way": "4-way switch",
    "four way": "4-way switch",
    "4 way": "4-way switch",
    "sp": "single-pole switch",
    "single pole": "single-pole switch",
    "single-pole": "single-pole switch",
    "dp": "double-pole switch",
    "double pole": "double-pole switch",
    "double-pole": "double-pole switch",
    "sw": "switch",
    "duplex": "duplex receptacle",
    "recep": "receptacle",
    "recept": "receptacle",
    "recpt": "receptacle",
    "rec": "receptacle",
    "plug": "receptacle",
    "combo": "combination device",
    "occ sensor": "occupancy sensor",
    "occupancy": "occupancy sensor",
    "vacancy": "vacancy sensor",
    "motion": "motion sensor",
    "smoke": "smoke alarm",
    "smoke detector": "smoke alarm",
    "smoke det": "smoke alarm",
    "keyless": "keyless light",
    "keyless lampholder": "keyless light",
    "lampholder": "keyless light",
    "porcelain": "keyless light",
    "t-stat": "thermostat",
    "tstat": "thermostat",
    "stat": "thermostat",
    "speed control": "speed control",
    "tr": "tamper-resistant receptacle",
    "tamper-resistant": "tamper-resistant receptacle",
    "wr": "weather receptacle",
    "ig": "isolated-ground receptacle",
}
"""What a device is called. A device's own word may follow: ``sp switch``, ``3-way dimmer``, ``tr duplex``."""

CABLES = {
    "k&t": "knob-and-tube",
    "k-and-t": "knob-and-tube",
    "knob": "knob-and-tube",
    "thhn/thwn": "thhn",
    "thwn/thhn": "thhn",
    "thhn/thwn-2": "thhn",
    "blk": "black",
    "wht": "white",
    "grn": "green",
    "alum": "aluminum",
    "thru": "through",
    "ckt": "circuit",
    "cir": "circuit",
    "cct": "circuit",
    "lf": "ft",
    "thinwall": "emt",
    "rigid": "rmc",
    "grc": "rmc",
}
"""Words of a run."""

GROUNDS = ("w/g", "wg", "w/gnd", "w/grd", "w/ground", "w/gr")
"""Ways to say that a cable has its usual ground, which goes without saying."""
GROUND_WORDS = ("ground", "grounds", "gnd", "grd", "grnd", "egc", "g")
CONTROL_CABLES = ("thermostat", "t-stat", "tstat", "stat", "bell", "doorbell", "lv", "control")
"""After ``18/5``: a cable of so many class 2 conductors."""
DATA_CABLES = {"cat5": ("8", "24"), "cat5e": ("8", "24"), "cat6": ("8", "22"), "cat6a": ("8", "22"), "coax": ("1", "18"), "rg6": ("1", "18")}  # fmt: skip
"""How many class 2 conductors of which size; cat6 has #23, which is written as the next thicker."""
HOMERUNS = (("homerun",), ("home", "run"), ("home-run",), ("hr",))
TO = ("to", "-", "–", "—", "→", "->", ">")

HEADS = {
    "code": "edition",
    "nec": "edition",
    "project": "job",
    "ckt": "circuit",
    "cir": "circuit",
    "cct": "circuit",
    "junction": "box",
    "jbox": "box",
    "j-box": "box",
}
"""First words of a line."""

PANELS = {
    "1ph": "1-phase",
    "1-ph": "1-phase",
    "1 ph": "1-phase",
    "1 phase": "1-phase",
    "single phase": "1-phase",
    "single-phase": "1-phase",
    "3ph": "3-phase",
    "3-ph": "3-phase",
    "3 ph": "3-phase",
    "3 phase": "3-phase",
    "three phase": "3-phase",
    "three-phase": "3-phase",
    "main breaker": "main",
    "mcb": "main",
    "3w": "",
    "3-wire": "",
    "3 wire": "",
    "4w": "",
    "4-wire": "",
    "4 wire": "",
}
"""Words of a panel's line. The number of wires goes with the volts and the phases, and adds nothing."""

COUNTS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "a": "1"}

ASKED = {
    "5 square": ("which box is a 5 square?", "write square 4-11/16 x 2-1/8, or the volume marked in a 5 in. box: marked 42 in3"),
    "5 sq": ("which box is a 5 square?", "write square 4-11/16 x 2-1/8, or the volume marked in a 5 in. box: marked 42 in3"),
    "connectors": ("which connectors?", "write clamps outside (locknut), clamps push-in, or wire connectors (splices)"),
    "connector": ("which connectors?", "write clamps outside (locknut), clamps push-in, or wire connectors (splices)"),
    "light fixture": ("what comes in from the light fixture?", "write carries luminaire, and its wires: fixture wires 2 x #18 from domed canopy"),
    "ceiling light": ("what comes in from the ceiling light?", "write carries luminaire, and its wires: fixture wires 2 x #18 from domed canopy"),
    "pendant": ("what comes in from the pendant?", "write carries luminaire, and its wires: fixture wires 2 x #18 from domed canopy"),
    "chandelier": ("what comes in from the chandelier?", "write carries luminaire, and its wires: fixture wires 2 x #18 from domed canopy"),
}  # fmt: skip
"""Lines under a box that may mean several things: the question, and the choices."""
