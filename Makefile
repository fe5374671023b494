# Two commands on a fresh machine: `make demo` runs the main job, `make test` passes the tests.
# Needed beforehand: Python 3.11, make, and a package registry that pip can reach.

PYTHON ?= $(shell command -v python3.11 || command -v python3)
BIN := .venv/bin
RUN := $(BIN)/.run-ready
DEV := $(BIN)/.dev-ready

.PHONY: demo test setup lock data authorities benchmarks clean

demo: $(RUN)
	$(BIN)/evenpick demo

test: $(DEV)
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/mypy authorities/*.py
	$(BIN)/mypy benchmarks/*.py
	$(BIN)/lint-imports
	$(BIN)/pytest -n 2 --dist loadfile

setup: $(RUN)

$(BIN)/python:
	$(PYTHON) -m venv .venv

$(RUN): requirements/run.lock pyproject.toml | $(BIN)/python
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/run.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation --editable .
	$(BIN)/python -c "import evenpick.crops.clock_loops, evenpick.outlook.rain_loops, evenpick.plan.bed_loops, evenpick.plan.loops"  # compiled once
	touch $@

$(DEV): requirements/dev.lock $(RUN)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/dev.lock
	touch $@

# Agreement with the world, each study to its committed table. SHARED: the folder of raw sources.
SHARED ?= ../shared
authorities: $(DEV)
	$(BIN)/python authorities/evapotranspiration.py $(SHARED) > authorities/evapotranspiration.md
	$(BIN)/python authorities/around.py $(SHARED) > authorities/around.md
	$(BIN)/python authorities/generator.py $(SHARED) > authorities/generator.md
	$(BIN)/python authorities/frost_nights.py $(SHARED) > authorities/frost_nights.md
	$(BIN)/python authorities/soil_temperature.py $(SHARED) > authorities/soil_temperature.md
	$(BIN)/python authorities/own_thermometer.py $(SHARED) > authorities/own_thermometer.md
	$(BIN)/python authorities/calendars.py > authorities/calendars.md
	$(BIN)/python authorities/bulletins_apart.py > authorities/bulletins_apart.md
	$(BIN)/python authorities/trials.py > authorities/trials.md
	$(BIN)/python authorities/bands.py > authorities/bands.md
	$(BIN)/python authorities/trial_dates.py > authorities/trial_dates.md
	$(BIN)/python authorities/soil_water.py $(SHARED) > authorities/soil_water.md
	$(BIN)/python authorities/failures.py > authorities/failures.md
	$(BIN)/python authorities/rain_fed.py > authorities/rain_fed.md
	$(BIN)/python authorities/learning.py > authorities/learning.md
	$(BIN)/python authorities/season.py > authorities/season.md
	$(BIN)/python authorities/book.py > authorities/book.md
	$(BIN)/python authorities/diary_phrases.py
	$(BIN)/python authorities/sources.py 2a8dd01 > authorities/sources.md

# Speed, each table made on the machine at hand.
benchmarks: $(DEV)
	$(BIN)/python benchmarks/outlook.py > benchmarks/outlook.md
	$(BIN)/python benchmarks/book.py > benchmarks/book.md
	PYTHONPATH=src:tests/plan $(BIN)/python benchmarks/plan.py --big 30 household market
	$(BIN)/python benchmarks/pages.py > benchmarks/pages.md

# Packaged data from the raw sources and from the anchors.
data: $(DEV)
	$(BIN)/python builders/station_normals.py $(SHARED)
	$(BIN)/python builders/gradients.py
	$(BIN)/python builders/daily_records.py $(SHARED)
	$(BIN)/python builders/sources.py
	$(BIN)/python builders/crops.py
	$(BIN)/python builders/thermal_times.py

# Pins every package with its hashes; needs uv.
lock:
	uv pip compile pyproject.toml --extra build --generate-hashes --no-emit-index-url --no-header --python-version 3.11 --output-file requirements/run.lock
	uv pip compile pyproject.toml --extra build --group dev --constraints requirements/run.lock --generate-hashes --no-emit-index-url --no-header --python-version 3.11 --output-file requirements/dev.lock

clean:
	rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis
