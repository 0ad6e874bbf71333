"""Spreadsheets in and out, and drawings for those who paste them into theirs."""

from ampleroom.sheets.tabs import TABS, Column, Tab

__all__ = ["TABS", "Column", "Tab"]
