"""The application: everything it needs is handed in, nothing is opened before the first request."""

from __future__ import annotations

import logging

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from server import guard, refusals
from server.api import blueprint as api
from server.doors import doors
from server.host import attach
from server.settings import Settings
from server.sync import sync
from server.web import web

_LARGEST_BODY = 1024 * 1024


def create_app(settings: Settings | None = None) -> Flask:
    """Build the application from its settings (those of the environment where none are given)."""
    settings = settings or Settings.from_environment()
    app = Flask("server", static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = _LARGEST_BODY
    app.logger.setLevel(logging.INFO)
    attach(app, settings)
    if settings.behind_proxy:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1, x_proto=1, x_host=1)  # type: ignore[method-assign]
    guard.install(app)
    refusals.install(app)
    app.register_blueprint(doors)
    app.register_blueprint(api)
    app.register_blueprint(sync)
    app.register_blueprint(web)
    return app
