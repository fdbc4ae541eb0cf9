# make book   sets up, then builds the demo book
# make test   sets up, then runs every check
# make gallery  makes the pictures of docs/
# make docs   writes the reference pages of docs/ anew
# make bench  measures a build beside the engraver's own work (some ten minutes)
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
DEMO ?= books/quiet-doors

.PHONY: book test gallery docs bench setup setup-test clean
book: setup
	$(BIN)/shedbook build $(DEMO) --out build

test: setup-test
	$(BIN)/ruff check typeset tests
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

$(VENV)/.ready: pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable .
	@touch $@

$(VENV)/.ready-test: $(VENV)/.ready
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]'
	@touch $@

clean:
	rm -rf $(VENV) build
