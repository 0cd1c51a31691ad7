"""The Bench: any working without a visit, as a form that comes from its declaration."""

from __future__ import annotations

from dataclasses import dataclass

from calc import refrigerants
from calc.working import Fault, Working, run, workings
from webui.forms import Input, inputs, typed
from webui.page import Page, Request
from webui.preferences import preferences
from webui.record import Book
from webui.render import page, refusal, speaker
from webui.routes import Params
from webui.worked import Block, block_of


@dataclass(frozen=True)
class Index:
    """workings: all of them, in the order they are listed."""

    workings: tuple[Working, ...]


@dataclass(frozen=True)
class Bench:
    """One working: its fields with what was typed, the faults, or the answer."""

    working: Working
    fields: list[Input]
    faults: tuple[Fault, ...]
    block: Block | None
    refrigerants: tuple[str, ...]


def index(request: Request, book: Book, params: Params) -> Page:
    context = Index(tuple(workings().values()))
    return page(request, book, "bench_index.html", context, title=speaker(request)("Bench"), area="bench")


def show(request: Request, book: Book, params: Params) -> Page:
    """The form; worked out where something was typed (a form that came by POST always was)."""
    working = workings().get(params["name"])
    if working is None:
        return refusal(request, book, 404)
    pairs = request.form if request.method == "POST" else tuple(request.query.items())
    values = typed(pairs, [one.name for one in working.fields])
    asked = request.method == "POST" or any(one.name in request.query for one in working.fields)
    answer = run(working.name, {name: one.joined() for name, one in values.items()}) if asked else None
    faults = answer.errors if answer else ()
    needs_fluid = any(one.shape == "refrigerant" for one in working.fields)
    context = Bench(
        working=working,
        fields=inputs(working.fields, values, faults, preferences(request, book)),
        faults=faults,
        block=block_of(answer, request.language) if answer and answer.ok else None,
        refrigerants=refrigerants.designations() if needs_fluid else (),
    )
    title = speaker(request)(working.title)
    return page(request, book, "bench.html", context, title=title, area="bench", status=422 if faults else 200)
