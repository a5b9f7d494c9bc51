"""The captain's paper: the team sheet to hand over, notes for the captain, the season's grid."""

from scheduler.exporters.team_sheet.book import team_sheet_bytes
from scheduler.exporters.team_sheet.message import message_text

__all__ = ["message_text", "team_sheet_bytes"]
