# make book   sets up, then builds the demo book
# make test   sets up, then runs every check
# make gallery  makes the pictures of docs/
# make docs   writes the reference pages of docs/ anew
# make fuzz   tries ten thousand mutated chapters, and brings 300 to paper (some twenty minutes)
# make lock   names anew what the setup installs, file by file
# make licences  writes docs/licences.md anew from what is installed
# make bench  measures a build beside the engraver's own work (some three minutes)
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
DEMO ?= books/quiet-doors
PIP := $(BIN)/python -m pip --disable-pip-version-check

.PHONY: book test gallery docs bench fuzz licences lock setup setup-test clean
book: setup
	$(BIN)/shedbook build $(DEMO) --out build

test: setup-test
	$(BIN)/ruff check typeset tests
	$(BIN)/ruff format --check --quiet typeset tests docs
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -n auto

gallery: setup
	$(BIN)/python docs/make_gallery.py

docs: setup
	$(BIN)/python docs/make_reference.py

bench: setup-test
	$(BIN)/python tests/benchmarks/bench.py --sizes 125 250 500 1000 2000

setup: $(VENV)/.ready
setup-test: $(VENV)/.ready-test

# An editable install compiles nothing, and a first start, or one that may not write here, would do it all.
# What is installed is what requirements/ names, file by file, so that the same comes out everywhere.
$(VENV)/.ready: pyproject.toml requirements/book.txt
	$(PYTHON) -m venv $(VENV)
	$(PIP) install --quiet --require-hashes --requirement requirements/book.txt
	$(PIP) install --quiet --no-deps --no-build-isolation --editable .
	$(BIN)/python -m compileall -q typeset
	@touch $@

$(VENV)/.ready-test: $(VENV)/.ready requirements/test.txt
	$(PIP) install --quiet --require-hashes --requirement requirements/test.txt
	@touch $@

# The newest of everything that pyproject.toml allows; test it, and commit what changed.
LOCK := $(BIN)/uv pip compile pyproject.toml requirements/build.in --universal --python-version 3.11 \
	--generate-hashes --no-annotate --no-header --quiet --upgrade
lock: setup
	$(PIP) install --quiet 'uv>=0.5,<1'
	$(LOCK) --output-file requirements/book.txt
	$(LOCK) --extra test --no-emit-package shedbook --constraint requirements/book.txt --output-file requirements/test.txt

# What is installed, and under which licences.
licences: setup-test
	$(BIN)/python docs/make_licences.py

fuzz: setup-test
	$(BIN)/python -m tests.fuzz --chapters 10000 --paper 300

clean:
	rm -rf $(VENV) build
