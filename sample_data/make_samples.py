# ruff: noqa: INP001  a script beside its data, not a package
"""Write the sample files anew: ``python sample_data/make_samples.py``.

Everything is invented. The tests check that what lies here is what this
script writes.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

from scheduler.exporters.files import write_whole
from scheduler.exporters.start_workbook import start_workbook

HERE = Path(__file__).parent

SIXTEEN = [
    ("Ana Cvijić", "6.5"),
    ("Beatriu Fontcalda", "4"),
    ("Cathal Brogan", "7"),
    ("Désirée Lauzon", "3.5"),
    ("Edda Rínsdóttir", "5"),
    ("Faiz Rahimov", "8"),
    ("Greet Vermaelen", "2.5"),
    ("Håkon Tveitdal", "5.5"),
    ("Iñaki Larrondo", "9"),
    ("Jūratė Pakalnė", "4.5"),
    ("Keoni Palakiko", "6"),
    ("Lwazi Mthembeni", "7.5"),
    ("Merike Saarsoo", "3"),
    ("Ngaire Te Whata", "5"),
    ("Ondřej Kubeš", "6"),
    ("Paŭlina Karčeŭskaja", "4"),
]


def files() -> dict[str, bytes]:
    """Return every sample file's name and content."""
    return {
        "club_evening.xlsx": start_workbook(example=True, file_name="club_evening.xlsx"),
        "sixteen.csv": _players_csv(),
    }


def _players_csv() -> bytes:
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows([("Name", "Level"), *SIXTEEN])
    return text.getvalue().encode()


if __name__ == "__main__":
    for name, data in files().items():
        write_whole(HERE / name, data)
