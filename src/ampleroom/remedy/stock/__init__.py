"""What can be bought and what work costs: a plain TOML file the user owns. Each part says what it is as a sheet would.

[labor]
per_hour = 88.00

[[box]]
name     = "deep square"
is       = "square 4 x 2-1/8"
for      = ["junction"]
mounting = ["new-work", "surface"]
clamps   = "outside"
price    = 3.10

``items`` has the records, ``whole`` a file of them and what fits a cable, ``reading`` reads a file, ``entries`` one
entry of it.
"""

from ampleroom.remedy.stock.items import (
    Minutes,
    Money,
    StockBox,
    StockBreaker,
    StockCable,
    StockConnector,
    StockDevice,
    StockFitting,
    StockLength,
    StockPart,
    cents,
    money,
)
from ampleroom.remedy.stock.reading import read_stock, stock_from_text
from ampleroom.remedy.stock.whole import Stock

__all__ = [
    "Minutes",
    "Money",
    "Stock",
    "StockBox",
    "StockBreaker",
    "StockCable",
    "StockConnector",
    "StockDevice",
    "StockFitting",
    "StockLength",
    "StockPart",
    "cents",
    "money",
    "read_stock",
    "stock_from_text",
]
