# Every target sets up .venv in this folder by itself; Python 3.11 or newer and make are all it takes.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help

BIN := .venv/bin
# The version that .venv is made with: python3.11 where there is one, else the newest python3.
FIND_PYTHON = for name in $(PYTHON) python3.11 python3.12 python3.13 python3; do \
	if "$$name" -c 'import ensurepip, sys, venv; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then \
	echo "$$name"; exit; fi; done; \
	echo "leanladder needs Python 3.11 or newer, with its venv module; found none." >&2; \
	echo "Install it (Debian: python3 and python3-venv), or name one: make PYTHON=... $(MAKECMDGOALS)" >&2; \
	exit 1
# Locks hold the hashes of what may be installed; the package itself comes from this folder.
INSTALL = $(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes
PACKAGE = $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .

DEMO = $(BIN)/leanladder plan --circuit src/leanladder/data/example/circuit.csv \
	--notes src/leanladder/data/example/circuit-notes.toml --tyre sport-road --machine middleweight-sport \
	--air 8 --track 9 --humidity 60 --start cold --laps 6 --rider new

.PHONY: help run demo test paddock check bench evidence figures screens lock clean

help: ## Show the targets
	@grep -hE '^[a-z]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:[^#]*## /\t/' | expand -t 12

.venv/bin/python:
	@python="$$($(FIND_PYTHON))"; "$$python" -m venv .venv

.venv/run.stamp: requirements.lock pyproject.toml | .venv/bin/python
	@echo "Setting up .venv (once; a minute or two) ..."
	@$(INSTALL) -r requirements.lock
	@$(PACKAGE)
	@touch $@

.venv/work.stamp: requirements-dev.lock .venv/run.stamp
	@echo "Adding what tests and checks need (once) ..."
	@$(INSTALL) -r requirements-dev.lock
	@touch $@

# SUNDIALS is only compared with: where it cannot be had, that comparison is left out.
.venv/bench.stamp: requirements-bench.lock .venv/work.stamp
	@if $(INSTALL) -r requirements-bench.lock; then touch $@; \
		else echo "Going on without SUNDIALS."; fi

run: .venv/run.stamp ## Set up, print the demo's ladder, then serve the app until Ctrl-C
	@$(DEMO)
	@exec $(BIN)/leanladder serve

demo: .venv/run.stamp ## Print the demo's ladder and end
	@$(DEMO)

# What starts the served app, a browser or a database server, and takes its time.
PADDOCK = tests/browser tests/postgres tests/web/test_power.py $(wildcard tests/web/card/test_phone*.py)

test: .venv/work.stamp ## Run the tests
	@$(BIN)/python -m pytest -n auto --dist loadgroup $(PADDOCK:%=--ignore=%)

paddock: .venv/work.stamp ## Run the tests of the served app: browser, power loss, PostgreSQL
	@$(BIN)/python -m pytest $(PADDOCK)

check: .venv/work.stamp ## Check style, types, layers and the glossary
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@LEANLADDER_HOME=$(CURDIR)/.mypy_cache/home $(BIN)/mypy
	@$(BIN)/lint-imports
	@$(BIN)/python -m pytest -q tests/test_glossary.py

bench: .venv/work.stamp .venv/bench.stamp ## Time what should be fast and write benchmarks/; never a test (some minutes)
	@$(BIN)/python scripts/bench.py
	@$(BIN)/python scripts/load.py

evidence: .venv/work.stamp ## Write docs/evidence: checks, a finer model, ladders beside drawn worlds (an hour)
	@$(BIN)/python scripts/evidence.py
	@$(BIN)/python scripts/hot_touring.py
	@$(BIN)/python scripts/finer.py
	@$(BIN)/python scripts/odds.py
	@$(BIN)/python scripts/parameters.py
	@$(BIN)/python scripts/power.py

lock: .venv/work.stamp ## Write the locks anew
	@scripts/lock.sh

figures: .venv/work.stamp ## Draw docs/physics/figures from the engine and the data that ship
	@$(BIN)/python scripts/physics_figures.py

screens: .venv/work.stamp ## Take a picture of every page of the app into build/screens; wants Chromium
	@$(BIN)/python scripts/screens.py

clean: ## Remove .venv and what was built
	@rm -rf .venv build dist .mypy_cache .ruff_cache .pytest_cache .import_linter_cache
