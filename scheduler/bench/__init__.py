"""The benchmark: instances x methods x seeds, one core each, judged by the checker.

``python -m scheduler.bench --help`` tells how to run it. The protocol and the
results stand in ``tests/bench/RESULTS.md``.
"""
