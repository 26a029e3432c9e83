"""Reading responses files: CSV, worksheets and JSON Lines to typed lines."""

from marker.intake.files import read_responses
from marker.intake.model import Responses

__all__ = ["Responses", "read_responses"]
