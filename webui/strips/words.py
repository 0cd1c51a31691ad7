"""Strips that are a few words: a note, why something is void, why a sheet is closed."""

from __future__ import annotations

from calc.errors import Fault
from calc.messages import N_, message
from calc.working import Field
from webui.forms import faults_of
from webui.record.kinds.shapes import LONGEST_PROSE

NOTE = Field("text", N_("Note"), N_("What you saw, did, or were told"), shape="text", required=True)
WHY_VOID = Field("why", N_("Why it does not count"), N_("It stays on the sheet, struck out, with this"), shape="text",
                 required=True)  # fmt: skip
WHY_CLOSED = Field("why", N_("What is left open"), N_("What the next visit has to do, if anything"), shape="text")


def faults(field: Field, text: str) -> list[Fault]:
    """What is wrong with the words typed for a field."""
    if len(text) > LONGEST_PROSE:
        problem = message(N_("This is longer than {most} characters"), most=str(LONGEST_PROSE))
        return [Fault(field.name, "", "too_long", problem, message(N_("Split it into several notes")))]
    return faults_of(field.name, (field,), {field.name: text[:1]} if text else {})
