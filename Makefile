# Every target makes the environment it needs from requirements.lock.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: run test lint check-format typecheck unit soak bench format lock clean

run: $(READY)
	$(BIN)/faywright plan examples/hall-bench/piece.toml -o out

test: lint unit

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

unit: $(READY)
	$(BIN)/pytest -n 2 -m "not soak"

# Long fuzz and soak runs: not part of `make test`.
soak: $(READY)
	$(BIN)/pytest -n 2 -m soak

bench: $(READY)
	$(BIN)/python -m benchmarks

format: $(READY)
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

# Pin again after a change of the dependencies in pyproject.toml.
lock: $(READY)
	$(BIN)/uv pip compile pyproject.toml --extra dev --extra postgres --universal --generate-hashes --upgrade \
		--no-emit-index-url --no-emit-find-links --no-header -o requirements.lock

$(READY): requirements.lock pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or newer is needed" if sys.version_info < (3, 11) else 0)'
	$(PYTHON) -m venv --clear $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $(READY)

clean:
	rm -rf $(VENV) out .mypy_cache .ruff_cache .pytest_cache .hypothesis
