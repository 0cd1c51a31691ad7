"""What every request and answer passes: no posts from other sites, and the headers that bind the browser."""

from __future__ import annotations

from flask import Flask, Response, abort, request

_SAFE = {"GET", "HEAD", "OPTIONS"}
_STATELESS = "/api/"  # reads no cookie and keeps nothing, so any site and any program may post to it

# 'wasm-unsafe-eval' is for Pyodide; it allows WebAssembly and no eval of JavaScript.
CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "connect-src 'self'",
        "worker-src 'self'",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
_HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


def from_our_pages() -> bool:
    """Whether the browser says that this request was made by a page of ours.

    By Sec-Fetch-Site, which a page cannot forge; where a browser does not send it (it does not on plain http away from
    localhost), by Origin.
    """
    site = request.headers.get("Sec-Fetch-Site")
    if site is not None:
        return site == "same-origin"
    return request.headers.get("Origin") == request.host_url.rstrip("/")


def install(app: Flask) -> None:
    """Put the guard before every request and the headers on every answer."""

    @app.before_request
    def refuse_other_sites() -> None:
        if request.method not in _SAFE and not request.path.startswith(_STATELESS) and not from_our_pages():
            abort(403, "This form was not sent from a page of this site. Open the page again and send it from there.")

    @app.after_request
    def bind_the_browser(answer: Response) -> Response:
        for name, value in _HEADERS.items():
            answer.headers.setdefault(name, value)
        if request.is_secure:
            answer.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
        answer.headers.setdefault("Cache-Control", "no-store")
        return answer
