"""The job: frozen records, the sheet they are read from and written to, and where each fact stands in it."""

from ampleroom.job.cables import Makeup, conductors_of, makeup
from ampleroom.job.faults import Fault
from ampleroom.job.model import Box, Job, Run
from ampleroom.job.reader import read_job, read_sheet, read_with_faults
from ampleroom.job.sheet import Sheet, sheet_from_bytes, sheet_from_file, starter_sheet
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.writer import write_job

__all__ = [
    "UNKNOWN",
    "Box",
    "Fault",
    "Job",
    "Makeup",
    "Maybe",
    "Run",
    "Sheet",
    "conductors_of",
    "makeup",
    "read_job",
    "read_sheet",
    "read_with_faults",
    "sheet_from_bytes",
    "sheet_from_file",
    "starter_sheet",
    "write_job",
]
