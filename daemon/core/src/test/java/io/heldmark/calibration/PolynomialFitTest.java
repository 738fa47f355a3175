package io.heldmark.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** Against NIST StRD (certified values) and the example H.3 of the GUM (JCGM 100:2008). */
class PolynomialFitTest {
    private static final double NINE_DIGITS = 1e-9;

    // NIST StRD, linear regression, Norris: x, y.
    private static final double[] NORRIS = {
        0.2, 0.1, 337.4, 338.8, 118.2, 118.1, 884.6, 888.0, 10.1, 9.2, 226.5, 228.1, 666.3, 668.5, 996.3, 998.5,
        448.6, 449.1, 777.0, 778.9, 558.2, 559.2, 0.4, 0.3, 0.6, 0.1, 775.5, 778.1, 666.9, 668.8, 338.0, 339.3,
        447.5, 448.9, 11.6, 10.8, 556.0, 557.7, 228.1, 228.3, 995.8, 998.0, 887.6, 888.8, 120.2, 119.6, 0.3, 0.3,
        0.3, 0.6, 556.8, 557.6, 339.1, 339.3, 887.2, 888.0, 999.0, 998.5, 779.0, 778.9, 11.1, 10.2, 118.3, 117.6,
        229.2, 228.9, 669.1, 668.4, 448.9, 449.2, 0.5, 0.2
    };

    // NIST StRD, linear regression, Pontius (a load cell): y at x = 150000 (150000) 3000000, two runs.
    private static final double[] PONTIUS = {
        .11019, .21956, .32949, .43899, .54803, .65694, .76562, .87487, .98292, 1.09146, 1.20001, 1.30822, 1.41599,
        1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844, .11052, .22018, .32939, .43886, .54798, .65739,
        .76596, .87474, .98300, 1.09150, 1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445,
        2.06177, 2.16829
    };

    static void assertDigits(double certified, double value) {
        assertEquals(certified, value, Math.abs(certified) * NINE_DIGITS);
    }

    private static double[] every(int from, double[] pairs) {
        double[] column = new double[pairs.length / 2];
        Arrays.setAll(column, i -> pairs[2 * i + from]);
        return column;
    }

    @Test
    void shouldFitNorrisToNineDigits() {
        PolynomialFit fit = PolynomialFit.of(every(0, NORRIS), every(1, NORRIS), 1);
        assertDigits(-0.262323073774029, fit.coefficients()[0]);
        assertDigits(1.00211681802045, fit.coefficients()[1]);
        assertDigits(0.232818234301152, fit.standardError(0));
        assertDigits(0.429796848199937E-03, fit.standardError(1));
        assertDigits(0.884796396144373, fit.residualSd());
        assertEquals(34, fit.degreesOfFreedom());
    }

    @Test
    void shouldFitPontiusToNineDigits() {
        double[] x = new double[40];
        Arrays.setAll(x, i -> 150_000.0 * (i % 20 + 1));
        PolynomialFit fit = PolynomialFit.of(x, PONTIUS, 2);
        assertDigits(0.673565789473684E-03, fit.coefficients()[0]);
        assertDigits(0.732059160401003E-06, fit.coefficients()[1]);
        assertDigits(-0.316081871345029E-14, fit.coefficients()[2]);
        assertDigits(0.107938612033077E-03, fit.standardError(0));
        assertDigits(0.157817399981659E-09, fit.standardError(1));
        assertDigits(0.486652849992036E-16, fit.standardError(2));
        assertDigits(0.205177424076185E-03, fit.residualSd());
    }

    /** GUM H.3: y1, y2, their uncertainties and correlation, and the curve at 30 degrees; more digits by NumPy's polyfit. */
    @Test
    void shouldGiveWhatTheGumGives() {
        double[] t = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511};
        double[] b = {-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160};
        PolynomialFit fit = PolynomialFit.of(Arrays.stream(t).map(v -> v - 20).toArray(), b, 1);
        assertDigits(-.171203790131, fit.coefficients()[0]);
        assertDigits(.00218269773989, fit.coefficients()[1]);
        assertDigits(.002877597835, fit.standardError(0));
        assertDigits(.000667938773, fit.standardError(1));
        assertDigits(-.930429603093, fit.covariance()[0][1] / (fit.standardError(0) * fit.standardError(1)));
        assertDigits(-.149376812732, fit.valueAt(10));
        assertDigits(.004138595753, fit.residualSd() * Math.sqrt(fit.leverageAt(10)));
        assertEquals(9, fit.degreesOfFreedom());
    }

    @Test
    void shouldInvertWhatItFits() {
        double[] x = {0, 100, 200, 300, 400, 500};
        double[] y = Arrays.stream(x).map(v -> 50 - 3 * v + 1e-4 * v * v).toArray();
        PolynomialFit fit = PolynomialFit.of(x, y, 2);
        for (double force = -50; force <= 600; force += 25) {
            assertEquals(force, fit.inverse(50 - 3 * force + 1e-4 * force * force), 1e-8);
            assertEquals(-3 + 2e-4 * force, fit.slopeAt(force), 1e-10);
        }
        assertTrue(Double.isNaN(fit.inverse(-1e9)));
    }

    @Test
    void shouldRefuseWhatHasNoFit() {
        assertThrows(IllegalArgumentException.class, () -> PolynomialFit.of(new double[] {1, 2}, new double[2], 1));
        assertThrows(
                IllegalArgumentException.class, () -> PolynomialFit.of(new double[] {1, 1, 1, 1}, new double[4], 1));
        assertThrows(
                IllegalArgumentException.class, () -> PolynomialFit.of(new double[] {1, 2, 1, 2}, new double[4], 2));
        assertThrows(IllegalArgumentException.class, () -> PolynomialFit.of(new double[4], new double[4], 3));
    }
}
