"""Names that are not there get the nearest that are."""

import pytest

from ampleroom.cli import COMMANDS
from tests.cli.helpers import inside


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["chek"], "ampleroom: no command 'chek'; did you mean 'check'?\n"),
        (["SHOW"], "ampleroom: no command 'SHOW'; did you mean 'show'?\n"),
        (["loft.job"], "ampleroom: no command 'loft.job'; to check a sheet: ampleroom check loft.job\n"),
        (["show", "J2", "passes.job"], "ampleroom show: there is no box 'J2'; there is J1\n"),
        (["show", "ZZZ", "passes.job"], "ampleroom show: there is no box 'ZZZ'; there is J1\n"),
        (["size", "J1", "passes.job"], "ampleroom size: J1 goes by box fill; size is for raceways, wireways and pull "),
        (["fits", "J2", "passes.job"], "ampleroom fits: there is no box 'J2'; there is J1\n"),
        (
            ["rule", "box-fill-grund"],
            ("ampleroom rule: there is no rule, disputed point, trade word or code section 'box-fill-grund'; "
             "the nearest is box-fill-grounds"),
        ),
        (["rule", "wide-devise"],
         ("ampleroom rule: there is no rule, disputed point, trade word or code section 'wide-devise'; "
          "the nearest is wide-device; 'ampleroom rule' lists all pages")),
        (["check", "pases.job"], "ampleroom check: there is no file pases.job; there is passes.job"),
        (
            ["fits", "J1", "passes.job", "--cable", "12/2", "nmx"],
            "ampleroom fits: '12/2 nmx' is not a cable or wires: unknown kind of cable 'nmx'; did you mean 'nm-b'",
        ),
    ],
)  # fmt: skip
def test_an_unknown_name_gets_the_nearest(folder, words, told):
    ran = inside(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(told)


def test_an_unknown_command_with_nothing_near_lists_them_all():
    assert inside("xyzzy").err.startswith("ampleroom: no command 'xyzzy'; the commands are " + ", ".join(COMMANDS))


def test_upper_and_lower_case_are_alike_in_the_names_of_boxes_and_rules(folder):
    assert inside("show", "j1", "passes.job") == inside("show", "J1", "passes.job")
    assert inside("rule", "BOX-Fill-Grounds") == inside("rule", "box-fill-grounds")
