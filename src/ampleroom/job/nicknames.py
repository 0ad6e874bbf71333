"""What people on a job call things, and the plain form of a sheet that each is read as. One table a family.

Common practice, no source. A word belongs here only if it has one meaning; one with several stands in ``ASKED`` with
the choices to write instead. No brand's word is read, and none is ever written. To add one, put it in its table and in
the table of the same name in ``docs/sheet.md``; a test holds the two together and reads every row.
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
    "ceiling pan": "pancake",
    "fan": "rated fan",
    "fan-rated": "rated fan",
    "fan rated": "rated fan",
    "existing": "existing",
    "weatherproof": "any",
    "wp": "any",
    "volume": "any",
    "vol": "any",
    "device": "any",
    "switch": "any",
    "outlet": "any",
    "marked": "any",
    "box": "any",
}
"""What the words of a line about a box say of it. ``any``: no more than that it is a box."""

BOX_WORDS_OF_NO_ROOM = (
    *("bracket", "brackets", "ko", "kos", "ko's", "knockout", "knockouts", "drawn", "welded", "gray", "deep-drawn"),
)
"""Words about a box that say nothing of its room; a size may stand before knockouts."""

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
    "ext": "extension ring",
    "extension": "extension ring",
    "plaster ring": "plaster ring",
    "plaster-ring": "plaster ring",
    "mud ring": "plaster ring",
    "mud-ring": "plaster ring",
    "mudring": "plaster ring",
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
    "internal clamp": "clamps inside",
    "int clamps": "clamps inside",
    "int clamp": "clamps inside",
    "inside clamp": "clamps inside",
    "clamp inside": "clamps inside",
    "clamps internal": "clamps inside",
    "inside clamps": "clamps inside",
    "built-in clamps": "clamps inside",
    "external clamps": "clamps outside",
    "clamps external": "clamps outside",
    "outside clamps": "clamps outside",
    "ext clamps": "clamps outside",
    "outside connectors": "clamps outside",
    "nm connectors": "clamps outside",
    "mc connectors": "clamps outside",
    "emt connectors": "clamps outside",
    "locknut connectors": "clamps outside",
    "2-screw connectors": "clamps outside",
    "two-screw connectors": "clamps outside",
    "push-in connectors": "clamps push-in",
    "snap-in connectors": "clamps push-in",
    "tabs": "clamps tabs",
    "spring tabs": "clamps tabs",
    "plastic tabs": "clamps tabs",
    "wire connectors": "wire connectors",
    "blank cover": "blank cover",
    "twist-on connectors": "wire connectors",
    "splice connectors": "wire connectors",
    "splicing connectors": "wire connectors",
    "lever connectors": "wire connectors",
    "wire caps": "wire connectors",
    "crimp sleeves": "wire connectors",
    "splices": "wire connectors",
    "grounding screw": "ground screw",
    "green screw": "ground screw",
    "gnd screw": "ground screw",
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
    "keyless fixture": "keyless light",
    "lampholder": "keyless light",
    "porcelain": "keyless light",
    "porcelain lampholder": "keyless light",
    "t-stat": "thermostat",
    "tstat": "thermostat",
    "stat": "thermostat",
    "speed control": "speed control",
    "tr": "tamper-resistant receptacle",
    "tamper-resistant": "tamper-resistant receptacle",
    "wr": "weather receptacle",
    "ig": "isolated-ground receptacle",
    "slider": "slide dimmer",
    "photocell": "photo sensor",
    "photo eye": "photo sensor",
    "co detector": "co alarm",
    "smoke/co": "smoke co alarm",
    "smoke co": "smoke co alarm",
    "smoke/co alarm": "smoke co alarm",
    "smoke/co detector": "smoke co alarm",
    "heat detector": "heat alarm",
    "half hot": "split receptacle",
    "switched receptacle": "receptacle",
    "switched outlet": "receptacle",
    "half-hot": "split receptacle",
    "simplex": "single receptacle",
    "cat6 jack": "data jack",
    "coax jack": "tv jack",
    "t'stat": "thermostat",
    "occ sens": "occupancy sensor",
    "occ": "occupancy sensor",
    "vac": "vacancy sensor",
}
"""What a device is called. A device's own word may follow: ``sp switch``, ``3-way dimmer``, ``tr duplex``."""
QUADS = {
    "quad": "2 x duplex receptacle",
    "quad receptacle": "2 x duplex receptacle",
    "quad recept": "2 x duplex receptacle",
    "double duplex": "2 x duplex receptacle",
}
"""Names of two devices side by side."""
ONE_YOKE = dict.fromkeys(
    ("on one yoke", "one yoke", "same yoke", "on same yoke", "on one strap", "same strap", "combo"), "+"
)
"""Words that say that two devices share a yoke."""

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
    "via": "through",
    "ckts": "circuit",
    "exist": "existing",
    "exst": "existing",
}
"""Words of a run."""

RACEWAYS = {
    "thinwall": "emt",
    "rigid": "rmc",
    "grc": "rmc",
    "flex": "fmc",
    "pvc sch 40": "pvc-40",
    "sch 40 pvc": "pvc-40",
    "sched 40 pvc": "pvc-40",
    "sch40 pvc": "pvc-40",
    "pvc sch40": "pvc-40",
    "pvc 40": "pvc-40",
    "sch 40": "pvc-40",
    "sch40": "pvc-40",
    "pvc40": "pvc-40",
    "pvc sch 80": "pvc-80",
    "sch 80 pvc": "pvc-80",
    "sched 80 pvc": "pvc-80",
    "sch80 pvc": "pvc-80",
    "pvc sch80": "pvc-80",
    "pvc 80": "pvc-80",
    "sch 80": "pvc-80",
    "sch80": "pvc-80",
    "pvc80": "pvc-80",
}
"""What a raceway is called, beside its trade size."""
ASKED_RACEWAYS = {
    "pvc": ("PVC", ("pvc-40", "pvc-80")),
    "liquidtight": ("liquidtight", ("lfmc", "lfnc-b")),
    "liquid-tight": ("liquidtight", ("lfmc", "lfnc-b")),
    "c": ("conduit", ("emt", "rmc", "pvc-40")),
    "conduit": ("conduit", ("emt", "rmc", "pvc-40")),
    "pipe": ("conduit", ("emt", "rmc", "pvc-40")),
}
"""Raceways that may be of several kinds: their name, and the kinds to choose from."""
RUN_LABELS = (
    *(
        "travelers",
        "traveler",
        "switch leg",
        "switch loop",
        "sw leg",
        "switchleg",
        "lights",
        "lighting",
        "light",
        "feed",
    ),
    *(
        "power",
        "recepts",
        "receptacles",
        "plugs",
        "outlets",
        "fan",
        "disposal",
        "dishwasher",
        "fridge",
        "smokes",
        "spare",
        "mwbc",
    ),
)
"""What a run is for, as it is written at the end of its line without ``for``."""
ABOUT_A_LENGTH = ("approx", "about", "abt", "approximately", "roughly", "~")
"""Words before a length that is only estimated; the length is taken as written."""
OF_RUNS = ("-", "runs", "run", "of", "cables", "pcs", "pieces", "ea", "each")
"""Words that may stand between a count and its cable."""

GROUNDS = ("w/g", "wg", "w/gnd", "w/grd", "w/ground", "w/gr")
"""Ways to say that a cable has its usual ground, which goes without saying."""
GROUND_WORDS = ("ground", "grounds", "gnd", "grd", "grnd", "egc", "g")
CONTROL_CABLES = (
    *(
        "thermostat",
        "t-stat",
        "tstat",
        "t'stat",
        "stat",
        "bell",
        "doorbell",
        "lv",
        "control",
        "speaker",
        "alarm",
        "security",
    ),
    *("intercom", "signal", "sensor", "low-voltage"),
)
"""After ``18/5``: a cable of so many class 2 conductors."""
DATA_CABLES = {
    "cat5": ("8", "24"),
    "cat5e": ("8", "24"),
    "cat6": ("8", "22"),
    "cat6a": ("8", "22"),
    "coax": ("1", "18"),
    "rg6": ("1", "18"),
}
"""How many class 2 conductors of which size; cat6 has #23, which is written as the next thicker."""
HOMERUNS = (("homerun",), ("home", "run"), ("home-run",), ("hr",))
TO = ("to", "-", "–", "—", "→", "->", ">")

WIREWAYS = {
    "wireway": "wireway",
    "trough": "wireway",
    "wire trough": "wireway",
    "wiring trough": "wireway",
    "gutter": "gutter",
    "aux gutter": "gutter",
    "auxiliary gutter": "gutter",
    "wiring gutter": "gutter",
}
"""What a wireway and a gutter are called."""

HEADS = {
    "code": "edition",
    "nec": "edition",
    "project": "job",
    "ckt": "circuit",
    "cir": "circuit",
    "cct": "circuit",
    "addr": "address",
    "location": "address",
    "notes": "note",
    "electrician": "contractor",
    "equip": "equipment",
    "subpanel": "panel",
    "sub-panel": "panel",
    "junction": "box",
    "jb": "box",
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
    "breaker": "",
    "mlo": "",
    "main lugs only": "",
    "main lugs": "",
    "main lug": "",
    "lugs only": "",
    "sub": "",
    "subpanel": "",
    "sub-panel": "",
    "3w": "",
    "3-wire": "",
    "3 wire": "",
    "4w": "",
    "4-wire": "",
    "4 wire": "",
}
"""Words of a panel's line. Empty: nothing that a box needs."""

COUNTS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "a": "1"}

FIVE_SQUARE = (
    "which box is a 5 square?",
    "write square 4-11/16 x 2-1/8, or the volume marked in a 5 in. box: marked 42 in3",
)
CONNECTORS = ("which connectors?", "write clamps outside (locknut), clamps push-in, or wire connectors (splices)")
CLAMPS = ("where are the clamps?", "write clamps inside, clamps outside, or clamps none")
DIVIDER = ("is the divider metal or plastic?", "write barrier metal, or barrier plastic")
ARMORED = ("which armored cable?", "write ac or mc after the size, such as 12/2 ac")

ASKED = (
    {
        "5 square": FIVE_SQUARE,
        "5 sq": FIVE_SQUARE,
        "connectors": CONNECTORS,
        "connector": CONNECTORS,
        "clamps": CLAMPS,
        "clamp": CLAMPS,
        "divider": DIVIDER,
        "low voltage divider": DIVIDER,
        "lv divider": DIVIDER,
        "partition": DIVIDER,
        "cover": ("which cover?", "write blank cover, raised cover or domed cover"),
        "grounds": (
            "which grounds?",
            "write pigtail #12 ground for one that never leaves the box; those of the runs are counted already",
        ),
        "bond jumper": ("which size is the bonding jumper?", "write bonding jumper #8"),
        "jumper": ("which jumper?", "write bonding jumper #8, or pigtail #12 if it never leaves the box"),
    }
    | {
        name: (
            f"what comes in from the {name}?",
            "write carries luminaire, and its wires: fixture wires 2 x #18 from domed canopy",
        )
        for name in (
            *(
                "light fixture",
                "ceiling light",
                "pendant",
                "chandelier",
                "fixture",
                "luminaire",
                "sconce",
                "wall light",
            ),
            *("vanity light", "bath light", "can light", "recessed light", "surface light", "track light"),
        )
    }
    | {
        name: (
            f"is the {name} supported by this box?",
            "write carries fan 40 lb if it is; if it has a wiring box of its own, write equipment NAME and a run to it",
        )
        for name in ("exhaust fan", "bath fan", "vent fan")
    }
    | {
        name: (
            f"is the {name} inside the box?",
            f"write module #12 2.1 in3 if it is; if only its wires come in, write leads 3 x #16 for {name}",
        )
        for name in ("relay", "transformer", "chime", "doorbell", "driver", "power pack")
    }
)
"""Lines under a box that may mean several things: the question, and the choices."""
