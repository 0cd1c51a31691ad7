"""The catalogue as people read it: every refrigerant has its page, and every fact on it says where it comes from."""

from __future__ import annotations

import html

import pytest

from calc import refrigerants
from tests.webui.desk_host import Host
from webui.pages.refrigerant import word


def text(path: str) -> str:
    page = Host().get(path)
    assert page.status == 200
    return html.unescape(page.html)


@pytest.mark.parametrize("designation", refrigerants.designations())
def test_every_refrigerant_has_a_page_with_grade_and_sources(designation: str) -> None:
    found = refrigerants.get(designation)
    shown = text(f"/refrigerants/{word(designation)}")
    assert f"<h1>{designation}</h1>" in shown
    assert found.safety_group in shown
    assert "Grade of the tables" in shown
    assert ("Every figure of it carries a wider ±" in shown) == found.estimated
    assert found.remark in shown
    assert found.sources["safety_group"] in shown
    for warms in found.gwp.values():
        assert warms.source in shown


def test_facts_of_one_blend_as_published() -> None:
    """R-410A: 50/50 % by mass, A1 (ASHRAE 34); Regulation (EU) 2024/573 gives 675 and 3500, mass-weighted 2087.5."""
    shown = text("/refrigerants/410a")
    assert "R-32 50 %, R-125 50 %" in shown
    assert "2088" in shown
    assert "A1" in shown


def test_the_list_links_to_every_page_and_the_bench_to_the_list() -> None:
    shown = text("/refrigerants")
    assert all(f'href="/refrigerants/{word(name)}"' in shown for name in refrigerants.designations())
    assert 'href="/refrigerants"' in text("/bench")


def test_an_unknown_one_is_no_page() -> None:
    assert Host().get("/refrigerants/9999").status == 404
