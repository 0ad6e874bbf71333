"""Whatever is offered for a random overfull or bent raceway passes the whole check, and costs what its lines say."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from ampleroom import check, read_job
from ampleroom.job.edit import edited
from ampleroom.remedy import Stock, stock_from_text
from ampleroom.remedy.plan import plan
from ampleroom.worksheet import Verdict
from tests.remedy.helpers import assert_holds, every, job_of
from tests.strategies import examples

STOCK: Stock = stock_from_text((Path(__file__).parents[2] / "examples" / "stock.toml").read_text("utf-8"))
GROUNDS = ("", ", ground #10 thhn", ", ground #10 bare")


@st.composite
def raceways(draw):
    """One or two raceways in a row with a box between, and up to four runs in them."""
    kind = draw(st.sampled_from(("emt", "pvc-40")))
    sizes = [draw(st.sampled_from(("1/2", "3/4", "1", "1-1/4"))) for _ in range(2)]
    lengths = [draw(st.sampled_from(("", " 18 in", " 40 ft"))) for _ in range(2)]
    bends = [draw(st.sampled_from(("", " 2 bends 90", " 5 bends 90", " 9 bends 90"))) for _ in range(2)]
    ends = [draw(st.sampled_from(("P > J1", "J1 > P"))), draw(st.sampled_from(("J1 > K1", "K1 > J1")))]
    lines = [
        f"raceway R{place} {ends[place - 1]} {kind} {sizes[place - 1]}{lengths[place - 1]}{bends[place - 1]}"
        for place in (1, 2)
    ]
    for circuit in range(draw(st.integers(1, 4))):
        count, size = draw(st.integers(2, 6)), draw(st.sampled_from(("12", "10", "8", "6", "4", "2")))
        insulation = draw(st.sampled_from(("thw", "thhn", "xhhw-2")))
        ground = draw(st.sampled_from(GROUNDS))
        way, names = draw(
            st.sampled_from((("P > K1", "R1, R2"), ("K1 > P", "R2, R1"), ("P > J1", "R1"), ("J1 > K1", "R2")))
        )
        through = " through J1" if "," in names else ""
        named = draw(st.sampled_from((f" circuit {circuit}", "")))
        lines.append(f"wires {way} {count} x #{size} {insulation}{ground}{through} in {names}{named}")
    box = "box J1\n  inside 24 x 18 x 8 in metal\n  clamps outside\n  entry R1 left\n  entry R2 right\n"
    return "edition 2020\npanel P\nequipment K1\n" + box + "\n".join(lines) + "\n"


@given(raceways())
@examples(60)
def test_whatever_is_offered_passes_the_whole_check(sheet):
    job = job_of(sheet)
    for name in ("R1", "R2"):
        remedies = every(sheet, STOCK, name)
        if check(job).subject(name).verdict is not Verdict.FAILS:
            assert remedies == []
        for remedy in remedies:
            assert_holds(job, remedy)
            assert remedy.price == sum((buy.quantity * buy.each for buy in remedy.buys), Decimal(0))


@given(raceways())
@examples(25)
def test_the_plan_of_both_leaves_every_raceway_it_names_in_order(sheet):
    job = job_of(sheet)
    made = plan(job, check(job).book, STOCK, solver=False)
    after = check(read_job(edited(job, made.change)))
    for remedy in made.remedies:
        assert after.subject(remedy.fixed_name).verdict.is_allowed
