"""A second, slow and simple reading of how full a raceway may be, kept apart from the first on purpose.

Written from ``reference/raceways/conduit_fill_rules.md``; its tables are typed from ``conduit_dims.csv``,
``insulation_dims.csv``, ``compact_dims_table_5A.csv`` and ``awg_properties.csv`` (areas in in2; of a bare conductor
the stranded one). It shares only the records of a job with the core. Every conductor is added up by itself, and
where a fact is not known every value it may have is tried.

Where the paper is silent, this was agreed on: only of more than two conductors a count is rounded up; a cable is
written with its width, which is a circle rounded up to a ten-thousandth; the 3/8 in. flexible conduit has a table
of its own and is not read here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import product

from ampleroom.job.model import Job, Raceway, Run
from ampleroom.job.unknown import UNKNOWN

# Kind, trade size, its whole bore, and what 60, 53, 31 and 40 % of it print.
BORES = """\
emt 1/2 0.304 0.182 0.161 0.094 0.122
emt 3/4 0.533 0.320 0.283 0.165 0.213
emt 1 0.864 0.519 0.458 0.268 0.346
emt 1-1/4 1.496 0.897 0.793 0.464 0.598
emt 1-1/2 2.036 1.221 1.079 0.631 0.814
emt 2 3.356 2.013 1.778 1.040 1.342
emt 2-1/2 5.858 3.515 3.105 1.816 2.343
emt 3 8.846 5.307 4.688 2.742 3.538
emt 3-1/2 11.545 6.927 6.119 3.579 4.618
emt 4 14.753 8.852 7.819 4.573 5.901
ent 1/2 0.246 0.148 0.131 0.076 0.099
ent 3/4 0.454 0.272 0.240 0.141 0.181
ent 1 0.785 0.471 0.416 0.243 0.314
ent 1-1/4 1.410 0.846 0.747 0.437 0.564
ent 1-1/2 1.936 1.162 1.026 0.600 0.774
ent 2 3.205 1.923 1.699 0.993 1.282
fmc 3/8 0.116 0.069 0.061 0.036 0.046
fmc 1/2 0.317 0.190 0.168 0.098 0.127
fmc 3/4 0.533 0.320 0.283 0.165 0.213
fmc 1 0.817 0.490 0.433 0.253 0.327
fmc 1-1/4 1.277 0.766 0.677 0.396 0.511
fmc 1-1/2 1.858 1.115 0.985 0.576 0.743
fmc 2 3.269 1.961 1.732 1.013 1.307
fmc 2-1/2 4.909 2.945 2.602 1.522 1.963
fmc 3 7.069 4.241 3.746 2.191 2.827
fmc 3-1/2 9.621 5.773 5.099 2.983 3.848
fmc 4 12.566 7.540 6.660 3.896 5.027
imc 1/2 0.342 0.205 0.181 0.106 0.137
imc 3/4 0.586 0.352 0.311 0.182 0.235
imc 1 0.959 0.575 0.508 0.297 0.384
imc 1-1/4 1.647 0.988 0.873 0.510 0.659
imc 1-1/2 2.225 1.335 1.179 0.690 0.890
imc 2 3.630 2.178 1.924 1.125 1.452
imc 2-1/2 5.135 3.081 2.722 1.592 2.054
imc 3 7.922 4.753 4.199 2.456 3.169
imc 3-1/2 10.584 6.351 5.610 3.281 4.234
imc 4 13.631 8.179 7.224 4.226 5.452
lfnc-b 3/8 0.192 0.115 0.102 0.059 0.077
lfnc-b 1/2 0.314 0.188 0.166 0.097 0.125
lfnc-b 3/4 0.541 0.325 0.287 0.168 0.216
lfnc-b 1 0.873 0.524 0.462 0.270 0.349
lfnc-b 1-1/4 1.528 0.917 0.810 0.474 0.611
lfnc-b 1-1/2 1.981 1.188 1.050 0.614 0.792
lfnc-b 2 3.246 1.948 1.720 1.006 1.298
lfnc-a 3/8 0.192 0.115 0.102 0.060 0.077
lfnc-a 1/2 0.312 0.187 0.165 0.097 0.125
lfnc-a 3/4 0.535 0.321 0.283 0.166 0.214
lfnc-a 1 0.854 0.513 0.453 0.265 0.342
lfnc-a 1-1/4 1.502 0.901 0.796 0.466 0.601
lfnc-a 1-1/2 2.018 1.211 1.070 0.626 0.807
lfnc-a 2 3.343 2.006 1.772 1.036 1.337
lfmc 3/8 0.192 0.115 0.102 0.059 0.077
lfmc 1/2 0.314 0.188 0.166 0.097 0.125
lfmc 3/4 0.541 0.325 0.287 0.168 0.216
lfmc 1 0.873 0.524 0.462 0.270 0.349
lfmc 1-1/4 1.528 0.917 0.810 0.474 0.611
lfmc 1-1/2 1.981 1.188 1.050 0.614 0.792
lfmc 2 3.246 1.948 1.720 1.006 1.298
lfmc 2-1/2 4.881 2.929 2.587 1.513 1.953
lfmc 3 7.475 4.485 3.962 2.317 2.990
lfmc 3-1/2 9.731 5.839 5.158 3.017 3.893
lfmc 4 12.692 7.615 6.727 3.935 5.077
rmc 1/2 0.314 0.188 0.166 0.097 0.125
rmc 3/4 0.549 0.329 0.291 0.170 0.220
rmc 1 0.887 0.532 0.470 0.275 0.355
rmc 1-1/4 1.526 0.916 0.809 0.473 0.610
rmc 1-1/2 2.071 1.243 1.098 0.642 0.829
rmc 2 3.408 2.045 1.806 1.056 1.363
rmc 2-1/2 4.866 2.919 2.579 1.508 1.946
rmc 3 7.499 4.499 3.975 2.325 3.000
rmc 3-1/2 10.010 6.006 5.305 3.103 4.004
rmc 4 12.882 7.729 6.828 3.994 5.153
rmc 5 20.212 12.127 10.713 6.266 8.085
rmc 6 29.158 17.495 15.454 9.039 11.663
pvc-40 1/2 0.285 0.171 0.151 0.088 0.114
pvc-40 3/4 0.508 0.305 0.269 0.157 0.203
pvc-40 1 0.832 0.499 0.441 0.258 0.333
pvc-40 1-1/4 1.453 0.872 0.770 0.450 0.581
pvc-40 1-1/2 1.986 1.191 1.052 0.616 0.794
pvc-40 2 3.291 1.975 1.744 1.020 1.316
pvc-40 2-1/2 4.695 2.817 2.488 1.455 1.878
pvc-40 3 7.268 4.361 3.852 2.253 2.907
pvc-40 3-1/2 9.737 5.842 5.161 3.018 3.895
pvc-40 4 12.554 7.532 6.654 3.892 5.022
pvc-40 5 19.761 11.856 10.473 6.126 7.904
pvc-40 6 28.567 17.140 15.141 8.856 11.427
pvc-80 1/2 0.217 0.130 0.115 0.067 0.087
pvc-80 3/4 0.409 0.246 0.217 0.127 0.164
pvc-80 1 0.688 0.413 0.365 0.213 0.275
pvc-80 1-1/4 1.237 0.742 0.656 0.383 0.495
pvc-80 1-1/2 1.711 1.027 0.907 0.530 0.684
pvc-80 2 2.874 1.725 1.523 0.891 1.150
pvc-80 2-1/2 4.119 2.471 2.183 1.277 1.647
pvc-80 3 6.442 3.865 3.414 1.997 2.577
pvc-80 3-1/2 8.688 5.213 4.605 2.693 3.475
pvc-80 4 11.258 6.755 5.967 3.490 4.503
pvc-80 5 17.855 10.713 9.463 5.535 7.142
pvc-80 6 25.598 15.359 13.567 7.935 10.239
"""

# By insulation, each size and its area.
INSULATED = """\
thhn thwn thwn-2: 14 0.0097, 12 0.0133, 10 0.0211, 8 0.0366, 6 0.0507, 4 0.0824, 3 0.0973, 2 0.1158, 1 0.1562,
1/0 0.1855, 2/0 0.2223, 3/0 0.2679, 4/0 0.3237, 250 0.3970, 300 0.4608, 350 0.5242, 400 0.5863, 500 0.7073,
600 0.8676, 700 0.9887, 750 1.0496, 800 1.1085, 900 1.2311, 1000 1.3478
xhh xhhw xhhw-2: 14 0.0139, 12 0.0181, 10 0.0243, 8 0.0437, 6 0.0590, 4 0.0814, 3 0.0962, 2 0.1146, 1 0.1534,
1/0 0.1825, 2/0 0.2190, 3/0 0.2642, 4/0 0.3197, 250 0.3904, 300 0.4536, 350 0.5166, 400 0.5782, 500 0.6984,
600 0.8709, 700 0.9923, 750 1.0532, 800 1.1122, 900 1.2351, 1000 1.3519, 1250 1.7180, 1500 2.0157, 1750 2.3127,
2000 2.6073
tw thw thhw thw-2: 14 0.0139, 12 0.0181, 10 0.0243, 8 0.0437
tw thw thhw thw-2: 6 0.0726, 4 0.0973, 3 0.1134, 2 0.1333, 1 0.1901, 1/0 0.2223, 2/0 0.2624, 3/0 0.3117,
4/0 0.3718, 250 0.4596, 300 0.5281, 350 0.5958, 400 0.6619, 500 0.7901, 600 0.9729, 700 1.1010, 750 1.1652,
800 1.2272, 900 1.3561, 1000 1.4784, 1250 1.8602, 1500 2.1695, 1750 2.4773, 2000 2.7818
rhh rhw rhw-2: 14 0.0293, 12 0.0353, 10 0.0437, 8 0.0835, 6 0.1041, 4 0.1333, 3 0.1521, 2 0.1750, 1 0.2660,
1/0 0.3039, 2/0 0.3505, 3/0 0.4072, 4/0 0.4754, 250 0.6291, 300 0.7088, 350 0.7870, 400 0.8626, 500 1.0082,
600 1.2135, 700 1.3561, 750 1.4272, 800 1.4957, 900 1.6377, 1000 1.7719, 1250 2.3479, 1500 2.6938, 1750 3.0357,
2000 3.3719
tfn tffn: 18 0.0055, 16 0.0072
zw: 14 0.0139, 12 0.0181, 10 0.0243, 8 0.0437, 6 0.0590, 4 0.0814, 3 0.0962, 2 0.1146
tfe fep pfa fepb pfah: 14 0.0100, 12 0.0137, 10 0.0191, 8 0.0333, 6 0.0468, 4 0.0670, 3 0.0804, 2 0.0973
tfe pfa pfah: 1 0.1399, 1/0 0.1676, 2/0 0.2027, 3/0 0.2463, 4/0 0.3000
rfh-2 ffh-2: 18 0.0145, 16 0.0172
sf-2 sff-2: 18 0.0115, 16 0.0139, 14 0.0172
sf-1 sff-1: 18 0.0065
rfh-1 xf xff tf tff: 18 0.0088
tf tff xf xff: 16 0.0109
xf xff: 14 0.0139, 12 0.0260, 10 0.0333
pf paf ptf pgf pff paff ptff pgff: 18 0.0058, 16 0.0075, 14 0.0100
zf zff: 18 0.0045, 16 0.0061, 14 0.0083
"""

# Of compact conductors.
COMPACT = """\
thw thhw: 8 0.0510, 6 0.0660, 4 0.0881, 2 0.1194, 1 0.1697, 1/0 0.1962, 2/0 0.2333, 3/0 0.2733, 4/0 0.3267,
250 0.4128, 300 0.4717, 350 0.5281, 400 0.5876, 500 0.6939, 600 0.8658, 700 0.9677, 750 1.0387, 900 1.1766,
1000 1.2967
xhhw xhhw-2: 8 0.0394, 6 0.0530, 4 0.0730, 2 0.1017, 1 0.1352, 1/0 0.1590, 2/0 0.1885, 3/0 0.2289, 4/0 0.2733,
250 0.3421, 300 0.4015, 350 0.4535, 400 0.5027, 500 0.6082, 600 0.7542, 700 0.8658, 750 0.9331, 900 1.0731,
1000 1.1882
thhn: 6 0.0452, 4 0.0730, 2 0.1017, 1 0.1352, 1/0 0.1590, 2/0 0.1924, 3/0 0.2289, 4/0 0.2781, 250 0.3525,
300 0.4070, 350 0.4656, 400 0.5216, 500 0.6150, 600 0.7620, 700 0.8658, 750 0.9075, 900 1.1199, 1000 1.2371
"""

# Of bare conductors.
BARE = """\
18 0.002, 16 0.003, 14 0.004, 12 0.006, 10 0.011, 8 0.017, 6 0.027, 4 0.042, 3 0.053, 2 0.067, 1 0.087,
1/0 0.109, 2/0 0.137, 3/0 0.173, 4/0 0.219, 250 0.260, 300 0.312, 350 0.364, 400 0.416, 500 0.519, 600 0.626,
700 0.730, 750 0.782, 800 0.834, 900 0.940, 1000 1.042, 1250 1.305, 1500 1.566, 1750 1.829, 2000 2.092
"""

PI = Fraction("3.14159265358979323846")
MANY = 1_000
"""As many as nobody pulls: a count that is not known may be so large."""

BORE: dict[tuple[str, str], list[Fraction]] = {}
for row in BORES.splitlines():
    kind, trade_size, *areas = row.split()
    if (kind, trade_size) != ("fmc", "3/8"):
        BORE[kind, trade_size] = [Fraction(number) for number in areas]

AREA: dict[tuple[str, str], Fraction] = {}
for prefix, table in (("", INSULATED), ("compact ", COMPACT)):
    insulations: list[str] = []
    for row in table.splitlines():
        names, colon, rest = row.rpartition(":")
        if colon:
            insulations = names.split()
        for pair in rest.split(","):
            if pair.strip():
                size, area = pair.split()
                for insulation in insulations:
                    AREA[prefix + insulation, size] = Fraction(area)
for pair in BARE.replace("\n", " ").split(","):
    size, area = pair.split()
    AREA["bare", size] = Fraction(area)


def naive_raceway(job: Job, raceway: Raceway, readings: Mapping[str, str]) -> str:
    """``passes``, ``fails`` or ``open``: the same at every value of every unknown fact, or open."""
    seen = set()
    for size, is_nipple, lying in every_try(job, raceway):
        seen.add(fits(BORE[raceway.kind, size], is_nipple, lying, readings))
        if len(seen) > 1:
            return "open"
    (only,) = seen
    return "passes" if only else "fails"


def every_try(job: Job, raceway: Raceway) -> Iterator[tuple[str, bool, list[tuple[Fraction, bool]]]]:
    """A trade size, whether it is a nipple, and every conductor with its area and whether it is a cable."""
    sizes = [str(raceway.size)]
    if raceway.size is UNKNOWN:
        sizes = [size for kind, size in BORE if kind == raceway.kind]
    nipples = [True, False]
    if raceway.length is not None and raceway.length is not UNKNOWN:
        nipples = [Fraction(raceway.length) * 12 <= 24]
    groups = []
    for run in job.runs:
        if any(lain_in.name == raceway.name for lain_in in run.raceways):
            groups += groups_of(run)
    for size, is_nipple, chosen in product(sizes, nipples, product(*groups)):
        lying = []
        for count, area, is_cable in chosen:
            for _ in range(count):
                lying.append((area, is_cable))
        yield size, is_nipple, lying


def groups_of(run: Run) -> list[list[tuple[int, Fraction, bool]]]:
    """Each group of a run: every count and area it may have."""
    times = [1, 2, 3, MANY] if run.count is UNKNOWN else [int(run.count)]
    if run.cable is not None:
        widths = [Fraction(0), Fraction(100)]
        if run.width is not None and run.width is not UNKNOWN:
            widths = [Fraction(run.width)]
        circles = [Fraction(math.ceil(PI / 4 * width * width * 10_000), 10_000) for width in widths]
        return [[(count, circle, True) for count in times for circle in circles]]
    groups = []
    for wires in run.wires:
        counts = [0, 1, 2, 3, MANY] if wires.count is UNKNOWN else [int(wires.count)]
        sizes = sorted({size for _, size in AREA}) if wires.size is UNKNOWN else [str(wires.size)]
        areas = set()
        for insulation, size in AREA:
            if size in sizes and may_be(insulation, wires.insulation, wires.role != "insulated", wires.color):
                areas.add(AREA[insulation, size])
        every = [(count * each, area, False) for count in counts for each in times for area in sorted(areas)]
        groups.append(every)
    return groups


def may_be(insulation: str, written: str, is_ground: bool, color: str) -> bool:
    """Whether a conductor may have an insulation of the tables: the one written, or any but the compact ones."""
    if color == "bare":
        return insulation == "bare"
    if written:
        return insulation == written
    if insulation.startswith("compact"):
        return False
    return insulation != "bare" or is_ground


def fits(
    bore: list[Fraction], is_nipple: bool, lying: list[tuple[Fraction, bool]], readings: Mapping[str, str]
) -> bool:
    """Whether so many conductors may lie in a bore, printed in five columns."""
    whole, at_60, at_53, at_31, at_40 = bore
    if is_nipple:
        percent, printed = 60, at_60
    elif len(lying) == 1:
        percent, printed = 53, at_53
    elif len(lying) == 2:
        percent, printed = 31, at_31
    else:
        percent, printed = 40, at_40
    limit = printed
    if readings.get("fill-column", "printed") == "exact":
        limit = whole * percent / 100
    taken = Fraction(0)
    for area, _ in lying:
        taken = taken + area
    if taken <= limit:
        return True
    if is_nipple and readings.get("nipple-rounding", "not-rounded") == "not-rounded":
        return False
    if len(lying) < 3 or any(is_cable for _, is_cable in lying):
        return False
    if len({area for area, _ in lying}) > 1:
        return False
    how_many = limit / lying[0][0]
    rounded = math.floor(how_many)
    if how_many - rounded >= Fraction("0.8"):
        rounded = rounded + 1
    return len(lying) <= rounded
