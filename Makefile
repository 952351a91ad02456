# `make demo` and `make test` work on a fresh machine with Python 3.11 or newer.
# Without make: python bootstrap.py demo, python bootstrap.py test.
PYTHON ?= python3

.PHONY: demo test soak lint setup serve

demo test soak lint setup serve:
	@$(PYTHON) bootstrap.py $@ $(ARGS)
