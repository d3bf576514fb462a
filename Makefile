# Two commands: `make run` opens a shop, `make test` proves it. README.md says what each does.

PYTHON = $$(sh shared/run/find_python.sh)

.PHONY: run test

# The exit status of find_python.sh is lost inside an argument: ask it first, so that its sentence is the last one.
run:
	@python=$(PYTHON) && exec "$$python" -m shared.run.serve

test:
	@python=$(PYTHON) && exec "$$python" -m shared.run.suite
