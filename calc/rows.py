"""Fields that hold several values: lists of one value a line, and series of rows of several.

They come as JSON lists, as JSON text, or as text with one value or row a line; in a line the columns of a row stand
apart by `;`, by a comma and a blank, or, for two columns, by the first blank.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any, NamedTuple

from calc.declaration import Field
from calc.errors import Unreadable
from calc.messages import N_, message

MOST_ROWS = 2000
_APART = re.compile(r"\s*;\s*|\t+|\s*,\s+")


class Part(NamedTuple):
    """One value of a list or series: a field of its own named `FIELD.ROW` or `FIELD.ROW.COLUMN`, and its text."""

    field: Field
    text: str
    row: int


def parts_of(declared: Field, text: str) -> tuple[list[Part], int]:
    """The values in the text of a field of shape list or series, blank ones left out, and how many rows there are.

    Errors
        Unreadable where the text as a whole is no list, where a row has too many columns, and where one is missing
    """
    found: list[Part] = []
    rows = _rows(text)
    if len(rows) > MOST_ROWS:
        raise Unreadable(
            "out_of_range", message(N_("{count} rows are too many"), count=str(len(rows))),
            message(N_("Give at most {most}"), most=str(MOST_ROWS)),
        )  # fmt: skip
    for index, row in enumerate(rows):
        if declared.shape == "list":
            shape = "quantity" if declared.quantity else "number"
            own = replace(declared, name=f"{declared.name}.{index}", shape=shape)
            found.append(Part(own, _word(row), index))
            continue
        cells = _cells(declared, row, index)
        for column in declared.columns:
            cell = cells.get(column.name, "")
            if cell:
                found.append(Part(replace(column, name=f"{declared.name}.{index}.{column.name}"), cell, index))
            elif column.required:
                raise Unreadable(
                    "missing",
                    message(N_("Row {row} lacks {column}"), row=str(index + 1), column=column.label.lower()),
                    message(N_("Give each row as {columns}"), columns=_columns(declared)),
                )
    return found, len(rows)


def _rows(text: str) -> list[Any]:
    if text.startswith("["):
        try:
            rows = json.loads(text)
        except (ValueError, RecursionError):
            raise Unreadable(
                "not_a_number", message(N_("This begins like a JSON list and is none")),
                message(N_("Close every bracket and quotation mark, or give one value a line")),
            ) from None  # fmt: skip
        return list(rows)
    return [line.strip() for line in text.splitlines() if line.strip()]


def _cells(declared: Field, row: Any, index: int) -> dict[str, str]:
    """The texts of one row by column name."""
    names = [column.name for column in declared.columns]
    if isinstance(row, dict):
        cells = {str(name): _word(cell) for name, cell in row.items()}
        unknown = [name for name in cells if name not in names]
    else:
        listed = row if isinstance(row, list) else _split(_word(row), len(names))
        unknown = [_word(cell) for cell in listed[len(names) :]]
        cells = dict(zip(names, (_word(cell) for cell in listed), strict=False))
    if unknown:
        raise Unreadable(
            "unknown_field",
            message(N_("Row {row} has more than it should: {unknown}"), row=str(index + 1), unknown=unknown[0]),
            message(N_("Give each row as {columns}"), columns=_columns(declared)),
        )
    return cells


def _split(line: str, columns: int) -> list[str]:
    cells = _APART.split(line)
    return line.split(None, 1) if len(cells) == 1 and columns == 2 else cells


def _columns(declared: Field) -> str:
    return "; ".join(column.label.lower() for column in declared.columns)


def _word(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value.strip() if isinstance(value, str) else str(value)
