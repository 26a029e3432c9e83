"""The statistics against independent libraries on random marks: statsmodels and pingouin, general-purpose statistics packages."""

import numpy as np
import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

from marker.moderation import agreement, items, reliability
from marker.moderation.model import Mark
from marker.moderation.severity import severity

DRAWS = range(8)


def _marks(draw: int, rows: int = 40, markers: int = 2, top: int = 4) -> np.ndarray:
    """Marks of 0 to top: a common quality, markers' severity, and error, rounded."""
    rng = np.random.default_rng(draw)
    quality = rng.normal(top / 2, top / 3, size=(rows, 1))
    return np.clip(np.rint(quality + rng.normal(0, 0.5, size=(1, markers)) + rng.normal(0, 0.7, size=(rows, markers))), 0, top)


@pytest.mark.parametrize("draw", DRAWS)
@pytest.mark.parametrize("weights", (None, "linear", "quadratic"))
def test_kappa_and_its_error(draw: int, weights: str | None) -> None:
    rater = pytest.importorskip("statsmodels.stats.inter_rater", reason="statsmodels is not installed (test extra)")
    table = _marks(draw)
    scale = list(range(5))
    counts = agreement.cross_table(table[:, 0].tolist(), table[:, 1].tolist(), scale)
    distance = np.abs(np.subtract.outer(scale, scale))
    cost = {None: None, "linear": distance, "quadratic": agreement.quadratic_cost(scale)}[weights]
    want = rater.cohens_kappa(counts, wt=weights)
    found = agreement.kappa(counts, cost)
    assert found.value == pytest.approx(want.kappa, abs=1e-12)
    assert found.error == pytest.approx(want.std_kappa, abs=1e-12)


@pytest.mark.parametrize("draw", DRAWS)
def test_fleiss_kappa(draw: int) -> None:
    rater = pytest.importorskip("statsmodels.stats.inter_rater", reason="statsmodels is not installed (test extra)")
    counts, _ = rater.aggregate_raters(_marks(draw, markers=4).astype(int))
    assert reliability.fleiss_kappa(counts).value == pytest.approx(rater.fleiss_kappa(counts), abs=1e-12)


@pytest.mark.filterwarnings("ignore:.*inplace keyword.*")  # pingouin calls pandas in an older way
@pytest.mark.parametrize("draw", DRAWS)
def test_intraclass_forms_and_intervals(draw: int) -> None:
    pingouin = pytest.importorskip("pingouin", reason="pingouin is not installed (test extra)")
    pandas = pytest.importorskip("pandas", reason="the moderation extra is not installed")
    table = _marks(draw, rows=15, markers=3, top=9)
    long = pandas.DataFrame(table).reset_index().melt(id_vars="index")
    want = pingouin.intraclass_corr(long, targets="index", raters="variable", ratings="value")
    found = reliability.intraclass(table)
    assert found is not None
    forms = (found.icc11, found.icc21, found.icc31, found.icc1k, found.icc2k, found.icc3k)
    assert [f.value for f in forms] == pytest.approx(list(want["ICC"]), abs=1e-9)
    for form, (low, high) in zip(forms, want.iloc[:, -1], strict=True):  # pingouin rounds its intervals to two places
        assert (form.low, form.high) == pytest.approx((low, high), abs=0.00501)


@pytest.mark.parametrize("draw", DRAWS)
def test_cronbach_alpha_and_interval(draw: int) -> None:
    pingouin = pytest.importorskip("pingouin", reason="pingouin is not installed (test extra)")
    pandas = pytest.importorskip("pandas", reason="the moderation extra is not installed")
    table = _marks(draw, markers=6)
    value, (low, high) = pingouin.cronbach_alpha(pandas.DataFrame(table))
    found = reliability.cronbach_alpha(table)
    assert found.value == pytest.approx(value, abs=1e-12)
    assert (found.low, found.high) == pytest.approx((low, high), abs=0.000501)


@pytest.mark.parametrize("draw", DRAWS)
def test_share_interval_is_wilsons(draw: int) -> None:
    proportion = pytest.importorskip("statsmodels.stats.proportion", reason="statsmodels is not installed (test extra)")
    rng = np.random.default_rng(draw)
    n = int(rng.integers(5, 200))
    count = int(rng.integers(0, n + 1))
    found = agreement.share(count, n)
    assert (found.low, found.high) == pytest.approx(proportion.proportion_confint(count, n, method="wilson"), abs=1e-12)


@pytest.mark.parametrize("draw", DRAWS)
def test_bias_error_over_candidates(draw: int) -> None:
    """The error over candidates is that of a mean with cluster-robust covariance; statsmodels' own correction is g/(g-1) × (n-1)/(n-k)."""
    api = pytest.importorskip("statsmodels.api", reason="statsmodels is not installed (test extra)")
    rng = np.random.default_rng(draw)
    who = rng.integers(0, 12, size=60)
    d = rng.normal(0.3, 1, size=60) + rng.normal(0, 0.5, size=12)[who]
    fit = api.OLS(d, np.ones(60)).fit(cov_type="cluster", cov_kwds={"groups": who})
    assert agreement.bias(d, who.tolist()).error == pytest.approx(float(fit.bse[0]), rel=1e-9)


@pytest.mark.parametrize("draw", DRAWS)
def test_limits_of_agreement_against_own_marker_differences(draw: int) -> None:
    """Mean and SD against numpy, the interval of the mean against scipy's one-sample t test."""
    stats = pytest.importorskip("scipy.stats")
    table = _marks(draw)
    d = table[:, 1] - table[:, 0]
    want = stats.ttest_1samp(d, 0).confidence_interval()
    found = agreement.bias(d)
    assert (found.low, found.high) == pytest.approx((want.low, want.high))
    assert agreement.limits_of_agreement(d).high == pytest.approx(d.mean() + 1.959964 * d.std(ddof=1), abs=1e-5)


@pytest.mark.parametrize("draw", DRAWS)
def test_severity_is_the_linear_model(draw: int) -> None:
    """Least squares with one effect per response and one per marker, markers summing to zero, by statsmodels' formulas."""
    formula = pytest.importorskip("statsmodels.formula.api", reason="statsmodels is not installed (test extra)")
    pandas = pytest.importorskip("pandas", reason="the moderation extra is not installed")
    rng = np.random.default_rng(draw)
    rows = []
    for response in range(30):
        for marker in rng.choice(4, size=int(rng.integers(1, 5)), replace=False):
            rows.append((f"c{response}", "ABCD"[marker], float(rng.integers(0, 6) + marker * 0.5)))
    frame = pandas.DataFrame(rows, columns=["response", "marker", "mark"])
    shared = frame[frame.groupby("response")["mark"].transform("size") > 1]
    fit = formula.ols("mark ~ C(response) + C(marker, Sum)", data=shared).fit()
    found = severity([Mark(candidate=c, part="1", mark=x, maximum=10, marker=m) for c, m, x in rows])
    assert found is not None
    effects = {m.marker: m.effect for m in found.markers}
    for name in "ABC":
        key = f"C(marker, Sum)[S.{name}]"
        assert effects[name].value == pytest.approx(fit.params[key], abs=1e-9)
        assert effects[name].error == pytest.approx(fit.bse[key], abs=1e-9)
    assert sum(e.value for e in effects.values()) == pytest.approx(0, abs=1e-9)
    assert found.freedom == int(fit.df_resid)
    assert found.residual == pytest.approx(float(np.sqrt(fit.mse_resid)), abs=1e-9)
    without = formula.ols("mark ~ C(response)", data=shared).fit()
    assert found.f == pytest.approx(float(fit.compare_f_test(without)[0]), rel=1e-7)


@pytest.mark.parametrize("draw", DRAWS)
def test_tail_groups_do_not_depend_on_the_order_of_ties(draw: int) -> None:
    """Property: shuffling the candidates changes nothing, though many totals are tied."""
    rng = np.random.default_rng(draw)
    totals, scores = rng.integers(0, 5, size=37), rng.integers(0, 2, size=37)
    order = rng.permutation(37)
    assert items.discrimination(scores, totals) == pytest.approx(items.discrimination(scores[order], totals[order]))
    upper, lower = items.tail_weights(totals, 0.27)
    assert upper.sum() == pytest.approx(10) and lower.sum() == pytest.approx(10)  # 27 % of 37 is 9.99
