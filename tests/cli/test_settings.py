"""settings: private, whole or not at all, and told where they are damaged."""

import os
import stat

import pytest

from ampleroom.cli import settings
from tests.cli.helpers import inside


@pytest.fixture
def file(folder):
    return folder / "config" / "ampleroom" / "settings.toml"


def test_nothing_is_set_at_first_and_nothing_is_written(folder, file):
    ran = inside("settings")
    assert ran.status == 0
    assert ran.out.startswith("edition not set")
    assert not file.parent.exists()


def test_an_edition_is_set_and_taken_back(folder, file):
    assert inside("settings", "edition", "2017").out.startswith("edition 2017 ")
    assert file.read_text() == "edition = 2017\n"
    assert inside("settings", "--json").json == {"schema": "ampleroom-settings/1", "file": str(file), "edition": 2017}
    assert inside("settings", "edition", "none").status == 0
    assert inside("settings").out.startswith("edition not set")


def test_the_file_is_for_the_user_alone(folder, file):
    inside("settings", "edition", "2020")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700


def test_without_a_folder_of_its_own_it_lies_in_the_usual_one(folder, monkeypatch):
    monkeypatch.setenv("HOME", str(folder))
    for wrong in ("", "relative/folder"):
        monkeypatch.setenv("XDG_CONFIG_HOME", wrong)
        assert settings.settings_file() == folder / ".config" / "ampleroom" / "settings.toml"


DAMAGED = {
    "no toml": b"edition 2020",
    "no text": b"\xff\xfe\x00",
    "no year": b'edition = "2020"',
    "no edition": b"edition = 1999",
    "true": b"edition = true",
    "mistyped": b"editon = 2020",
    "large": b"#" * 30_000,
    "nested": b"a = " + b"[" * 9_000,
}


@pytest.mark.parametrize("data", DAMAGED.values(), ids=DAMAGED)
def test_a_damaged_file_is_told_with_a_remedy_that_works_and_is_not_lost(folder, file, data):
    file.parent.mkdir(parents=True)
    file.write_bytes(data)
    for words in (["settings"], ["ask", "12/2 nm-b"], ["new"]):
        ran = inside(*words)
        assert (ran.status, ran.out) == (2, "")
        assert str(file) in ran.err
        assert "Set it again: ampleroom settings edition YEAR" in ran.err
    assert inside("ask", "12/2 nm-b", "--edition", "2020").status == 3  # it is not needed
    assert inside("settings", "edition", "2020").status == 0
    assert file.read_text() == "edition = 2020\n"
    assert file.with_name("settings-damaged.toml").read_bytes() == data


def test_where_writing_stops_half_way_the_old_setting_stands(folder, file, monkeypatch):
    inside("settings", "edition", "2017")

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    ran = inside("settings", "edition", "2020")
    assert ran.status == 2
    assert "cannot be written: No space left on device" in ran.err
    assert file.read_text() == "edition = 2017\n"
    assert [path.name for path in file.parent.iterdir()] == ["settings.toml"]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["edtion", "2020"], "there is no setting 'edtion'; write edition"),
        (["edition"], "which edition?"),
        (["edition", "1999"], "no 1999 edition is offered"),
        (["edition", "new"], "'new' is not an edition"),
        (["edition", "²"], "'²' is not an edition"),
    ],
)
def test_what_is_no_setting_is_refused_and_nothing_is_written(folder, file, words, message):
    ran = inside("settings", *words)
    assert (ran.status, ran.out) == (2, "")
    assert message in ran.err
    assert not file.exists()


def test_the_settings_never_change_what_check_says(folder, file):
    before = inside("check", "no-edition.job")
    inside("settings", "edition", "2020")
    assert inside("check", "no-edition.job") == before
