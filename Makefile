# `make run` opens a shop, `make test` proves it. README.md says what each does.
# For contributors: `make faults` writes, kills and counts for minutes, `make bench` measures against floors,
# `make looks` takes a picture of every page, `make screenshots` those of the README.

PYTHON = $$(sh shared/run/find_python.sh)

.PHONY: run test faults bench looks screenshots

# The exit status of find_python.sh is lost inside an argument: ask it first, so that its sentence is the last one.
run:
	@python=$(PYTHON) && exec "$$python" -m shared.run.serve

test:
	@python=$(PYTHON) && exec "$$python" -m shared.run.suite

faults:
	@python=$(PYTHON) && exec "$$python" -m shared.run.faults

bench:
	@python=$(PYTHON) && exec "$$python" -m shared.run.bench

looks:
	@python=$(PYTHON) && exec "$$python" -m shared.run.looks $(ARGS)

screenshots:
	@python=$(PYTHON) && exec "$$python" -m shared.run.screenshots
