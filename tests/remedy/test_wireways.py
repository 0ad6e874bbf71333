"""Fixes of random wireways: each passes the whole check, is priced by what it buys, and a plan of all holds."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from ampleroom import check, read_job
from ampleroom.job.edit import edited
from ampleroom.remedy.plan import plan
from ampleroom.worksheet import Verdict
from tests.remedy.helpers import assert_holds, every, job_of, length_entry, stock
from tests.strategies import examples

STOCK = stock(
    *(length_entry(f"{form} {section}", price) for form in ("wireway", "gutter") for section, price in (
        ("2.5 x 2.5", "9"), ("4 x 4", "12"), ("6 x 4", "16"), ("6 x 6", "20"), ("8 x 8", "31")
    )),
    *(length_entry(f"#{size} thhn", "1.10") for size in ("6", "2", "1/0")),
)  # fmt: skip


@st.composite
def wireways(draw):
    """A sheet with a wireway and a gutter, runs that lie, end or come by a raceway."""
    lines = ["edition 2020", "panel P", "equipment M1", "equipment M2"]
    for form, name in (("wireway", "W1"), ("gutter", "G1")):
        section = draw(st.sampled_from(("2.5 x 2.5", "4 x 4", "4 x 6")))
        length = draw(st.sampled_from((" 6 ft", "")))
        splices = draw(st.sampled_from((" splices 2 in2", " no splices", "")))
        lines.append(f"{form} {name} P > M1 {section}{length}{splices}")
    lines.append("raceway R1 M2 > W1 rmc 4 10 ft")
    for circuit in range(draw(st.integers(1, 4))):
        count = draw(st.integers(1, 30))
        size = draw(st.sampled_from(("12", "6", "2", "1/0")))
        insulation = draw(st.sampled_from(("thhn", "thw", "rhw", "xhhw-2")))
        where = draw(
            st.sampled_from(
                (("P > M1", " in W1"), ("P > M1", " in G1"), ("M2 > M1", " in R1"), ("P > W1", ""), ("P > G1 > M1", ""))
            )
        )
        named = draw(st.sampled_from((f" circuit {circuit}", "")))
        lines.append(f"wires {where[0]} {count} x #{size} {insulation}, ground #6 thhn{where[1]}{named}")
    return "\n".join(lines) + "\n"


@given(wireways())
@examples(60)
def test_whatever_is_offered_passes_the_whole_check(sheet):
    job = job_of(sheet)
    for name in ("W1", "G1"):
        remedies = every(sheet, STOCK, name)
        if check(job).subject(name).verdict is not Verdict.FAILS:
            assert remedies == []
        for remedy in remedies:
            assert_holds(job, remedy)
            assert remedy.price == sum((buy.quantity * buy.each for buy in remedy.buys), Decimal(0))


@given(wireways())
@examples(25)
def test_the_plan_of_both_leaves_every_wireway_it_names_in_order(sheet):
    job = job_of(sheet)
    made = plan(job, check(job).book, STOCK, solver=False)
    after = check(read_job(edited(job, made.change)))
    for remedy in made.remedies:
        assert after.subject(remedy.fixed_name).verdict.is_allowed
