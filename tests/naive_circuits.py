"""A second reading of circuits, from nothing but the rules and the tables, typed a second time.

It makes a random circuit, writes it as a sheet, and says what each rule should find. It shares no code with the core
and reads none of its tables. Every fact is known: what nobody knows is the business of ``tests/test_bounds.py``.

The numbers are those of the collection of published tables: ampacities and factors by the heat around (two sources
each, the 2008 factors above 60 C from memory), percents by company, ratings of breakers, motors.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from random import Random
from typing import Any

YEARS = (2008, 2011, 2014, 2017, 2020, 2023)


def cells(text: str) -> list[str]:
    """The cells of a row."""
    return text.split()


SIZES = cells("14 12 10 8 6 4 3 2 1 1/0 2/0 3/0 4/0 250 300 350 400 500 600")
COPPER = cells(
    "15/20/25 20/25/30 30/35/40 40/50/55 55/65/75 70/85/95 85/100/115 95/115/130 110/130/145 125/150/170 145/175/195 "
    "165/200/225 195/230/260 215/255/290 240/285/320 260/310/350 280/335/380 320/380/430 350/420/475"
)
ALUMINUM = cells(
    "- 15/20/25 25/30/35 35/40/45 40/50/55 55/65/75 65/75/85 75/90/100 85/100/115 100/120/135 115/135/150 130/155/175 "
    "150/180/205 170/205/230 195/230/260 210/250/280 225/270/305 260/310/350 285/340/385"
)
BEFORE_2011 = {
    ("copper", "14"): "20/20/25",
    ("copper", "12"): "25/25/30",
    ("copper", "3"): "85/100/110",
    ("copper", "1"): "110/130/150",
    ("copper", "600"): "355/420/475",
    ("aluminum", "12"): "20/20/25",
    ("aluminum", "8"): "30/40/45",
    ("aluminum", "6"): "40/50/60",
    ("aluminum", "300"): "190/230/255",
}
AROUND = (
    "10:1.29/1.20/1.15 15:1.22/1.15/1.12 20:1.15/1.11/1.08 25:1.08/1.05/1.04 30:1/1/1 35:0.91/0.94/0.96 "
    "40:0.82/0.88/0.91 45:0.71/0.82/0.87 50:0.58/0.75/0.82 55:0.41/0.67/0.76 60:-/0.58/0.71 65:-/0.47/0.65 "
    "70:-/0.33/0.58 75:-/-/0.50 80:-/-/0.41 85:-/-/0.29"
)
AROUND_2008 = (
    "25:1.08/1.05/1.04 30:1/1/1 35:0.91/0.94/0.96 40:0.82/0.88/0.91 45:0.71/0.82/0.87 50:0.58/0.75/0.82 "
    "55:0.41/0.67/0.76 60:-/0.58/0.71 70:-/0.33/0.58 80:-/-/0.41"
)
RATINGS = (
    *(15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450),
    *(500, 600, 700, 800, 1000),
)
CAPS = {("copper", "14"): 15, ("copper", "12"): 20, ("copper", "10"): 30}
CAPS |= {("aluminum", "12"): 15, ("aluminum", "10"): 25}
RATED = {"tw": 60, "thw": 75, "thhn": 90, "xhhw-2": 90, "thwn-2": 90}
MOTORS: dict[int, dict[str, tuple[Any, Any]]] = {
    1: {"1": (16, 8), "2": (24, 12), "3": (34, 17), "5": (56, 28), "10": (100, 50)},
    3: {"5": (None, Fraction("15.2")), "7-1/2": (None, 22), "10": (None, 28), "25": (None, 68), "50": (None, 130)},
}
"""Amperes at 115 V and at 230 V, by phases and horsepower."""


def table(year: int, material: str, size: str, column: int) -> Fraction:
    """The ampacity of the table."""
    row = (COPPER if material == "copper" else ALUMINUM)[SIZES.index(size)]
    if year < 2011:
        row = BEFORE_2011.get((material, size), row)
    return Fraction(row.split("/")[(60, 75, 90).index(column)])


def around(year: int, celsius: Fraction, column: int) -> Fraction | None:
    """The factor for how warm it is; None where the table ends."""
    rows = [row.split(":") for row in (AROUND_2008 if year < 2011 else AROUND).split()]
    if year < 2011 and celsius < 21:
        return Fraction(1)
    for top, factors in rows:
        if celsius <= int(top):
            cell = factors.split("/")[(60, 75, 90).index(column)]
            return None if cell == "-" else Fraction(cell)
    return None


def company(carrying: int) -> Fraction:
    """What is kept beside others."""
    for up_to, percent in ((3, 100), (6, 80), (9, 70), (20, 50), (30, 45), (40, 40)):
        if carrying <= up_to:
            return Fraction(percent, 100)
    return Fraction(35, 100)


def sun(year: int, inches: Fraction | None, insulation: str, in_raceway: bool) -> int:
    """What the sun on a roof adds, degrees C. XHHW-2 is left out from 2014 on; before 2014 only raceways count."""
    if inches is None or (insulation == "xhhw-2" and year >= 2014):
        return 0
    if year >= 2017:
        return 33 if inches < (Fraction(3, 4) if year >= 2023 else Fraction(7, 8)) else 0
    if year < 2014 and not in_raceway:
        return 0
    return next((adds for top, adds in ((0.5, 33), (3.5, 22), (12, 17), (36, 14)) if inches <= top), 0)


def next_up(amperes: Fraction, year: int) -> Fraction:
    """The next rating."""
    ratings = (10, *RATINGS) if year >= 2023 else RATINGS
    return min((Fraction(rating) for rating in ratings if rating >= amperes), default=amperes)


class Circuit:
    """A random circuit, the sheet it is written on, and what each rule should find."""

    def __init__(self, seed: str) -> None:
        pick = self.pick = Random(seed)
        self.year = pick.choice(YEARS)
        self.terminals = pick.choice((60, 75))
        self.volts = pick.choice((120, 240, 240))
        self.material = pick.choice(("copper", "copper", "copper", "aluminum"))
        self.plugs = pick.random() < 0.25
        self.by_nameplate = not self.plugs and pick.random() < 0.2
        self.phases = 3 if not self.plugs and pick.random() < 0.15 else 1
        self.horsepower = "" if self.plugs or self.by_nameplate or pick.random() < 0.75 else self.a_motor()
        self.lines: list[str] = []
        self.ampacities: list[Fraction | None] = []
        self.before: list[Fraction] = []
        self.sizes: list[str] = []
        self.cables = self.material == "copper" and pick.random() < 0.45
        end = "J" if self.plugs else "M"
        if self.cables:
            self.of_cables(end)
        else:
            self.of_wires(end)
        self.settle()

    def a_motor(self) -> str:
        if self.phases == 3:
            self.volts = 240
        return self.pick.choice(list(MOTORS[self.phases]))

    # ---- how it lies -------------------------------------------------------------------------------------------------

    def some_heat(self, length: int) -> tuple[str, Fraction, Fraction | None, int]:
        """Words of a route, its heat, its height above a roof, and how long it is."""
        pick = self.pick
        celsius = pick.choice((Fraction(30), Fraction(30), Fraction(pick.randrange(5, 70))))
        height = pick.choice((None, None, None, Fraction(pick.randrange(1, 300), 8)))
        hot = pick.choice((length, length, max(1, length // 2), pick.randrange(1, 13)))
        words = f"{hot} ft" + ("" if celsius == 30 else f" ambient {celsius} C")
        if height is not None:
            words += f" rooftop {float(height):g} in"
        return words, celsius, height, min(hot, length)

    def of_wires(self, end: str) -> None:
        """Single wires in a raceway, with those of other circuits, part of it in the heat."""
        pick = self.pick
        length = pick.choice((2, 20, 60, 120))
        size = pick.choice([each for each in SIZES if self.material == "copper" or each != "14"][:14])
        insulation = pick.choice(list(RATED))
        own = pick.choice((2, 3)) if self.phases == 1 else 3
        heat, celsius, height, hot = self.some_heat(length)
        metal = " aluminum" if self.material == "aluminum" else ""
        size_text = f"{size} kcmil" if size.isdigit() and int(size) >= 250 else f"#{size}"
        words = (
            f"wires P > {end} {own} x {size_text} {insulation}{metal}, ground #8 in R1 by hall {length} ft circuit 1"
        )
        self.lines += [f"raceway R1 P > {end} emt 4 {length} ft", f"route hall {heat}", words]
        carrying = own
        if own == 3 and self.volts == 240 and self.phases == 1:
            carrying = 2  # its neutral carries what the two hots leave over
        for _ in range(pick.choice((0, 0, 1, 2, 4))):
            many = pick.choice((2, 3, 4))
            self.lines.append(f"wires P > {end} {many} x #12 thhn in R1 {length} ft")
            carrying += many
        column = RATED[insulation]
        kept = Fraction(1) if length <= 2 else company(carrying)
        base = table(self.year, self.material, size, column) * kept
        factor = around(self.year, celsius + sun(self.year, height, insulation, True), column)
        hot_one = None if factor is None else base * factor
        self.finish(size, column, [(hot, hot_one), (length - hot, base)], length, least=None)

    def of_cables(self, end: str) -> None:
        """Cables of their own along a route, apart or together."""
        pick = self.pick
        length = pick.choice((1, 12, 40, 110))
        size = pick.choice(("14", "12", "10", "8", "6"))
        cables = pick.choice((1, 2, 3, 4, 5, 11))
        together = pick.choice(("bundled", "spaced"))
        is_sealed = together == "bundled" and pick.random() < 0.3
        in_insulation = pick.random() < 0.3
        heat, celsius, height, hot = self.some_heat(length)
        flags = f"{' sealed' if is_sealed else ''}{' in insulation' if in_insulation else ''} {together}"
        self.lines.append(f"route hall {heat}{flags}")
        ground = ", ground #10" if size in ("8", "6") else ""
        self.lines.append(f"run P > {end} {cables} x {size}/2 nm-b{ground} {length} ft by hall circuit 1")
        written = int(heat.split()[0])
        is_adjusted = together == "bundled" and (written > 2 or (cables > 2 and (is_sealed or in_insulation)))
        no_relief = is_sealed or (in_insulation and self.year >= 2023)
        kept = company(2 * cables) if is_adjusted else Fraction(1)
        base = table(self.year, "copper", size, 90)
        factor = around(self.year, celsius + sun(self.year, height, "", False), 90)
        there = None if factor is None else base * kept * factor
        self.finish(
            size, 90, [(hot, there), (length - hot, base)], length, least=60, is_relieved=False if no_relief else None
        )

    def finish(
        self,
        size: str,
        column: int,
        parts: list[tuple[int, Any]],
        length: int,
        least: int | None,
        is_relieved: bool | None = None,
    ) -> None:
        """The ampacity of a run: the least of its parts, a short one left aside where that is allowed."""
        (hot, hot_one), (rest, base) = parts
        amperes: Fraction | None
        if hot_one is None:
            amperes = None
        elif hot_one >= base:
            amperes = base if rest else hot_one
        else:
            short = is_relieved is not False and hot <= 10 and hot * 10 <= rest
            amperes = base if short else hot_one
        if amperes is not None:
            amperes = min(amperes, table(self.year, self.material, size, self.column_at_ends()))
            if least is not None:
                amperes = min(amperes, table(self.year, self.material, size, least))
        self.sizes.append(size)
        self.ampacities.append(amperes)
        self.before.append(table(self.year, self.material, size, least or self.column_at_ends()))

    def column_at_ends(self) -> int:
        return self.terminals

    # ---- what it serves ----------------------------------------------------------------------------------------------

    def settle(self) -> None:
        """A breaker and a load near to what decides."""
        pick = self.pick
        amperes = self.ampacities[0] or Fraction(20)
        near = sorted(RATINGS, key=lambda rating: abs(rating - amperes))[:4]
        self.breaker = pick.choice(near)
        self.load: int | None = None
        self.continuous = pick.random() < 0.4
        words = [f"circuit 1 {self.breaker} A {self.volts} V", f"terminals {self.terminals} C"]
        if self.phases == 3:
            words.append("3-phase")
        self.serves = ""
        if pick.random() < 0.7:
            if not self.horsepower and not self.by_nameplate and self.phases == 1:
                self.serves = pick.choice(("", "", "range", "range", "water heater"))
            least, most = {"range": (60, 210), "water heater": (25, 110)}.get(self.serves, (60, 110))
            self.load = int(amperes * self.volts * Fraction(pick.randrange(least, most), 100)) or 1
            words += [f"{self.load} VA", f"serves {self.serves}" if self.serves else ""]
            if self.continuous:
                words.append("continuous")
        if self.horsepower:
            words.append(f"motor {self.horsepower} hp {self.phases}-phase")
        self.mca: Fraction | None = None
        self.mocp: int | None = None
        if self.by_nameplate:
            if pick.random() < 0.8:
                self.mca = Fraction(int(amperes * pick.randrange(70, 120)) or 1, 100)
                words.append(f"mca {float(self.mca):g} A")
            if self.mca is None or pick.random() < 0.8:
                self.mocp = pick.choice(near)
                words.append(f"mocp {self.mocp} A")
        supply = "240 V 3-phase" if self.phases == 3 else "120/240 V"
        ends = "box J\n  marked 900 in3\n  2 receptacle\n" if self.plugs else "equipment M\n"
        self.sheet = f"edition {self.year}\npanel P {supply}\n{ends}{' '.join(words)}\n" + "\n".join(self.lines) + "\n"

    # ---- what is found -----------------------------------------------------------------------------------------------

    def drawn(self) -> Fraction | None:
        """Its load in amperes, rounded up to a hundredth."""
        if self.load is None:
            return None
        if self.phases != 3:
            return Fraction(-(-self.load * 100 // self.volts), 100)
        exact = self.load / (self.volts * sqrt(3))
        return Fraction(-int(-exact * 100 // 1), 100)

    def counted(self) -> Fraction | None:
        """Its load as breaker and wire are judged by: one household range by the table for ranges and its notes."""
        drawn = self.drawn()
        if drawn is None or self.load is None or self.serves != "range" or not 1750 < self.load <= 27000:
            return drawn
        if self.load <= 8750:
            return drawn * Fraction(80, 100)
        base = Fraction(-(-8000 * 100 // self.volts), 100)
        return base * (1 + Fraction(5, 100) * max(0, (self.load - 12000 + 500) // 1000))

    def found(self) -> dict[str, str]:
        """The verdict of each rule that has something to say."""
        carries, load = self.ampacities[0], self.counted()
        answer: dict[str, Any] = {}
        is_plain = not self.by_nameplate and not self.horsepower
        if is_plain:
            answer["wire-protection"] = None if carries is None else self.breaker <= self.largest(carries)
        if load is not None:
            answer["conductor-ampacity"] = None if carries is None else load <= carries
        lasts = self.continuous or self.serves == "water heater"
        more = Fraction(5, 4) if lasts else Fraction(1)
        if load is not None and is_plain and lasts:
            answer["continuous-load"] = load * more <= self.before[0]
        if self.serves == "range" and self.load is not None and self.load >= 8750:
            answer["range-circuit"] = self.breaker >= 40
        if self.serves == "water heater" and load is not None and load > Fraction(133, 10):
            answer["appliance-breaker"] = self.breaker <= next_up(load * Fraction(3, 2), self.year)
        if load is not None and is_plain:
            answer["breaker-load"] = load * more <= self.breaker
        if self.by_nameplate:
            answer["nameplate-wire"] = None if self.mca is None or carries is None else self.mca <= carries
            answer["nameplate-breaker"] = None if self.mocp is None else self.breaker <= self.mocp
        if self.horsepower:
            current = MOTORS[self.phases][self.horsepower][0 if self.volts == 120 else 1]
            others = max(Fraction(0), (load or Fraction(0)) - Fraction(current)) * more
            need = Fraction(current) * Fraction(5, 4) + others
            answer["motor-wire"] = None if carries is None else need <= carries
            usual = next_up(Fraction(current) * Fraction(5, 2), self.year)
            most = Fraction(current) * (4 if current <= 100 else 3)
            answer["motor-breaker"] = True if self.breaker <= usual else None if self.breaker <= most else False
        words = {True: "passes", False: "fails", None: "check needed"}
        return {rule: words[value] for rule, value in answer.items()}

    def largest(self, carries: Fraction) -> Fraction:
        """The largest breaker of its wire."""
        up = next_up(carries, self.year)
        most = carries if self.plugs or up > 800 else up
        cap = CAPS.get((self.material, self.sizes[0]))
        return min(most, Fraction(cap)) if cap else most
