"""Questions about raceways in the words of the trade: what each is read as, and the most that go in."""

from __future__ import annotations

import pytest

from ampleroom.ask import ask
from ampleroom.ask_raceway import plain_question
from ampleroom.errors import AmpleroomError

AS_ASKED = [  # wordings as common on jobs and in apprentices' questions; common practice, no source
    ("how many 12 thhn in 3/4 emt", "1 x #12 thhn in emt 3/4"),
    ("How many #12's can I fit in 1/2\" EMT?", "1 x #12 in emt 1/2"),
    ("max #12 thhn in 1 in. emt", "1 x #12 thhn in emt 1"),
    ("3/4 emt, how many number 10 wires", "1 x #10 in emt 3/4"),
    ("what size emt for 3 #8 and 1 #10", "3 x #8, 1 x #10 in emt"),
    ("what size emt do I need for three #6 thhn and one #10 thhn ground", "3 x #6 thhn, ground #10 thhn in emt"),
    ("can i pull 12/2 nm in 1/2 pvc sch 40", "12/2 nm-b in pvc-40 1/2"),
    ("will 9 #12 thhn fit in a 1/2\" emt?", "9 x #12 thhn in emt 1/2"),
    ("9 12s in half inch emt", "9 x #12 in emt 1/2"),
    ("is 1 inch emt ok for 3 #4 and a #8 ground", "3 x #4, ground #8 in emt 1"),
    ("1/2 emt with 5 #12", "5 x #12 in emt 1/2"),
    ("emt for 3 3/0 thwn and 1 #6 bare", "3 x #3/0 thwn, 1 x #6 bare in emt"),
    ("3-#4/0 XHHW al in sch 80 pvc", "3 x #4/0 xhhw aluminum in pvc-80"),
    ("3 #2 thhn 1 #8 cu grnd rigid", "3 x #2 thhn, ground #8 in rmc"),
    ("10/3 uf in 1 in schedule 80 pvc", "10/3 uf-b in pvc-80 1"),
    ("nipple 3/4 emt with 20 #12 thhn", "20 x #12 thhn in emt 3/4 nipple"),
    ("20 #12 thhn in a 20 inch nipple of 3/4 emt", "20 x #12 thhn in emt 3/4 20 inch"),
    ("fill of 1 in emt with 4 #6 thhn", "4 x #6 thhn in emt 1"),
    ("can I put 6 #8 thwn in 1 1/4 emt", "6 x #8 thwn in emt 1-1/4"),
    ("#6 thhn x 3 in 3/4 emt", "3 x #6 thhn in emt 3/4"),
    ("(3) #1/0 and (1) #6 in 2\" pvc sch 40", "3 x #1/0, 1 x #6 in pvc-40 2"),
    ("4 500 mcm thhn in 4\" rigid", "4 x #500 thhn in rmc 4"),
    ("4x4 wireway 20 #10", "20 x #10 in wireway 4 x 4"),
    ("4/0-4/0-2/0 al xhhw in 2 in pvc sch 40", "2 x #4/0 xhhw aluminum, 1 x #2/0 xhhw aluminum in pvc-40 2"),
    ("2\" lb with 3 #1/0 thhn", "conduit body lb 2, 3 x #1/0 thhn"),
    ("how many #12 thhn in 3/4 emt, edition 2017", "1 x #12 thhn in emt 3/4, edition 2017"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "plain"), AS_ASKED)
def test_a_question_in_everyday_words_is_written_plainly_and_answered(typed: str, plain: str):
    question = plain_question(typed)
    assert question is not None
    assert question.plain == plain
    assert ask(typed, 2020 if "edition" not in typed else None).question == typed


COUNTS = [  # Informative Annex C of the code, tables of EMT and RMC, from memory
    ("how many 12 thhn in 1/2 emt", 9),
    ("how many 12 thhn in 3/4 emt", 16),
    ("how many 12 thhn in 1 emt", 26),
    ("how many 10 thhn in 3/4 emt", 10),
    ("how many 8 thhn in 3/4 emt", 6),
    ("how many 6 thhn in 1 inch emt", 7),
    ("how many 3/0 thhn in 2 emt", 5),
    ("how many 500 thhn in 4 rigid", 7),
]


@pytest.mark.parametrize(("typed", "count"), COUNTS)
def test_the_most_of_one_size_is_that_of_the_printed_count_table(typed: str, count: int):
    answer = ask(typed, 2020)
    assert answer.most is not None
    assert (answer.most.certain, answer.most.possible) == (count, count)
    assert answer.verdict.is_allowed
    what = answer.most.what
    assert not ask(f"{count + 1} x {what} in emt 1/2".replace("emt 1/2", in_of(answer.sheet)), 2020).verdict.is_allowed


def in_of(sheet: str) -> str:
    """The kind and size of the raceway of a sheet."""
    line = next(line for line in sheet.splitlines() if line.startswith("raceway"))
    return " ".join(line.split()[5:7])


def test_what_is_in_it_already_stays_and_a_cable_counts_as_one():
    """10 #10 THHN go into 3/4 EMT, so 7 more beside 3; with 3 of #12 in 1 EMT (0.346 in2) two cables of 12/2 go in."""
    answer = ask("how many more #10 thhn in 3/4 emt with 3 #10 thhn in it", 2020)
    assert answer.most is not None
    assert answer.most.certain == 7
    cables = ask("how many 12/2 nm in 1 emt with 3 #12 thhn", 2020)
    assert cables.most is not None
    assert cables.most.text == "2 x 12/2 nm-b at most"


def test_without_an_insulation_the_most_is_told_of_both_ends():
    answer = ask("how many #12 in 1/2 emt", 2020)
    assert answer.most is not None
    assert answer.most.certain < answer.most.possible
    assert "write it too, such as #12 thhn" in answer.most.text


def test_a_conduit_of_no_kind_is_told_of_each():
    """3 of 3/0 THHN are 0.8037 in2: 1-1/2 EMT may hold 0.814; 1-1/2 PVC 40 holds 0.794, which is 2.96 of them,
    and of like conductors a decimal of 0.8 rounds up.
    """
    answer = ask("what size conduit for 3 3/0 thhn", 2020)
    assert "emt 1-1/2" in answer.smallest.reason
    assert "pvc-40 1-1/2" in answer.smallest.reason
    assert answer.smallest.assumes[0] == "as emt: conduit may be another kind"


@pytest.mark.parametrize(
    ("typed", "trouble"),
    [
        ("how many wires in 3/4 emt", "which wires or cables"),
        ("what size lb for 3 #1/0", "which trade size"),
        ("how many 10s in 3/4 pipe", "which conduit"),
        ("how many #12 thhn in emt", "depends on the size"),
        ("how many purple elephants in 3/4 emt", "unknown word 'how'"),
        ("12 thhn in 3/4 emt", "unknown word"),  # twelve of which size, or how many #12?
    ],
)
def test_what_is_not_understood_is_asked_back(typed: str, trouble: str):
    with pytest.raises(AmpleroomError, match=trouble):
        ask(typed, 2020)


def test_a_count_before_a_conductor_size_is_no_trade_size():
    """It was: ``2 in straight, 4 #4/0`` was sized from a 2 in. raceway to a 4 in. one. 8 x 2 in. is 16 in."""
    answer = ask("pull box for 2 in emt straight 4 #4/0", 2020)
    assert "from left to right 16 in" in answer.smallest.reason
    assert "4 x #4/0" in answer.sheet
    assert ask('what size junction box for 4 3/0 in 2" emt straight through', 2020).sheet.count("emt 2") == 2
