"""Makes what the browser loads: hash-named files in webui/static/gen and their manifest (`python -m server.build`)."""
