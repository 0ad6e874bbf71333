"""Remedies: changed jobs that pass. Moves are tried on the job and judged by the same rules before anyone sees them."""

from ampleroom.remedy.box import Nothing, remedies
from ampleroom.remedy.remedy import Disturbance, Remedy
from ampleroom.remedy.stock import Stock, read_stock, stock_from_text

__all__ = ["Disturbance", "Nothing", "Remedy", "Stock", "read_stock", "remedies", "stock_from_text"]
