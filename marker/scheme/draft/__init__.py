"""From a pasted question and model answer to a scheme file."""

from marker.scheme.draft.model import Draft, DraftedPart, Question
from marker.scheme.draft.recognise import sheets_used
from marker.scheme.draft.write import draft_file, draft_questions, draft_text

__all__ = ["Draft", "DraftedPart", "Question", "draft_file", "draft_questions", "draft_text", "sheets_used"]
