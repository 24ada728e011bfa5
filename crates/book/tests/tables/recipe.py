"""Writes orders.xlsx: the table of tests/book/imports.rs as people keep it in a workbook, numbers as numbers, dates as dates.

Made with openpyxl 3.1.5, which shares no code with the reader: python3 recipe.py
"""

import datetime

import openpyxl

workbook = openpyxl.Workbook()
sheet = workbook.active
sheet.append(
    [
        "reference",
        "customer",
        "due",
        "use",
        "unit",
        "differential",
        "sides",
        "left overall length",
        "left overall length instrument",
        "register diameter",
        "tooth count",
    ]
)
sheet.append(
    ["T-1", "Weir Dairy", datetime.date(2026, 4, 1), "street", "in", "open", "both", '29 1/32"', "tape", "2.7790; 2.7785", 31]
)
sheet.append(["T-2", "Leat, Tam", None, "tow", "mm", "open", "left", 735.5, "tape", None, 30])
workbook.save("orders.xlsx")
