package io.heldmark.metric;

import io.heldmark.model.UncertaintySource;

/** What {@code docs/metrics.md} says of the device uncertainty. */
final class UncertaintyText {
    private static final String INTRODUCTION = """
            ## Device uncertainty

            For a mean F of n samples of which c count as one,

                u²(F) = uCal²(F) + uBeyond²(F) + uZero² + uDrift² + resolution² / 12 + noise² · c / n + (r · F)²

            Noise and c come from the rest right before the contraction; n / c is at most 2 · bandwidth · time where the
            converter's bandwidth is known. Rounding is not averaged away: a quiet trace can sit on one count. A force read
            at an instant adds (slope · u(instant))². Differences, rates and impulses above rest have neither zero nor
            drift in them; both forces are rounded. Parts add in squares (GUM 5.1.2); correlated ones are one part.

            - **Calibration.** uCal = u · |F| with the relative standard uncertainty u of the slope, or, where the calibration
              has it, the covariance of the coefficients between the session zero and the force (GUM H.3). Without either the
              part is left out and the contraction carries `calibration-unknown`.
            - **Beyond the calibrated range R.** A load L over R adds 4 · max(u, 0.001) · L · (L − R) / R: the curvature that
              the calibration could have hidden, continued. Calibrated to 400 N with u = 0.2 %, read 612 N: 1.2 N of
              calibration and 2.6 N for the range. The project's rule, no published source.
            - **Drift.** Limit per hour · hours since the zero / √3. Where the limit is not known: 0.02 % of the rated load per
              hour, and 0.5 N per hour where that is not known either (common practice, no published source).
            - **Direction of the pull.** Where the trial says that the pull may be up to an angle A off its line: the force
              along the line can only be lower, by 1 − cos A at most (1.5 % at 10°). The value is not corrected; r is the root
              mean square of 1 − cos a with a anywhere from 0 to A (0.68 % at 10°), which holds the mean error of 0.51 % and
              its standard deviation of 0.45 % (GUM F.2.4.4, F.2.4.5).
            - **Mismatch of the cells** goes into ratios of both limbs alone. Where both cells were compared it stands for both
              calibrations; else both calibrations add in squares, less what one reference has in common.

            Expanded uncertainty is k = 2. A budget's effective degrees of freedom follow Welch and Satterthwaite (GUM G.4.1).
            Held to 5 % against Monte Carlo (JCGM 101:2008): the forms and the figures of sets, of pairs and of both limbs with
            200,000 draws (`MonteCarloTest`, `SetMonteCarloTest`), figures of whole traces with 300 to 3,000
            (`MetricMonteCarloTest`). Where noise picks the place (highest rate, highest sample, time to peak, times to a
            share) errors are not normal: there it is held how often two stated uncertainties contain the truth
            (`StatedUncertaintiesTest`, [detection](detection.md#stated-uncertainties); `RateMetricsTest`).

            A station calibration is written with its link: `slope` (N per count), `zero` (counts), `u`; and, where known,
            `uzero` (standard uncertainty of the force at that zero, N), `rzero` (its correlation with the slope), `to` (highest
            force of the calibration, N), `drift` (limit, N per hour), `reference` (name) and `uref` (relative standard
            uncertainty of that reference): `serial:/dev/ttyUSB0?slope=0.00067&zero=84210&u=0.002&to=400&drift=1`.

            | term | part |
            |---|---|
            """;

    private UncertaintyText() {}

    static String markdown() {
        StringBuilder out = new StringBuilder(INTRODUCTION);
        for (UncertaintySource source : UncertaintySource.values()) {
            out.append("| `")
                    .append(source.id())
                    .append("` | ")
                    .append(source.text())
                    .append(" |\n");
        }
        return out.toString();
    }
}
