# Two commands matter: `make demo` and `make test`. Both install what they need first.

PYTHON ?= $(shell command -v python3.11 || command -v python3)
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed
STAMP_BENCH := $(VENV)/.installed-bench
WORKERS ?= 2

# What `make compare` and `make bench` hold the present code against, and which benchmarks (none named: all).
OLD ?= 49d7cbd
ROWS ?=

.PHONY: words install demo test lint types architecture unit docs docs-check bench study compare lock clean

install: $(STAMP)

$(STAMP): requirements.lock pyproject.toml
	@PYTHON="$(PYTHON)" VENV="$(VENV)" sh tools/install.sh
	@touch $(STAMP)

$(STAMP_BENCH): $(STAMP) requirements-bench.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-bench.lock
	@touch $(STAMP_BENCH)

demo: install
	$(BIN)/stringline demo --out demo --no-serve

test: lint types architecture docs-check unit

lint: install
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: install
	$(BIN)/mypy

architecture: install
	$(BIN)/lint-imports

unit: install
	$(BIN)/pytest -n $(WORKERS)

docs: install
	$(BIN)/python tools/docs.py

docs-check: install
	$(BIN)/python tools/docs.py --check

bench: $(STAMP_BENCH)
	OLD=$(OLD) $(BIN)/python bench/run.py $(ROWS)

study: install
	$(BIN)/python bench/study_diagnosis.py

compare: install
	$(BIN)/python tools/compare_json.py $(OLD)

words: install
	$(BIN)/python tools/words.py

lock: install
	$(BIN)/uv pip compile pyproject.toml --extra dev --universal --python-version 3.11 \
	  --generate-hashes --no-emit-index-url --no-header --quiet --upgrade -o requirements.lock
	$(BIN)/uv pip compile pyproject.toml --extra bench --universal --python-version 3.11 --constraint requirements.lock \
	  --generate-hashes --no-emit-index-url --no-header --no-annotate --quiet --upgrade -o requirements-bench.lock

clean:
	rm -rf $(VENV) demo build .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
