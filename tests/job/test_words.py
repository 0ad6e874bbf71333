"""Trade shorthand: every way a size, a length, a volume, a count or a cable may be written."""

from decimal import Decimal
from fractions import Fraction

import pytest

from ampleroom.job import UNKNOWN
from ampleroom.job.model import Dwelling, RunRaceway, RunRoute
from ampleroom.job.settling import read_run_line
from ampleroom.job.trade import COLORS, DEVICE_KINDS, DEVICES, INSULATIONS, SIZES
from ampleroom.job.words import FRACTIONS, LENGTHS, VOLUMES, Unreadable, number_word, proper_fraction
from ampleroom.job.writer import written
from tests.job.helpers import fault, item, job, run

# ---- numbers --------------------------------------------------------------------------------------------------------

NUMBERS = {
    "3": 3, "0": 0, "007": 7, "2.25": "2.25", ".5": "0.5", "4-11/16": "4.6875", "1/2": "0.5", "11/16": "0.6875",
    "½": "0.5", "1½": "1.5", "2⅛": "2.125", "1-½": "1.5", "10-63/64": "10.984375", "1-1/5": "1.2",
    "999999999": 999999999,
}  # fmt: skip


@pytest.mark.parametrize(("word", "value"), NUMBERS.items())
def test_a_number_is_read_exactly(word, value):
    assert number_word(word) == Decimal(value)


@pytest.mark.parametrize(
    "word", ["", "x", "-1", "+1", "1/3", "2-1/3", "1/0", "3/2-1", "1-3/2", "1-4/4", "1,5", "1e5", "1_000", "0x10",
        "NaN", "inf", "∞",
             "²", "9" * 10, "9" * 30, "1.", "1.1234567", "1 /2", "1½½", "½1"],
)  # fmt: skip
def test_what_is_no_exact_number_is_none(word):
    assert number_word(word) is None


@pytest.mark.parametrize(("mark", "plain"), FRACTIONS.items())
def test_every_fraction_letter_is_its_fraction(mark, plain):
    assert number_word(mark) == Decimal(Fraction(plain).numerator) / Fraction(plain).denominator
    assert number_word(f"3{mark}") == 3 + (number_word(mark) or 0)


def test_a_cable_is_no_mixed_number():
    assert proper_fraction("12/2") is None
    assert proper_fraction("1/2") == Decimal("0.5")
    assert proper_fraction("0/5") is None


# ---- lengths --------------------------------------------------------------------------------------------------------

DEPTHS = [
    "cavity 3-1/2 in", "cavity 3-1/2in", "cavity 3 1/2 in", "cavity 3 1/2in", 'cavity 3-1/2"', 'cavity 3½"',
    "cavity 3½ in", "cavity 3.5", "cavity 3.5 inches", "cavity 3.5 inch", "cavity 3.5 in.", "cavity 3-1/2",
    "cavity 3 1/2", "cavity 3½″", "cavity 3.5”", "cavity 3.50 IN", "Cavity 3-1/2 In",
]  # fmt: skip


@pytest.mark.parametrize("words", DEPTHS)
def test_a_depth_of_three_and_a_half_inches_is_written_many_ways(words):
    assert item(f"mounted {words}").cavity == Decimal("3.5")


@pytest.mark.parametrize("unit", LENGTHS)
def test_every_unit_of_length_is_read_joined_or_apart(unit):
    apart, joined = run(f"run P > J1 12/2 nm-b 12 {unit}"), run(f"run P > J1 12/2 nm-b 12{unit}")
    shouted = run(f"run P > J1 12/2 nm-b 12 {unit.upper()}")
    assert apart.length == joined.length == shouted.length
    assert apart.length > 0


@pytest.mark.parametrize(
    ("said", "feet"),
    [
        ("38 ft", "38"), ("38ft", "38"), ("38'", "38"), ("38 feet", "38"), ("1 foot", "1"), ("12.5 ft", "12.5"),
        ("12-1/2 ft", "12.5"), ("12 1/2 ft", "12.5"), ("12½'", "12.5"), ("456 in", "38"), ("3 m", "9.8425"),
        ("300 cm", "9.8425"), ("3000 mm", "9.8425"), ("38’", "38"),
    ],
)  # fmt: skip
def test_a_length_of_cable_is_kept_in_feet(said, feet):
    assert run(f"run P > J1 12/2 nm-b {said}").length == Decimal(feet)


def test_a_length_nobody_measured_is_unknown_and_one_not_written_is_none():
    assert run("run P > J1 12/2 nm-b ? ft").length is UNKNOWN
    assert run("run P > J1 12/2 nm-b").length is None


def test_a_bare_number_is_no_length_of_a_run():
    assert fault("run P > J1 12/2 nm-b 38") == "38 what?; write 38 ft if that is its length"


# ---- volumes --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", VOLUMES)
def test_every_unit_of_volume_is_read(unit):
    assert item(f"marked 20 {unit}").volume == (20 if VOLUMES[unit] else Decimal("1.2204"))
    if " " not in unit:
        assert item(f"marked 20{unit}") == item(f"marked 20 {unit.upper()}") == item(f"marked 20 {unit}")


def test_a_marking_in_cubic_centimeters_never_promises_more_and_a_body_never_takes_less():
    assert item("marked 344 cm3").volume == Decimal("20.9921")
    assert item("clamps assembly 344 cm3").volume == Decimal("20.9922")


@pytest.mark.parametrize("said", ["?", "? in3", "? cm3"])
def test_a_marking_nobody_read_is_unknown(said):
    assert item(f"marked {said}").volume is UNKNOWN


# ---- boxes ----------------------------------------------------------------------------------------------------------

SQUARES = [
    "square 4 x 1-1/2", "square 4x1-1/2", "square 4X1½", "square 4 × 1-1/2", "square 4×1-1/2", 'square 4" x 1-1/2"',
    'square 4"x1-1/2"', "square 4 x 1 1/2", "square 4 x 1.5 in", "square 4 by 1-1/2", "square 4 x 4 x 1-1/2",
    "square 4x4x1-1/2", "square 4 x 1-1/2 deep", "square 100 x 38 mm", "square 100x38 mm", "Square 4 X 1-1/2 IN",
    "SQUARE 4 x 1½",
]  # fmt: skip


@pytest.mark.parametrize("line", SQUARES)
def test_a_common_square_box_is_written_many_ways(line):
    assert (item(line).shape, item(line).size) == ("square", "4 x 1-1/2")


@pytest.mark.parametrize(
    ("line", "size"),
    [
        ("square 4-11/16 x 2-1/8", "4-11/16 x 2-1/8"), ("square 4 11/16 x 2 1/8", "4-11/16 x 2-1/8"),
        ("square 120 x 54 mm", "4-11/16 x 2-1/8"), ("octagon 4 x 2-1/8", "4 x 2-1/8"), ("round 4 x 1-1/4", "4 x 1-1/4"),
        ("octagonal 100 x 32 mm", "4 x 1-1/4"), ("device 3 x 2 x 2-1/2", "3 x 2 x 2-1/2"),
        ("device 2 x 3 x 2-1/2", "3 x 2 x 2-1/2"), ("device 3x2x2½", "3 x 2 x 2-1/2"),
        ("device 75 x 50 x 65 mm", "3 x 2 x 2-1/2"), ("utility 4 x 2-1/8 x 1-7/8", "4 x 2-1/8 x 1-7/8"),
        ("masonry 3-3/4 x 2 x 3-1/2", "3-3/4 x 2 x 3-1/2"), ("masonry 95 x 50 x 90 mm", "3-3/4 x 2 x 3-1/2"),
        ("fs single cover", "single cover"), ("fd multiple", "multiple cover"), ("FS SINGLE COVER", "single cover"),
    ],
)  # fmt: skip
def test_a_standard_box_is_known_by_its_trade_size(line, size):
    assert item(line).size == size


@pytest.mark.parametrize(
    ("line", "face"),
    [("square 4 x ?", "4"), ("octagon 4x?", "4"), ("device 3 x 2 x ?", "3 x 2"), ("square 4-11/16 x ?", "4-11/16")],
)
def test_a_depth_nobody_measured_leaves_the_face(line, face):
    assert (item(line).size, item(line).face) == (UNKNOWN, face)


@pytest.mark.parametrize(
    ("said", "fact"),
    [
        ("3-gang", ("gangs", 3)), ("3 gang", ("gangs", 3)), ("3 gangs", ("gangs", 3)), ("3gang", ("gangs", 3)),
        ("3 ganged", ("ganged", 3)), ("metal", ("material", "metal")), ("plastic", ("material", "plastic")),
        ("nonmetallic", ("material", "plastic")), ("2-3/4 in deep", ("depth", Decimal("2.75"))),
        ("? in deep", ("depth", UNKNOWN)), ("70 mm deep", ("depth", Decimal("2.7559"))),
    ],
)  # fmt: skip
def test_what_may_follow_a_marking_may_stand_in_any_order(said, fact):
    name, value = fact
    assert getattr(item(f"marked 20 in3 {said}"), name) == value
    assert (
        getattr(
            item(f"marked 20 in3, plastic, {said}, metal")
            if name != "material"
            else item(f"marked 20 in3, 2-gang, {said}"),
            name,
        )
        == value
    )


# ---- conductors -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
def test_every_conductor_size_is_read_with_and_without_its_mark(size):
    after = "kcmil" if size.isdigit() and int(size) >= 250 else "AWG"
    lines = [f"#{size}", f"#{size} {after}", f"{size} {after}", f"{size}{after}", size, f"{size} {after.upper()}"]
    assert {item(f"receptacle {line}").size for line in lines} == {size}


@pytest.mark.parametrize("said", ["12 ga", "12ga", "12 gauge", "#12 awg", "#12AWG"])
def test_a_gauge_is_written_many_ways(said):
    assert item(f"switch {said}").size == "12"


@pytest.mark.parametrize("said", ["250 mcm", "250MCM", "250kcmil"])
def test_a_thick_conductor_is_written_many_ways(said):
    assert item(f"bonding jumper {said}").size == "250"


@pytest.mark.parametrize("said", ["?", "#?"])
def test_a_size_nobody_read_is_unknown(said):
    assert item(f"switch {said}").size is UNKNOWN


def test_a_size_not_written_is_unknown_too():
    assert item("switch").size is UNKNOWN


@pytest.mark.parametrize(
    ("size", "near"),
    [("#13", "#14 and #12"), ("#15", "#16 and #14"), ("#5", "#6 and #4"), ("#0", "#1 and #2"),
     ("#260", "250 kcmil and 300 kcmil"), ("13", "#14 and #12")],
)  # fmt: skip
def test_a_size_there_is_none_of_gets_the_nearest(size, near):
    assert fault(f"switch {size}") == f"{size!r} is not a conductor size; write {near.replace(' and ', ' or ')}"


@pytest.mark.parametrize(
    "said", ["3 x #12", "3x #12", "3X #12", "3 × #12", "3× #12", "3 x 12", "3 x 12 AWG", "3 x #12 black"]
)
def test_a_count_of_wires_is_written_many_ways(said):
    (wires,) = run(f"wires P > J1 {said}").wires
    assert (wires.count, wires.size) == (3, "12")


def test_a_count_nobody_took_is_unknown():
    assert run("wires P > J1 ? x #12").wires[0].count is UNKNOWN
    assert run("run P > J1 ? x 12/2 nm-b").count is UNKNOWN


@pytest.mark.parametrize("insulation", INSULATIONS)
def test_every_insulation_is_read(insulation):
    assert run(f"wires P > J1 3 x #12 {insulation.upper()}").wires[0].insulation == insulation


@pytest.mark.parametrize("color", [*COLORS, "grey"])
def test_every_color_is_read(color):
    assert run(f"wires P > J1 3 x #12 {color}").wires[0].color == color.replace("grey", "gray")


@pytest.mark.parametrize(
    "said",
    [
        "3 x #6 thhn, 1 x #10 white, ground #10 bare, isolated ground #12",
        "3 x #6 thhn 1 x #10 white ground #10 bare isolated ground #12",
        "3 x #6 THHN and 1 x #10 white and ground #10 bare, isolated grounds #12",
        "3 x #6 thhn + #10 white, 1 x #10 ground bare, isolated ground 1 x #12",
    ],
)  # fmt: skip
def test_groups_of_wires_are_joined_by_commas_or_nothing(said):
    wires = run(f"wires P > J1 {said}").wires
    assert [(group.count, group.size, group.role) for group in wires] == [
        (3, "6", "insulated"), (1, "10", "insulated"), (1, "10", "ground"), (1, "12", "isolated ground"),
    ]  # fmt: skip


# ---- cables ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "12/2 nm-b",
        "12-2 nm-b",
        "#12/2 nm-b",
        "12/2 NM-B",
        "12/2 nm",
        "12/2 nmb",
        "12-2 NM w/g",
        "12/2 nm-b with ground",
        "12/2 nm-b copper",
        "12/2 nm-b cu",
    ],
)
def test_a_common_cable_is_written_many_ways(said):
    cable = run(f"run P > J1 {said}").cable
    assert (cable.kind, cable.size, cable.of, cable.ground) == ("nm-b", "12", "2", None)


@pytest.mark.parametrize(
    ("said", "cable"),
    [
        ("14/2/2 nm-b", ("nm-b", "14", "2/2", None)), ("12/3/3 mc", ("mc", "12", "3/3", None)),
        ("?/2 nm-b", ("nm-b", UNKNOWN, "2", None)), ("12/2 ?", ("?", "12", "2", None)),
        ("14/2 old", ("old", "14", "2", None)), ("14/2 old, ground #16", ("old", "14", "2", "16")),
        ("14/2 old ground ?", ("old", "14", "2", UNKNOWN)), ("14/2 nm-b no ground", ("nm-b", "14", "2", "none")),
        ("14/2 nm-b without ground", ("nm-b", "14", "2", "none")), ("10/2 UF", ("uf-b", "10", "2", None)),
        ("12/2 ac", ("ac", "12", "2", None)), ("8/4 nm-b, ground #10", ("nm-b", "8", "4", "10")),
    ],
)  # fmt: skip
def test_a_cable_is_known_by_its_trade_name_and_what_the_sheet_adds(said, cable):
    assert tuple(run(f"run P > J1 {said}").cable) == cable


@pytest.mark.parametrize(
    "said",
    [
        "12/2 nm-b 38 ft circuit 3 in insulation by attic in R1 through J9 for the saw",
        "circuit 3 by attic 12/2 nm-b in R1 in insulation through J9, 38 ft for the saw",
        "through J9, 12/2 nm-b, circuit 3, 38 ft, in R1, in insulation, by attic, for the saw",
        "38 ft 12/2 nm-b IN Insulation CIRCUIT 3 Through j9 By ATTIC in r1 for the saw",
    ],
)
def test_the_parts_of_a_run_may_stand_in_any_order(said):
    usual = run("run P > J1 12/2 nm-b through J9 in R1 38 ft circuit 3 by attic in insulation for the saw")
    assert run(f"run P > J1 {said}") == usual
    assert (usual.length, usual.circuit, usual.raceways, usual.routes, usual.label) == (
        38,
        "3",
        (RunRaceway("R1"),),
        (RunRoute("attic"),),
        "the saw",
    )


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("in R1 then R2", "in R1 then R2"),
        ("in R1, R2", "in R1 then R2"),
        ("in R1 and R2", "in R1 then R2"),
        ("in R1 in R2", "in R1 then R2"),
        ("in r1, r2, R3, existing", "in r1 then r2 then R3 existing"),
        ("in R1 then emt 3/4 then R2", "in R1 then emt 3/4 then R2"),
        ('in R1 then 3/4" EMT', "in R1 then emt 3/4"),
        ("in emt 3/4, emt 3/4", "in emt 3/4 then emt 3/4"),
        ("in R1 then emt ?", "in R1 then emt ?"),
        ("in R1 then ent", "in R1 then ent ?"),
        ("in R1 in R1", "in R1"),
        ("in 1 then 2 in insulation", "in 1 then 2 in insulation"),
        ("in R1, 38 ft", "38 ft in R1"),
        ("in R1, in insulation", "in R1 in insulation"),
        ("in R1, circuit 3", "in R1 circuit 3"),
        ("by then then then", "by then then then"),
        ("by crawl then attic", "by crawl then attic"),
        ("by crawl, attic", "by crawl then attic"),
        ("by crawl by attic by crawl", "by crawl then attic then crawl"),
        ("by crawl, for the lathe, the saw", "by crawl for the lathe, the saw"),
    ],
)
def test_raceways_and_routes_follow_one_another(text, plain):
    whole = read_run_line(f"run P > J1 12/2 nm-b {text}")
    assert written(whole) == f"run P > J1 12/2 nm-b {plain}"
    assert read_run_line(written(whole)) == whole


@pytest.mark.parametrize("text", ["in R1, 12/2 nm-b", "in R1, 2 x 12/2 nm-b", "in R1, 3 x #12 thhn", "in R1, #12"])
def test_after_a_raceway_and_a_comma_the_conductors_may_stand(text):
    assert [each.name for each in read_run_line(f"run P > J1 {text}").raceways] == ["R1"]


def test_each_raceway_and_route_of_a_run_has_its_own_place():
    (one, other), (route,) = (
        read_run_line("run P > J1 12/2 nm-b in R1 then R2 by attic").raceways,
        read_run_line("run P > J1 12/2 nm-b by attic").routes,
    )
    assert (one.at.first, other.at.first, route.at.first) == (7, 9, 7)


def test_a_run_lies_in_a_raceway_once():
    with pytest.raises(Unreadable, match="this raceway is named twice"):
        read_run_line("run P > J1 12/2 nm-b in R1 then R2 then r1")


@pytest.mark.parametrize("said", ["2 x 12/2 nm-b", "2x 12/2 nm-b", "2 × 12-2 NM"])
def test_several_runs_alike_are_counted(said):
    assert run(f"run P > J1 {said}").count == 2


@pytest.mark.parametrize(("said", "low"), [("class 2", True), ("class 3", True), ("", False)])
def test_low_voltage_is_said_by_its_class(said, low):
    assert run(f"wires P > J1 4 x #22 {said}").low_voltage is low


@pytest.mark.parametrize(
    ("said", "material"), [("aluminum", "aluminum"), ("AL", "aluminum"), ("copper", "copper"), ("", "copper")]
)
def test_a_run_is_copper_unless_it_says_otherwise(said, material):
    assert run(f"run P > J1 10/2 old {said}").material == material


@pytest.mark.parametrize(
    ("said", "slack"),
    [
        ("J9", ("straight", None)), ("J9 straight", ("straight", None)), ("J9 loop", ("loop", None)),
        ("J9 looped 14 in", ("loop", 14)), ("J9 coil 14\"", ("loop", 14)), ("J9 loop ?", ("loop", UNKNOWN)),
        ("J9 landed", ("landed", None)), ("J9 loop 1 ft", ("loop", 12)),
    ],
)  # fmt: skip
def test_what_passes_a_box_passes_straight_in_a_loop_or_over_a_terminal(said, slack):
    (passed,) = run(f"run P > J1 12/2 nm-b through {said}").through
    assert (passed.name, passed.slack, passed.loop) == ("J9", *slack)


# ---- devices --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("word", [word for word in DEVICES if word != "equipment"])
def test_every_device_may_begin_a_line(word):
    assert item(f"{word} #12").names == (word,)
    assert item(f"{word.upper()} #12").names == (word,)
    assert item(f"3 x {word} #12").count == 3


def test_equipment_on_a_yoke_has_a_kind_before_it():
    assert item("combination equipment #12").names == ("combination equipment",)


@pytest.mark.parametrize("kind", DEVICE_KINDS)
@pytest.mark.parametrize("word", ["switch", "receptacle", "equipment"])
def test_every_kind_of_device_may_stand_before_its_word(kind, word):
    assert item(f"{kind} {word} #12").names == (f"{kind} {word}",)


def test_two_devices_on_one_yoke_are_joined_by_a_plus():
    assert item("3-way switch + duplex receptacle #12").names == ("3-way switch", "duplex receptacle")


@pytest.mark.parametrize(
    ("said", "fact"),
    [
        ("2-gang wide", ("gangs", 2)), ("2-gang", ("gangs", 2)), ("2gang wide", ("gangs", 2)),
        ("?-gang wide", ("gangs", UNKNOWN)), ("2.1 in wide", ("width", Decimal("2.1"))),
        ("2-1/8\" wide", ("width", Decimal("2.125"))), ("? in wide", ("width", UNKNOWN)),
        ("projects 1-1/4 in", ("projects", Decimal("1.25"))), ("projects 1-1/4 in deep", ("projects", Decimal("1.25"))),
        ("projects ?", ("projects", UNKNOWN)), ("pigtail #14", ("pigtail", "14")),
        ("leads 3 x #18", ("leads", (3, "18"))), ("20 A", ("amperes", 20)), ("20 amps", ("amperes", 20)),
        ("240 V", ("volts", 240)), ("for the band saw", ("label", "the band saw")), ("on #12", ("size", "12")),
    ],
)  # fmt: skip
def test_what_may_follow_a_device(said, fact):
    name, value = fact
    assert getattr(item(f"receptacle #12 {said}"), name) == value
    assert getattr(item(f"receptacle #12, {said}"), name) == value


# ---- heads ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "va"),
    [
        ("680 VA", 680),
        ("680VA", 680),
        ("1.5 kVA", 1500),
        ("1.5kw", 1500),
        ("9.6 kW", 9600),
        ("680 W", 680),
        ("½ kW", 500),
        ("? VA", UNKNOWN),
    ],
)
def test_a_load_is_kept_in_volt_amperes(said, va):
    assert job(f"box J1\ncircuit 1 20 A {said}\n").circuits[0].load == va


@pytest.mark.parametrize(
    ("said", "celsius"),
    [
        ("110 F", "43.3333"),
        ("110F", "43.3333"),
        ("43 C", "43"),
        ("43°C", "43"),
        ("32 °F", "0"),
        ("?", None),
        ("? F", None),
    ],
)
def test_a_temperature_is_kept_in_celsius(said, celsius):
    assert job(f"box J1\nroute attic ambient {said}\n").routes[0].ambient == (
        None if celsius is None else Decimal(celsius)
    )


@pytest.mark.parametrize("said", ["1850 ft2", "1850ft2", "1850 sq ft", "1850 square feet", "1850 sqft", "1850 FT²"])
def test_a_floor_area_is_written_many_ways(said):
    assert job(f"box J1\ndwelling {said}\n").dwelling == Dwelling(Decimal(1850))


@pytest.mark.parametrize(
    ("said", "volts"),
    [("120/240 V", (120, 240)), ("120/240", (120, 240)), ("240 volts", (240,)), ("120/208 v", (120, 208))],
)
def test_a_panels_voltage_is_written_many_ways(said, volts):
    assert job(f"panel P {said} at the slip\n").panels[0].volts == volts


@pytest.mark.parametrize("said", ["#4/0", "1 x 4/0", "#4/0 thhn", "4/0 awg", "#1/0"])
def test_a_size_with_a_slash_is_no_cable(said):
    (wires,) = run(f"wires P > J1 {said}").wires
    assert wires.size == said.split()[0 if said[1] != " " else 2].strip("#")


@pytest.mark.parametrize("said", ["12/0 nm-b", "14/2/0 nm-b", "12-0 nm"])
def test_a_cable_of_no_conductors_is_a_slip_of_the_pen(said):
    assert fault(f"run P > J1 {said}").startswith(f"unknown word {said.split()[0]!r}")


def test_a_ground_may_stand_before_its_cable_and_other_wires_may_not():
    assert run("run P > J1 ground #16 14/2 old") == run("run P > J1 14/2 old, ground #16")
    assert run("run P > J1 isolated ground #12, 12/2 mc") == run("run P > J1 12/2 mc, isolated ground #12")
    for said in ("12/2 nm-b, 3 x #14", "3 x #14, 12/2 nm-b"):
        assert fault(f"run P > J1 {said}").startswith("only a ground can be added to a cable")


@pytest.mark.parametrize("said", ["0", "0 in", "0 mm", "999999999 1/4", "10000000"])
def test_a_length_is_more_than_nothing_with_its_unit_or_without(said):
    assert fault(f"switch projects {said}").startswith(f"{said.split()[0]} is out of range")


@pytest.mark.parametrize("said", ["? in deep", "? deep"])
@pytest.mark.parametrize("part", ["plaster ring 3.5 in3", "raised cover unmarked", "extension ring square 4 x 1-1/2"])
def test_a_ring_or_cover_of_unknown_depth_is_read(part, said):
    assert item(f"{part} {said}").depth is UNKNOWN
    assert item(f"plaster ring ? in3 {said}").volume is UNKNOWN


@pytest.mark.parametrize("color", ["green", "green-yellow", "bare"])
@pytest.mark.parametrize("head", ["fixture wires 2 x #16, ", "leads "])
def test_a_green_or_bare_conductor_is_a_ground(head, color):
    assert item(f"{head}1 x #14 {color}").wires[-1].role == "ground"
    assert item(f"{head}isolated ground #14 {color}").wires[-1].role == "isolated ground"
    assert item(f"{head}1 x #14 white-striped").wires[-1].role == "insulated"


@pytest.mark.parametrize("gangs", ["2-gang", "3 gang", "metal 2-gang"])
@pytest.mark.parametrize("size", ["3 x 2 x 2-1/2", "4 x 2-1/8 x 1-7/8", "3 x 2 x ?"])
def test_a_standard_device_box_of_several_gangs_is_refused(size, gangs):
    number = next(word for word in gangs if word.isdigit())
    told = fault(f"device {size} {gangs}")
    assert " device box is one gang" in told
    assert f"for {number} of them ganged together, write: {number} ganged" in told
    assert item(f"device {size} {number} ganged").ganged == int(number)
    assert item(f"device {size} 1-gang").gangs == 1
