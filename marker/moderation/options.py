"""Rules by name, from the shipped files or the department's own, gathered for one command."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from marker.moderation.rules import (
    Anchor,
    DecisionFile,
    DecisionRule,
    DriftRule,
    ItemFile,
    QualifyingRule,
    SamplingFile,
    SamplingRule,
    StandardisationFile,
    Tolerance,
    load,
    named,
)


def sampling_rule(name: str, own: Path | None) -> SamplingRule:
    return named(load("sampling", SamplingFile, own).rule, name, "sampling rule")


@dataclass(frozen=True, slots=True, kw_only=True)
class DecisionRules:
    rule: DecisionRule
    tolerance: Tolerance
    anchor: Anchor


def decision_rules(name: str, anchor: str, own: Path | None) -> DecisionRules:
    """A rule of decision with its tolerance and an anchor; a department's own file may leave tolerances and anchors to the shipped one."""
    shipped = load("decision", DecisionFile)
    mine = load("decision", DecisionFile, own) if own is not None else shipped
    rule = named(mine.decision, name, "rule of decision")
    return DecisionRules(
        rule=rule,
        tolerance=named((*mine.tolerance, *shipped.tolerance), rule.tolerance, f'tolerance of the rule "{name}"'),
        anchor=named((*mine.anchor, *shipped.anchor), anchor, "anchor"),
    )


def qualifying_rule(name: str, own: Path | None) -> tuple[QualifyingRule, Tolerance]:
    rule = named(load("standardisation", StandardisationFile, own).qualifying, name, "qualifying rule")
    return rule, named(load("decision", DecisionFile).tolerance, rule.tolerance, "tolerance")


def drift_rule(name: str, own: Path | None) -> tuple[DriftRule, Tolerance]:
    rule = named(load("standardisation", StandardisationFile, own).drift, name, "rule of drift")
    return rule, named(load("decision", DecisionFile).tolerance, rule.tolerance, "tolerance")


def item_rules(own: Path | None) -> ItemFile:
    return load("items", ItemFile, own)


def listed() -> tuple[tuple[str, str, str], ...]:
    """(kind, name, source) of every shipped rule."""
    decision, standard = load("decision", DecisionFile), load("standardisation", StandardisationFile)
    kinds = (
        ("sampling", load("sampling", SamplingFile).rule),
        ("tolerance", decision.tolerance),
        ("decision", decision.decision),
        ("anchor", decision.anchor),
        ("qualifying", standard.qualifying),
        ("drift", standard.drift),
    )
    return tuple((kind, rule.name, rule.source) for kind, rules in kinds for rule in rules)
