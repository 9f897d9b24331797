# Each target is one line; without make, type that line: python3 scripts/project.py demo
.DEFAULT_GOAL := help
.PHONY: help demo app test bench gallery reference lock clean

# The first interpreter that is new enough; `make demo PYTHON=/path/to/python` overrides it.
NEW_ENOUGH := import sys; sys.exit(sys.version_info < (3, 11))
PYTHON ?= $(shell for p in python3 python3.14 python3.13 python3.12 python3.11 python; do \
	$$p -c '$(NEW_ENOUGH)' >/dev/null 2>&1 && echo $$p && exit; done; echo python3)
PROJECT = @$(PYTHON) scripts/project.py

help:
	@sed -n 's/^\([a-z]*\):.*## /make \1\t/p' Makefile

demo: ## set everything up (once) and pack the example dress into out/kiln-dress
	$(PROJECT) demo

app: ## set everything up (once) and open the app in your browser; IN=folder for designs elsewhere than ~/Clothwise
	$(PROJECT) app $(IN)

test: ## set everything up (once) and run format, lint, imports, types and tests
	$(PROJECT) test

bench: ## measure against our bars, write benchmarks/results.json; ONLY=group for one group, ONLY=group:benchmark for one of it
	$(PROJECT) bench $(ONLY)

gallery: ## draw every component at three sizes into out/gallery; ONLY=component for one
	$(PROJECT) gallery $(ONLY)

reference: ## write the pages of docs/reference that follow from the code, and their pictures
	$(PROJECT) reference

lock: ## write requirements/*.lock anew from pyproject.toml; UPGRADE=1 for newer versions
	$(PROJECT) lock $(if $(UPGRADE),--upgrade)

clean: ## remove .venv, out and caches
	$(PROJECT) clean
