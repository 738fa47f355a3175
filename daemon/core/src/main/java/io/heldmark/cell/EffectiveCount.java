package io.heldmark.cell;

/**
 * As how many independent samples a stretch counts for its standard deviation.
 *
 * <p><b>Formula.</b> n* = n / (1 + 2 S), S the sum of rho_k^2, rho_k the autocorrelation at k samples, k = 1 to {@value #LAGS} or a quarter of
 * the stretch. Each estimated rho_k^2 is too large by the variance of rho_k, (1 + 2 S) / n where the correlation has died away
 * (Bartlett), S being the sum itself; with L lags that gives S = (sum of estimates - L/n) / (1 + 2 L/n). n* is never above n. The standard deviation s of normal noise then has the standard uncertainty
 *
 * <pre>u(s) = s / sqrt(2 (n* - 1))</pre>
 *
 * <p><b>Checks.</b> For an autoregression of first order with rho_k = a^k: n* = n (1 - a^2) / (1 + a^2).
 *
 * <p><b>Errors.</b> A tone (hum) stays correlated for ever and is cut at the last lag; slow wandering beyond it is not seen. Noise that
 * is not normal has another u.
 *
 * <p><b>Source.</b> u(s): GUM E.4.3 and table E.1. n*: Bayley and Hammersley 1946, Suppl. J. R. Stat. Soc. 8:184-197, the large n
 * form (from memory).
 */
final class EffectiveCount {
    private static final int LAGS = 200;

    private EffectiveCount() {}

    /**
     * Returns it.
     *
     * @param x residuals about their mean or line; at least 3.
     */
    static double of(double[] x) {
        int n = x.length;
        double squares = 0;
        for (double one : x) {
            squares += one * one;
        }
        if (!(squares > 0)) {
            return n;
        }
        double sum = 0;
        int lags = Math.min(LAGS, n / 4);
        for (int lag = 1; lag <= lags; lag++) {
            double products = 0;
            for (int i = lag; i < n; i++) {
                products += x[i] * x[i - lag];
            }
            double rho = products / squares;
            sum += rho * rho;
        }
        double share = (double) lags / n;
        return n / (1 + 2 * Math.max(0, (sum - share) / (1 + 2 * share)));
    }
}
