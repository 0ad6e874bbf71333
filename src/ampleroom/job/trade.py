"""Facts of the trade that no edition changes: conductor sizes in order, colors, words for devices. Common practice, no
source.
"""

from __future__ import annotations

from functools import cache

SIZES = (
    *("24", "22", "20", "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1"),
    *("1/0", "2/0", "3/0", "4/0"),
    *("250", "300", "350", "400", "500", "600", "700", "750", "800", "900", "1000", "1250", "1500", "1750", "2000"),
)
RANK = {size: rank for rank, size in enumerate(SIZES)}
"""Thinner to thicker; sizes above 4/0 are in kcmil."""


BRANCH_SIZES = ("14", "12", "10")
"""Sizes of branch wiring whose cables carry a ground of the same size."""

THINNEST_GROUND = "14"
"""What the least branch circuit has; a thinner ground is written as such."""

THINNEST_OLD_GROUND = "18"
"""No ground of old cable was thinner, by inspectors' accounts."""

SMALLEST_KCMIL = 250
"""From this size on a conductor is named by its thousands of circular mils."""

CABLE_SIZES = (*BRANCH_SIZES, "8", "6")
"""Sizes a cable of any kind may be bought in, as far as box fill counts them."""


@cache
def size_text(size: object) -> str:
    """``#12``, ``#1/0``, ``250 kcmil``, ``#?``."""
    text = str(size)
    return f"{text} kcmil" if text.isdigit() and int(text) >= 250 else f"#{text}"


TWO_HOTS = 240
"""Volts between the two hots of a dwelling's service. Common practice, no source."""
USUAL_VOLTS = 120
"""Of a circuit whose line and panel say nothing else: at any other usual voltage the same load draws less."""

ONE_POLE_VOLTS = (120, 277, 347)
"""From a hot to the neutral: what a breaker of one pole feeds. Common practice, no source."""

THREE_PHASE = 3

MOTOR_VOLTS = {115: (110, 120), 200: (200, 200), 208: (208, 208), 230: (220, 240), 460: (440, 480), 575: (550, 600)}
"""The volts of a motor, and the supplies it is made for, from and to. From memory, as the tables of motors have it."""

THINNEST_IN_PARALLEL = "1/0"
"""Thinner conductors are not run in parallel. From memory."""

COLORS = (
    *("black", "white", "red", "blue", "green", "yellow", "brown", "orange", "gray", "purple", "pink", "tan"),
    *("white-striped", "black-striped", "red-striped", "green-yellow", "bare"),
)

METAL_RACEWAYS = ("emt", "imc", "rmc", "fmc", "lfmc")
ARMORED_CABLES = ("mc", "ac")

NEUTRAL_COLORS = ("white", "gray", "white-striped")
"""A conductor of these is the grounded one: the neutral of a circuit that has one. From memory."""
GROUND_COLORS = ("green", "green-yellow", "bare")
"""A conductor of these colors is an equipment ground, whether or not the sheet calls it one."""

INSULATIONS = (
    *("thhn", "thwn", "thwn-2", "xhh", "xhhw", "xhhw-2", "zw", "tw", "thw", "thhw", "thw-2", "rhh", "rhw", "rhw-2"),
    *(
        "tfn",
        "tffn",
        "rfh-1",
        "rfh-2",
        "ffh-2",
        "sf-1",
        "sff-1",
        "sf-2",
        "sff-2",
        "tf",
        "tff",
        "xf",
        "xff",
        "pf",
        "paf",
    ),
    *("ptf", "pgf", "pff", "paff", "ptff", "pgff", "zf", "zff", "tfe", "fep", "pfa", "fepb", "pfah"),
    *("rubber", "cloth", "knob-and-tube"),
)

ROOMS = {
    "kitchen": "kitchen",
    "bar": "bar",
    "wet bar": "bar",
    "bathroom": "bathroom",
    "bath": "bathroom",
    "powder room": "bathroom",
    "laundry": "laundry",
    "laundry room": "laundry",
    "utility room": "utility room",
    "utility": "utility room",
    "garage": "garage",
    "outdoors": "outdoors",
    "outside": "outdoors",
    "outdoor": "outdoors",
    "crawl space": "crawl space",
    "crawlspace": "crawl space",
    "crawl": "crawl space",
    "attic": "attic",
    "basement unfinished": "basement unfinished",
    "unfinished basement": "basement unfinished",
    "basement finished": "basement finished",
    "finished basement": "basement finished",
    "boathouse": "boathouse",
    "shed": "shed",
    "accessory building": "shed",
    "damp place": "damp place",
    "wet place": "damp place",
    "bedroom": "bedroom",
    "living room": "living room",
    "family room": "family room",
    "dining room": "dining room",
    "parlor": "parlor",
    "library": "library",
    "den": "den",
    "office": "den",
    "study": "den",
    "sunroom": "sunroom",
    "recreation room": "recreation room",
    "rec room": "recreation room",
    "closet": "closet",
    "pantry": "closet",
    "hallway": "hallway",
    "hall": "hallway",
    "entry": "hallway",
    "foyer": "hallway",
    "stairway": "hallway",
    "stairs": "hallway",
}
"""Rooms and places of a dwelling, by what a sheet may call each. What the code calls similar rooms is the nearest of
them, on the safe side: an office is a den, a pantry a closet, a stairway a hallway. Common practice, no source."""

ROOMS_WITH_SINKS = ("kitchen", "bar", "laundry", "utility room")
"""Rooms of which it is asked whether a receptacle is near the sink. Common practice, no source."""
USUAL_RECEPTACLE = 15
"""Amperes of a receptacle on a small circuit where nobody wrote them. Common practice, no source."""
RECEPTACLES_BY_NAME = {"dryer": 30, "range": 50}
"""Amperes of a receptacle by what it is for. Common practice, no source."""
NOMINAL_120 = (110, 115, 120, 125, 127)
"""Volts that people write for 120. Common practice, no source."""

DEVICES = (
    *("switch", "dimmer", "receptacle", "gfci", "afci", "timer", "sensor", "thermostat", "control", "alarm", "jack"),
    *("light", "heater", "fan", "outlet", "device", "equipment", "blank"),
)
"""What sits on a yoke or strap: devices, and utilization equipment. ``device`` where nobody knows which; ``blank`` is a
blank plate."""

DEVICE_KINDS = (
    *("single-pole", "double-pole", "3-way", "4-way", "single", "duplex", "locking", "range", "dryer", "pilot", "usb"),
    *(
        "smart",
        "fan",
        "motion",
        "gfci",
        "afci",
        "smoke",
        "weather",
        "tamper-resistant",
        "speed",
        "night",
        "wifi",
        "data",
    ),
    *("keyless", "occupancy", "vacancy", "photo", "co", "heat", "split", "clock", "countdown", "digital"),
    *("led", "decorator", "toggle", "rocker", "slide", "tv", "phone"),
    *("combination", "dimmer", "switch", "timer", "isolated-ground"),
)
"""Words that may stand before a device's word."""

LEGS_OF_A_PANEL = ("A", "B", "C")
"""The legs of a panel, row by row from the top, and again. Common practice, no source."""
