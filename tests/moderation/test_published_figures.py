"""The statistics against published data with published results: datasets A to G, each with its source in published.toml."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

import numpy as np

from marker.moderation import agreement, items, reliability
from marker.moderation.model import Mark, MarkSet
from marker.moderation.rules import ItemFile, load

DATA: dict[str, Any] = tomllib.loads((Path(__file__).parent / "published.toml").read_text(encoding="utf-8"))
A, B, G = DATA["shrout_fleiss"], DATA["bland_altman"], DATA["item_analysis_ten"]
DIFFERENCES = np.subtract(B["wright1"], B["mini1"])
FORMS = ("icc11", "icc21", "icc31", "icc1k", "icc2k", "icc3k")


@pytest.mark.parametrize("form", FORMS)
def test_a_intraclass_forms(form: str) -> None:
    found = getattr(reliability.intraclass(A["table"]), form).value
    assert round(found, 2) == A["printed"][form]
    assert found == pytest.approx(A["recomputed"][form], abs=5e-5)


@pytest.mark.parametrize("square", ("rows", "within", "columns", "residual"))
def test_a_mean_squares(square: str) -> None:
    result = reliability.intraclass(A["table"])
    assert result is not None
    assert round(getattr(result.squares, square), 2) == A["squares_memory"][square]
    assert getattr(result.squares, square) == pytest.approx(A["squares_recomputed"][square], abs=5e-5)


@pytest.mark.parametrize("form", ("icc11", "icc21", "icc31"))
def test_a_intervals(form: str) -> None:
    found = getattr(reliability.intraclass(A["table"]), form)
    assert [round(found.low, 3), round(found.high, 3)] == A["intervals_recomputed"][form]


def test_a_alpha_is_icc_3k() -> None:
    # "alpha equals ICC(3,k)": conventions file 5.2, PSY.
    alpha = reliability.cronbach_alpha(A["table"]).value
    result = reliability.intraclass(A["table"])
    assert result is not None and alpha == pytest.approx(result.icc3k.value, abs=1e-12)
    assert alpha == pytest.approx(A["alpha_recomputed"], abs=5e-5)


def test_b_bias_and_limits_as_printed() -> None:
    # The authors round the mean to -2.1 and the SD to 38.8 before they go on; from these the printed limits follow exactly.
    limits = agreement.limits_of_agreement(DIFFERENCES, multiplier=2)
    assert (round(limits.mean, 1), round(limits.deviation, 1)) == (B["mean"], B["deviation"])
    again = [round(round(limits.mean, 1) + k * round(limits.deviation, 1), 1) for k in (-2, 2)]
    assert again == B["limits"]
    assert [limits.low, limits.high] == pytest.approx(B["limits"], abs=0.1)
    assert list(limits.low_interval) == pytest.approx(B["lower_interval"], abs=0.2)
    assert list(limits.high_interval) == pytest.approx(B["upper_interval_memory"], abs=0.2)


def test_b_recomputed() -> None:
    want = B["recomputed"]
    two, usual, mean = (
        agreement.limits_of_agreement(DIFFERENCES, 2),
        agreement.limits_of_agreement(DIFFERENCES),
        agreement.bias(DIFFERENCES),
    )
    assert (round(two.mean, 3), round(two.deviation, 3)) == (want["mean"], want["deviation"])
    assert (round(two.low, 2), round(two.high, 2)) == (want["low2"], want["high2"])
    assert (round(usual.low, 2), round(usual.high, 2)) == (want["low196"], want["high196"])
    assert (round(mean.error, 2), round(two.error, 2)) == (want["error"], want["limit_error"])
    assert [round(mean.low, 2), round(mean.high, 2)] == B["bias_interval_recomputed"]
    assert [round(mean.low, 1), round(mean.high, 1)] == pytest.approx(B["bias_interval_memory"], abs=0.051)
    assert [round(x, 2) for x in two.low_interval] == B["lower_interval_recomputed"]
    assert [round(x, 2) for x in two.high_interval] == B["upper_interval_recomputed"]


@pytest.mark.parametrize("meter", ("wright", "mini"))
def test_b_repeatability(meter: str) -> None:
    found = agreement.repeatability(B[f"{meter}1"], B[f"{meter}2"])
    assert round(found, 1) == B["repeatability_recomputed"][meter]
    assert found == pytest.approx(B["repeatability_memory"][meter], abs=0.15)


@pytest.mark.parametrize("row", DATA["kappa"], ids=lambda r: r["source"][:60])
def test_c_kappa(row: dict[str, Any]) -> None:
    found = agreement.kappa(row["table"], row.get("cost"), n=row["n"]).value
    assert found == pytest.approx(row["recomputed"], abs=5e-5)
    if "printed" in row:
        assert round(found, 3) == row["printed"]


@pytest.mark.parametrize("row", DATA["fleiss"], ids=lambda r: r["source"][:40])
def test_d_fleiss_kappa(row: dict[str, Any]) -> None:
    counts = [[int(c) for c in text] for text in row["table"]] if "table" in row else row["rows"]
    assert {sum(c) for c in counts} == {row["raters"]}
    found = reliability.fleiss_kappa(counts)
    assert round(found.value, 3) == row["printed"]
    assert found.value == pytest.approx(row["recomputed"], abs=5e-5)
    assert (round(found.observed, 3), round(found.expected, 3)) == (row["observed"], row["expected"])
    if "categories" in row:
        assert list(np.sum(counts, axis=0)) == row["column_totals"]
        assert [round(c, 3) for c in found.categories] == row["categories"]


def test_e_alpha_from_published_variances() -> None:
    e = DATA["alpha"]
    found = reliability.alpha_from_variances(e["parts"], e["sum_of_part_variances"], e["total_variance"])
    assert round(found, 2) == e["printed"]
    assert found == pytest.approx(e["recomputed"], abs=5e-5)


def test_f_facility_and_discrimination_of_halves() -> None:
    f = DATA["item_analysis_three"]
    assert [np.mean(item) for item in f["items"]] == pytest.approx(f["facility"])
    assert [items.discrimination(item, f["totals"], share=0.5) for item in f["items"]] == pytest.approx(f["discrimination"])


@pytest.mark.parametrize("row", DATA["item_analysis_three"]["choices"], ids=lambda r: str(r["facility"]))
def test_f_facility_of_a_choice(row: dict[str, Any]) -> None:
    marks = [
        Mark(candidate=str(i), part="1", mark=float(c == row["key"]), maximum=1, marker="m")
        for i, c in enumerate(c for c, n in enumerate(row["counts"]) for _ in range(n))
    ]
    found = items.analyse(MarkSet(marks=tuple(marks), parts={"1": 1.0}), load("items", ItemFile))
    assert found.parts[0].n == 30 and found.parts[0].facility == pytest.approx(row["facility"])


def _dataset_g() -> MarkSet:
    names = [str(i) for i in range(1, 11)]
    marks = [
        Mark(candidate=who, part=p, mark=float(x), maximum=1, marker="m")
        for who, row in G["rows"].items()
        for p, x in zip(names, row, strict=True)
    ]
    return MarkSet(marks=tuple(marks), parts=dict.fromkeys(names, 1.0))


def test_g_facility_and_discrimination() -> None:
    rules = load("items", ItemFile).model_copy(update={"groups": load("items", ItemFile).groups.model_copy(update={"share": 0.5})})
    found = items.analyse(_dataset_g(), rules)
    assert [i.facility for i in found.parts] == pytest.approx(G["facility"])
    assert [i.discrimination for i in found.parts] == pytest.approx(G["discrimination"])


def test_g_kr20_uses_matched_variances() -> None:
    table = np.array([[int(c) for c in row] for row in G["rows"].values()])
    found = items.analyse(_dataset_g(), load("items", ItemFile)).paper
    assert found.zero_one and round(found.alpha.value, 3) == G["kr20_matched"]
    p = table.mean(axis=0)
    kr20 = 10 / 9 * (1 - (p * (1 - p)).sum() / table.sum(axis=1).var())
    assert found.alpha.value == pytest.approx(kr20)
    mixed = reliability.alpha_from_variances(10, float(table.var(axis=0).sum()), float(table.sum(axis=1).var(ddof=1)))
    assert round(mixed, 3) == G["kr20_mixed_trap"] and abs(found.alpha.value - mixed) > 0.05


def test_sem_is_in_marks() -> None:
    # SEM = SD × √(1 − reliability): common practice; dataset G, SD with divisor n − 1.
    found = items.analyse(_dataset_g(), load("items", ItemFile)).paper
    totals = [row.count("1") for row in G["rows"].values()]
    assert found.sem == pytest.approx(float(np.std(totals, ddof=1)) * (1 - found.alpha.value) ** 0.5)
