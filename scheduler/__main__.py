"""``python -m scheduler`` is the same as ``rota``."""

from scheduler.cli import main

main()
