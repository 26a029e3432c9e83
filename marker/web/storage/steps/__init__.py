"""The steps from an empty database to the present tables, in order."""

from __future__ import annotations

from marker.web.storage.steps import s001_class_tests, s002_people, s003_decisions_for_good
from marker.web.storage.steps.step import Step

STEPS: tuple[Step, ...] = (s001_class_tests.STEP, s002_people.STEP, s003_decisions_for_good.STEP)

__all__ = ["STEPS", "Step"]
