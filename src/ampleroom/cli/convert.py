"""``convert``: sheet to workbook and back, CSV in, results out."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.check import check
from ampleroom.cli.common import add_edition, add_force, add_json, command_parser, job_of, print_json
from ampleroom.cli.paper import printable
from ampleroom.cli.saving import free_target, save
from ampleroom.errors import AmpleroomError, EditionUnknown
from ampleroom.job.model import Job
from ampleroom.job.writer import write_job
from ampleroom.quantities import plural

WORKBOOKS = (".xlsx", ".xls", ".ods", ".csv")


def parser() -> argparse.ArgumentParser:
    """The options of ``convert``."""
    command = command_parser(
        "convert",
        "Turn a job sheet into a workbook with its results. Turn a filled workbook or CSV files into a job "
        "sheet. Or write an empty workbook to fill in. Faults in a workbook are shown by tab and cell.",
        "  ampleroom convert --template --to ours.xlsx\n"
        "  ampleroom convert boathouse.job --to boathouse.xlsx\n"
        "  ampleroom convert ours.xlsx --to ours.job\n"
        "  ampleroom convert boxes.csv runs.csv --to job.job --column 'Box #=Box'\n"
        "  ampleroom convert boathouse.job --to results.csv",
    )
    command.add_argument(
        "sources",
        nargs="*",
        metavar="FILE",
        help="a sheet (.job), a workbook (.xlsx, .xls, .ods), or CSV files named boxes.csv, runs.csv ...",
    )
    command.add_argument("--to", required=True, metavar="FILE", help="what to make: .job, .xlsx, or .csv (results)")
    command.add_argument("--template", action="store_true", help="an empty workbook with drop-downs and notes")
    command.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="YOURS=OURS",
        help="a column name of your own; remembered beside the workbook",
    )
    add_force(command)
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Convert, or write the empty template, and tell what was written; the exit status, 0."""
    to = Path(options.to)
    free_target(to, options.force)
    if options.template:
        from ampleroom.sheets.writing import workbook

        if to.suffix.lower() != ".xlsx":
            raise AmpleroomError(f"a template is a workbook: --to ours.xlsx, not {to.name}")
        save(to, workbook(), force=options.force)
        return report_written(options, to, f"{to} is written: an empty template")
    if not options.sources:
        raise AmpleroomError("name what to convert, or use --template")
    sources = [Path(source) for source in options.sources]
    job = job_in(sources, options.column)
    save(to, converted(job, to, options.edition), force=options.force)
    return report_written(
        options, to, f"{to} is written: {plural(len(job.boxes), 'box', 'boxes')}, {plural(len(job.runs), 'run')}"
    )


def report_written(options: argparse.Namespace, to: Path, text: str) -> int:
    """Print which file was written, as text or JSON; the exit status, 0."""
    if options.json:
        print_json({"schema": "ampleroom-convert/1", "file": str(to)})
    else:
        print(printable(text))
    return 0


def job_in(sources: list[Path], columns: list[str]) -> Job:
    """The job in a sheet, in a workbook, or in CSV files together."""
    endings = {source.suffix.lower() for source in sources}
    if endings == {".job"} and len(sources) == 1:
        return job_of(str(sources[0]))
    if not endings <= set(WORKBOOKS) or (len(sources) > 1 and endings != {".csv"}):
        raise AmpleroomError("convert takes one sheet (.job), one workbook (.xlsx, .xls, .ods), or CSV files")
    from ampleroom.sheets.bounded import read_bounded
    from ampleroom.sheets.own_names import REMEMBERED, own_names, remembered, remembered_text

    names = own_names(columns)
    if names:
        folder = sources[0].parent
        save(folder / REMEMBERED, remembered_text({**remembered(folder), **names}), force=True)
    return read_bounded(sources, names)


def converted(job: Job, to: Path, edition: int | None) -> bytes:
    """The job as bytes of a .job, .xlsx or .csv file, by the ending of ``to``; AmpleroomError for any other."""
    match to.suffix.lower():
        case ".job":
            return (job.sheet.text if job.sheet else write_job(job)).encode("utf-8")
        case ".xlsx":
            from ampleroom.sheets.writing import workbook

            try:
                return workbook(job, check(job, edition))
            except EditionUnknown:
                return workbook(job)  # no edition, no results: the job alone
        case ".csv":
            from ampleroom.sheets.writing import results_csv

            return results_csv(check(job, edition)).encode("utf-8-sig")
        case other:
            raise AmpleroomError(f"convert makes .job, .xlsx or .csv, not {other or 'a file without an ending'!r}")
