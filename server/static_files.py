"""Static files: hash-named ones for ever, compressed where the browser takes it, each under its right type."""

from __future__ import annotations

import re
from pathlib import Path

from flask import Response, abort, request, send_file
from werkzeug.security import safe_join

import webui

STATIC = Path(webui.__file__).resolve().parent / "static"
_ENCODINGS = (("br", ".br"), ("gzip", ".gz"))
_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".zip": "application/zip",
}
_FOREVER = "public, max-age=31536000, immutable"
_ASK_FIRST = "no-cache"
_HASHED = re.compile(r"gen/(.*[.-][0-9a-f]{12,64}[./].+)")


def send_static(name: str) -> Response:
    """A file below webui/static, from its compressed twin where there is one that the browser takes; else 404.

    One whose name holds a hash never changes and is kept for ever; of any other the browser asks each time.
    """
    path = safe_join(str(STATIC), name)
    if path is None or not Path(path).is_file() or "/." in f"/{name}":
        abort(404)
    encoding, sent = next(
        ((e, path + end) for e, end in _ENCODINGS if _takes(e) and Path(path + end).is_file()), ("", path)
    )
    answer = send_file(sent, mimetype=_TYPES.get(Path(path).suffix, "application/octet-stream"), conditional=True)
    if encoding:
        answer.headers["Content-Encoding"] = encoding
    answer.headers["Vary"] = "Accept-Encoding"
    answer.headers["Cache-Control"] = _FOREVER if _HASHED.fullmatch(name) else _ASK_FIRST
    return answer


def _takes(encoding: str) -> bool:
    return request.accept_encodings.quality(encoding) > 0
