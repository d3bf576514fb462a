"""What `make` calls: from nothing to a running shop, or to a finished run of the tests.

These files run before anything is installed, under the machine's own Python: nothing but the standard library here.
"""
