# Every target makes the environment it needs from requirements.lock.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: run serve test lint unit browser soak bench format lock clean

run: $(READY)
	$(BIN)/faywright plan examples/hall-bench/piece.toml -o out

# The pages: the demo in a store of its own the first time, then whatever the store holds.
serve: $(READY)
	$(BIN)/faywright serve

test: lint unit

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

unit: $(READY) browser
	$(BIN)/pytest -n 2 -m "not soak"

# Pages are looked at in Debian's chromium, which is installed where that can be done unasked.
# Tests say what to do where it is missing.
browser:
	@command -v chromium >/dev/null || \
	if command -v apt-get >/dev/null && [ "$$(id -u)" = 0 ]; then \
		apt-get update -qq && \
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium fonts-liberation >/dev/null; \
	fi

# Long fuzz and soak runs: not part of `make test`.
soak: $(READY) browser
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
