# Everything a newcomer needs: `make run` and `make test`. Nothing is installed outside .venv, except that `make test`
# run as root asks apt for a browser when there is none.

PYTHON ?= python3
VENV := .venv
PY := $(VENV)/bin/python
DEWBOOK := $(VENV)/bin/dewbook
# the demo has passwords that everybody can read, so it never shares a database with real work
run demo: export DEWBOOK_DATABASE ?= var/demo.sqlite

.PHONY: run test check lint assets tables tables-verify bench pictures test-py test-pyodide lock-check browser demo wheel help clean

## make run: from nothing to the served program with demo data; prints the address and the demo accounts
run: .stamps/server assets demo
	$(DEWBOOK) serve

demo: .stamps/server
	$(DEWBOOK) demo

## make test: lint, strict typing, every test, the pure ones also inside Pyodide, and the lock check
test: .stamps/test browser lint assets
	$(PY) -m pytest
	$(MAKE) --no-print-directory test-pyodide
	$(MAKE) --no-print-directory lock-check

## make check: the fast part of the tests, for while you work (no browser)
check: .stamps/test lint
	$(PY) -m pytest -m "not browser" -x -q

lint: .stamps/test
	$(PY) -m ruff check .
	$(PY) -m ruff format --check .
	$(PY) -m mypy

## make assets: what the browser loads, into webui/static/gen (skipped when its inputs have not changed)
assets: .stamps/server
	$(PY) -m server.build

## make tables: the refrigerant tables, from CoolProp (about a minute)
tables: .stamps/test
	$(PY) tests/reference/build_tables.py --jobs 2

tables-verify: .stamps/test
	$(PY) tests/reference/build_tables.py --jobs 2 --verify

## make bench: speed and size, as ratios within one run
bench: .stamps/test browser assets
	$(PY) -m tests.bench

## make pictures: the pictures of the README, taken anew from the demo
pictures: .stamps/test browser assets
	$(PY) -m e2e.take_pictures

## make test-py PY_OTHER=python3.13: the tests that need no browser, on another Python
test-py:
	$(PY_OTHER) -m venv .venv-other
	.venv-other/bin/python -m pip install -q -e '.[server,test]'
	.venv-other/bin/python -m pytest -m "not browser" -q

test-pyodide: .stamps/test assets
	$(PY) -m tests.pyodide

lock-check: .stamps/test assets
	$(PY) -m server.build.lock_check
	$(PY) -m server.build.pyodide_lock

wheel: .stamps/test assets
	rm -rf build/lib
	$(PY) -m pip wheel -q --no-deps -w dist .

browser:
	@$(PYTHON) tests/browser_present.py

## make help: what there is
help:
	@sed -n 's/^## //p' Makefile

.stamps/venv:
	@mkdir -p .stamps
	$(PYTHON) -m venv $(VENV)
	$(PY) -m pip install -q --upgrade pip
	@touch $@

.stamps/server: .stamps/venv pyproject.toml
	$(PY) -m pip install -q -e '.[server]'
	@touch $@

.stamps/test: .stamps/server
	$(PY) -m pip install -q -e '.[server,test]'
	@touch $@

clean:
	rm -rf .stamps build dist webui/static/gen .hypothesis .pytest_cache .mypy_cache .ruff_cache
