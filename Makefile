# The two commands are `make plan` and `make test`. Each sets up what it needs in .venv first, from hashed locks;
# nothing else on the machine is touched. Needed: Python 3.11 or newer with pip, and make.

PYTHON ?= python3
JOBS ?= 2
EXAMPLE ?= examples/sorrel-yard-bed-4.toml
OUT ?= build/sorrel-yard-bed-4
PLANS ?= plans
PORT ?= 8087

VENV := .venv
BIN := $(VENV)/bin
READY_TO_RUN := $(VENV)/.ready-to-run
READY_TO_DEVELOP := $(VENV)/.ready-to-develop

UI := src/clochewright/web/ui
BUNDLE := src/clochewright/web/static/names.json

# pip works from outside, so .venv needs no pip of its own and the system's Python is left alone (PEP 668).
PIP_INSTALL := $(PYTHON) -m pip --disable-pip-version-check --python $(BIN)/python install --quiet --quiet
COMPILE := $(BIN)/uv pip compile pyproject.toml --quiet --universal --generate-hashes --python-version 3.11 \
	--no-emit-index-url --no-emit-find-links --custom-compile-command "make locks"

A_CHROMIUM := (command -v chromium || command -v chromium-browser || command -v google-chrome) >/dev/null 2>&1

unexport PYTHONHOME PYTHONPATH

export CLOCHEWRIGHT_CHROMIUM

.DELETE_ON_ERROR:
.PHONY: help plan page serve browser test lint bench locks clean

help:
	@echo "make plan    work out the example bed into $(OUT)"
	@echo "make serve   opens the page on this machine, its plans in $(PLANS)"
	@echo "make page    builds the page's script and style"
	@echo "make test    style, types, arrows between rooms, and all tests"
	@echo "make lint    the same without the tests"
	@echo "make bench   speed"
	@echo "make locks   choose newer versions of the libraries"
	@echo "make clean   remove .venv, build and caches"

plan: $(READY_TO_RUN)
	@$(BIN)/clochewright plan $(EXAMPLE) --out $(OUT)

serve: $(BUNDLE)
	@$(BIN)/clochewright serve --folder $(PLANS) --port $(PORT)

page: $(BUNDLE)

# node comes from a Python package of the lock to develop; none is needed on this machine.
$(BUNDLE): hatch_build.py $(wildcard $(UI)/*.* $(UI)/css/* $(UI)/view3d/*) | $(READY_TO_DEVELOP)
	$(BIN)/python hatch_build.py

test: lint browser $(BUNDLE)
	$(BIN)/python -m pytest -n $(JOBS)

# For the tests of the page: the Chromium that CLOCHEWRIGHT_CHROMIUM names, else the system's, else apt's.
browser:
	@if [ -n "$$CLOCHEWRIGHT_CHROMIUM" ]; then \
		command -v "$$CLOCHEWRIGHT_CHROMIUM" >/dev/null || { \
			echo "CLOCHEWRIGHT_CHROMIUM names '$$CLOCHEWRIGHT_CHROMIUM', and there is no such program."; exit 1; }; \
	elif ! $(A_CHROMIUM); then \
		if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
			echo "Installing Chromium for the tests of the page (once; a minute or two) ..."; \
			apt-get -qq update && DEBIAN_FRONTEND=noninteractive apt-get -qq install -y chromium >/dev/null; \
		fi; \
		$(A_CHROMIUM) || { \
			echo "The tests of the page need Chromium: install it, or name one: make test CLOCHEWRIGHT_CHROMIUM=/its/path"; \
			exit 1; }; \
	fi

lint: $(READY_TO_DEVELOP)
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: browser $(BUNDLE)
	$(BIN)/python -m pytest benchmarks --benchmark-enable --benchmark-only

# The second lock keeps to the first one's versions: what is tested is what runs.
locks: $(READY_TO_DEVELOP)
	$(COMPILE) --upgrade --group build --output-file requirements.lock
	$(COMPILE) --upgrade --group dev --constraint requirements.lock --output-file requirements-dev.lock

clean:
	rm -rf $(VENV) build dist .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache .benchmarks

# Everything to develop includes everything to run, so the larger set-up stamps both.
$(READY_TO_RUN): requirements.lock pyproject.toml
	$(set-up)
	@touch $@

$(READY_TO_DEVELOP): requirements-dev.lock requirements.lock pyproject.toml
	$(set-up)
	@touch $(READY_TO_RUN) $@

# The package goes in on its own, since pip refuses a folder where hashes are required.
define set-up
@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null || { \
	echo "This needs Python 3.11 or newer, and '$(PYTHON)' is not. Name one that is: make $(MAKECMDGOALS) PYTHON=python3.12"; \
	exit 1; }
@$(BIN)/python -c "" 2>/dev/null || $(PYTHON) -m venv --clear --without-pip $(VENV)
@$(PYTHON) -m pip --python $(BIN)/python --version >/dev/null 2>&1 || { \
	echo "This needs pip 22.3 or newer, and '$(PYTHON)' has none. Install pip for it, then run make again."; \
	exit 1; }
@echo "Setting up in $(VENV) from $< (once; a minute or two) ..."
@$(PIP_INSTALL) --require-hashes --requirement $<
@$(PIP_INSTALL) --no-deps --no-build-isolation --editable .
endef
