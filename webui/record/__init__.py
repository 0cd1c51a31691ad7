"""The record's rules: what an entry is, how entries fold into states, what lists show of them. Pure on both hosts."""

from __future__ import annotations

from webui.record.book import Book
from webui.record.checking import check_entry, understood
from webui.record.entries import BadEntry, Entry, build, canonical, parse, text_hash
from webui.record.fold import FOLD_VERSION, Item, State, empty, fold
from webui.record.ids import is_uuid
from webui.record.instants import local_instant, microseconds
from webui.record.kinds import KINDS, Kind
from webui.record.standing import standing
from webui.record.summary import Summary, current, select, summary
from webui.record.writer import Writer, once

__all__ = [
    "FOLD_VERSION",
    "KINDS",
    "BadEntry",
    "Book",
    "Entry",
    "Item",
    "Kind",
    "State",
    "Summary",
    "Writer",
    "build",
    "canonical",
    "check_entry",
    "current",
    "empty",
    "fold",
    "is_uuid",
    "local_instant",
    "microseconds",
    "once",
    "parse",
    "select",
    "standing",
    "summary",
    "text_hash",
    "understood",
]
