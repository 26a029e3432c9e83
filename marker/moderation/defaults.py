"""The rules that are used when none is named."""

SAMPLING = "size bands with extremes"
DECISION = "department"
QUALIFYING = "department"
ANCHOR = "calculation"
