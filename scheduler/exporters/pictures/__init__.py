"""Pictures of plans: who met whom, time on court, variety against balance.

Drawn with matplotlib, which is an extra (``pip install "doubles-rota[pictures]"``).
Every square also carries its figure, so that grey print and colour-blind eyes
lose nothing.
"""

from scheduler.exporters.pictures.court_time import court_time_figure, court_time_png
from scheduler.exporters.pictures.curve import Point, curve_figure, curve_png
from scheduler.exporters.pictures.meetings import meetings_figure, meetings_png

__all__ = [
    "Point",
    "court_time_figure",
    "court_time_png",
    "curve_figure",
    "curve_png",
    "meetings_figure",
    "meetings_png",
]
