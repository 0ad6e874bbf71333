"""Workbooks that are too much, damaged, or name files that are none of theirs, on the command line."""

import io
import resource
import zipfile
from itertools import pairwise

import pytest

from ampleroom.errors import FileTrouble, SheetFaults
from ampleroom.sheets import reading
from ampleroom.sheets.bounded import TooMuch, answer_of, read_bounded
from ampleroom.sheets.reading import read_tables
from tests.cli.helpers import inside
from tests.sheets.helpers import made

pytest.importorskip("python_calamine")

BOXES = [["Box", "What it is"], ["A", "square 4 x 1-1/2"]]


def damaged(change):
    """A workbook of one sheet, its cells' file changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(made(Boxes=BOXES))) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            new.writestr(name, change(content) if name.endswith("sheet1.xml") else content)
    return out.getvalue()


def far_apart(content):
    """Two cells at two corners of the largest sheet there can be: all between them is made."""
    start = content.index(b"<sheetData>") + len(b"<sheetData>")
    corner = b'<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    return content[:start] + corner + content[content.index(b"</sheetData>") + len(b"</sheetData>") :]


def test_a_small_file_that_claims_to_be_of_any_size_is_refused_and_this_process_grows_by_little(folder):
    (folder / "w.xlsx").write_bytes(damaged(far_apart))
    assert (folder / "w.xlsx").stat().st_size < 20_000
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    ran = inside("convert", "w.xlsx", "--to", "w.job")
    assert (ran.status, "takes too much memory or time" in ran.err) == (2, True)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 100_000  # kB
    assert not (folder / "w.job").exists()


def test_a_process_that_ends_without_an_answer_is_told(tmp_path):
    with pytest.raises(TooMuch) as raised:
        answer_of("json.no_such_module", {})
    assert "CalledProcessError" in raised.value.why


def test_a_panic_of_the_library_is_told_in_words(monkeypatch):
    """What it raises then is no Exception."""
    import python_calamine

    class Panic(BaseException):
        pass

    def panics(*_):
        raise Panic("index out of bounds")

    monkeypatch.setattr(python_calamine, "CalamineWorkbook", type("Book", (), {"from_filelike": staticmethod(panics)}))
    with pytest.raises(FileTrouble, match=r"w\.xlsx cannot be read as a workbook: index out of bounds"):
        read_tables(b"PK", "w.xlsx")


@pytest.mark.parametrize("name", ["../a.toml", "/etc/hostname", "pipe"])
@pytest.mark.parametrize("ending", ["xlsx", "csv"])
def test_amendments_named_in_a_table_lie_beside_it_and_are_files(tmp_path, name, ending):
    import os

    (tmp_path / "a.toml").write_text('place = "Cold Harbor"\n')
    here = tmp_path / "here"
    here.mkdir()
    os.mkfifo(here / "pipe")
    rows = [["Word", "What"], ["edition", "2020"], ["amendments", name]]
    if ending == "xlsx":
        (here / "w.xlsx").write_bytes(made(Job=rows, Boxes=BOXES))
        paths = [here / "w.xlsx"]
    else:
        for tab, cells in (("job", rows), ("boxes", BOXES)):
            (here / f"{tab}.csv").write_text("\n".join(",".join(row) for row in cells))
        paths = [here / "job.csv", here / "boxes.csv"]
    for read in (read_bounded, reading.read_workbooks):
        with pytest.raises(SheetFaults, match="there is no file"):
            read(paths, {})


def test_amendments_beside_a_workbook_are_in_force_and_faults_keep_their_cells_and_their_order(tmp_path):
    (tmp_path / "a.toml").write_text('place = "Cold Harbor"\n')
    rows = [["Word", "What"], ["edition", "2020"], ["amendments", "a.toml"]]
    (tmp_path / "w.xlsx").write_bytes(made(Job=rows, Boxes=BOXES))
    amendments = read_bounded([tmp_path / "w.xlsx"], {}).amendments
    assert amendments is not None
    assert amendments.place == "Cold Harbor"
    bad = [["Box", "What it is"], ["A", "sqare 4"], ["B", "octgon 4"]]
    (tmp_path / "w.xlsx").write_bytes(made(Boxes=bad))
    with pytest.raises(SheetFaults) as raised:
        read_bounded([tmp_path / "w.xlsx"], {})
    with pytest.raises(SheetFaults) as inner:
        reading.read_workbooks([tmp_path / "w.xlsx"], {})
    assert raised.value.faults == inner.value.faults
    assert all(one.place < other.place for one, other in pairwise(raised.value.faults))


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path
