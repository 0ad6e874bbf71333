"""What the tests of the packet share: a PDF's text and pages as other programs read them."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
from functools import lru_cache

import pytest

from ampleroom import Report, check, read_job
from ampleroom.packet import labels, packet
from ampleroom.remedy.plan import plan
from ampleroom.remedy.stock import stock_from_text
from ampleroom.remedy.takeoff import takeoff
from tests.pictures.helpers import ROOT

BREAK = "\N{ZERO WIDTH SPACE}"


def need(tool: str) -> str:
    """The path of a program; where it is not installed the test is skipped, in CI it fails."""
    path = shutil.which(tool)
    if path is None:
        if os.environ.get("CI"):
            pytest.fail(f"{tool} is not installed; .ci/run installs poppler-utils")
        pytest.skip(f"{tool} is not installed (Debian: poppler-utils)")
    return path


def text_of(pdf: bytes, layout: bool = True) -> str:
    """The words of a PDF as another program reads them."""
    words = [need("pdftotext"), *(["-layout"] if layout else []), "-", "-"]
    read = subprocess.run(words, input=pdf, capture_output=True, check=True, timeout=120)
    return read.stdout.decode("utf-8").replace(BREAK, "")


def pages_of(pdf: bytes) -> list[str]:
    return text_of(pdf).split("\f")[:-1]


def squeezed(text: str) -> str:
    """Without spaces and hyphens: a line may be broken anywhere, and a hyphen at its end may be taken for a mere
    break.
    """
    return re.sub(r"[\s-]+", "", text)


def reader(pdf: bytes):
    """The PDF opened by a second library."""
    pypdf = pytest.importorskip("pypdf")
    return pypdf.PdfReader(io.BytesIO(pdf))


def report_of(sheet: str) -> Report:
    return check(read_job(sheet))


@lru_cache
def studio() -> Report:
    return report_of((ROOT / "examples" / "studio.job").read_text("utf-8"))


@lru_cache
def studio_packet() -> bytes:
    """The whole packet of the studio, with remedies and takeoff."""
    found = studio()
    stock = stock_from_text((ROOT / "examples" / "stock.toml").read_text("utf-8"))
    return packet(found, plan=plan(found.job, found.book, stock, solver=False), takeoff=takeoff(found.job, stock))


__all__ = ["labels", "packet"]
