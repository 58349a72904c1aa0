# Thin on purpose: each target is one or two commands that DEVELOPERS.md explains.

PYTHON ?= python3
VENV   := .venv
RUN    := $(VENV)/bin/python
READY  := $(VENV)/.installed
READY_TEST := $(VENV)/.installed-for-tests
# of npm: the validator of glTF, the driver of a browser, the rules of WCAG, the checker of HTML
OUTSIDE := gltf-validator@2.0.0-dev.3.10 puppeteer-core@24.43.1 axe-core@4.14.1 vnu-jar@26.9.27
EMPTY :=
READY_OUTSIDE := $(VENV)/.installed-$(subst $(EMPTY) ,-,$(OUTSIDE))

.PHONY: demo test test-outside-tools check fuzz benchmark goldens clean

demo: $(READY)
	$(VENV)/bin/foamcut cut sample_designs/glasswort-1.toml

# two workers, since two cores are what there is at least
test: $(READY_TEST)
	$(RUN) -m pytest -n 2 -m "not outside_tools"

test-outside-tools: $(READY_TEST) $(READY_OUTSIDE)
	$(RUN) -m pytest -m outside_tools

check: $(READY_TEST)
	$(RUN) -m ruff check foamcut tests
	$(RUN) -m mypy

fuzz: $(READY_TEST)
	FOAMCUT_HYPOTHESIS=fuzz $(RUN) -m pytest tests/flat tests/nest tests/draw tests/write tests/design
	$(RUN) -m tests.fuzz.run --count 2000

benchmark: $(READY_TEST)
	$(RUN) -m tests.benchmarks.nesting
	$(RUN) -m tests.benchmarks.samples
	$(RUN) -m tests.benchmarks.airframe
	$(RUN) -m tests.benchmarks.balance
	$(RUN) -m tests.benchmarks.packs

clean:
	rm -rf $(VENV) build *.egg-info .pytest_cache .mypy_cache .ruff_cache .hypothesis

$(READY): pyproject.toml constraints.txt
	$(PYTHON) -m venv $(VENV)
	$(RUN) -m pip install --quiet -c constraints.txt -e .
	touch $@

$(READY_TEST): $(READY)
	$(RUN) -m pip install --quiet -c constraints.txt -e ".[test,check]"
	touch $@

$(READY_OUTSIDE): $(READY)
	npm install --prefix $(VENV) --no-save --no-audit --no-fund --ignore-scripts --loglevel error $(OUTSIDE)
	touch $@
