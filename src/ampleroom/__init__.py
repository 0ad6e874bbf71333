"""Ampleroom: does it fit, and does it pass? For the working electrician in the United States.

>>> from ampleroom import read_job, check
>>> job = read_job('''
... edition 2020
... box J1 at ridge
...   square 4 x 1-1/2
...   clamps inside
... run J1 > ? 3 x 12/2 nm-b
... ''')
>>> report = check(job)
>>> report.verdict.word
'passes'
>>> str(report.worksheets["J1"].needed)
'18.00'
"""

from ampleroom.arithmetic import Line
from ampleroom.check import check
from ampleroom.errors import AmpleroomError, EditionUnknown, FileTrouble, NameUnknown, SheetFaults
from ampleroom.job import UNKNOWN, Job, read_job, write_job
from ampleroom.report import VERSION, Report
from ampleroom.words import CAUTION
from ampleroom.worksheet import Finding, OpenFact, Reminder, SubjectReport, Verdict, Worksheet

__version__ = VERSION

__all__ = [
    "CAUTION",
    "UNKNOWN",
    "AmpleroomError",
    "EditionUnknown",
    "FileTrouble",
    "Finding",
    "Job",
    "Line",
    "NameUnknown",
    "OpenFact",
    "Reminder",
    "Report",
    "SheetFaults",
    "SubjectReport",
    "Verdict",
    "Worksheet",
    "check",
    "read_job",
    "write_job",
]
