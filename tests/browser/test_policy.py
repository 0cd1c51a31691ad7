"""The policy holds in every page of these tests, and what breaks it is heard."""

from __future__ import annotations

import pytest

from tests.browser.conftest import VIOLATED, Phone

BREAKS = {
    "style-src-attr": "document.body.setAttribute('style', 'color: red')",
    "script-src-elem": "{ const one = document.createElement('script'); one.textContent = '1';"
    " document.body.append(one); }",
    "script-src": "setTimeout('1', 0)",
    "img-src": "{ const one = new Image(); one.src = 'http://127.0.0.1:9/elsewhere.png'; document.body.append(one); }",
    "connect-src": "fetch('http://127.0.0.1:9/elsewhere').catch(() => {})",
}


@pytest.mark.parametrize("directive", BREAKS)
def test_what_breaks_the_policy_is_heard(phone: Phone, directive: str) -> None:
    """Each phone of the tests fails its test on such an event; here it is the aim."""
    page = phone.open("/sign-in")
    assert not phone.complaints
    page.evaluate(f"() => {{ {BREAKS[directive]} }}")
    page.wait_for_timeout(300)
    heard = [one for one in phone.complaints if one.startswith(f"{VIOLATED} {directive} ")]
    assert len(heard) == 1, phone.complaints
    phone.complaints.clear()
