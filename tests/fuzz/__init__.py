"""Hostile input by the thousand: one target for each door through which input comes in.

`python -m tests.fuzz` runs them all under a coverage-guided fuzzer; `test_targets.py` runs each on
its seeds and a few fixed changes of them, without that fuzzer.
"""
