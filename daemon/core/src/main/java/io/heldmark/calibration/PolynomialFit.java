package io.heldmark.calibration;

import java.util.Arrays;

/**
 * Least squares fit of a polynomial of degree 1 or 2, every point with the same weight.
 *
 * <p><b>Method.</b> The abscissa is centred and scaled, z = (x - centre) / scale with |z| at most 1 or so; the design matrix
 * in powers of z is decomposed by Householder reflections (QR), and nothing is squared that need not be. Coefficients and
 * covariance in powers of x follow from those in z by the linear map between both.
 *
 * <p><b>Statistics.</b> With n points, p coefficients and residuals e: residual SD s = sqrt(sum e^2 / (n - p)); covariance of
 * the coefficients s^2 (X'X)^-1; variance of the curve at x: s^2 h(x) with h(x) = v'(X'X)^-1 v, v = (1, x, x^2).
 *
 * <p><b>Accuracy.</b> All certified digits that matter: the reference data sets Norris (line) and Pontius (parabola) of NIST
 * StRD agree to more than 9 digits.
 *
 * <p><b>Source.</b> Golub and Van Loan, Matrix Computations, Householder least squares (from memory); statistics: any text on
 * linear regression.
 */
public final class PolynomialFit {
    private final double centre;
    private final double scale;
    private final double[] local;
    private final double[][] cofactor;
    private final double[] coefficients;
    private final double[][] covariance;
    private final double[] residuals;
    private final double residualSd;

    private PolynomialFit(double[] x, double[] y, int degree) {
        double least = Arrays.stream(x).min().orElse(0);
        double most = Arrays.stream(x).max().orElse(0);
        centre = least + (most - least) / 2;
        scale = (most - least) / 2;
        if (!(scale > 0)) {
            throw new IllegalArgumentException("x must have different values: least=" + least + ", most=" + most);
        }
        int p = degree + 1;
        double[][] columns = columns(x, y, p);
        double[][] r = triangle(columns, p);
        double[][] inverse = inverseOf(r, p);
        local = new double[p];
        for (int i = 0; i < p; i++) {
            for (int j = i; j < p; j++) {
                local[i] += inverse[i][j] * columns[p][j];
            }
        }
        residuals = new double[x.length];
        double squares = 0;
        for (int i = 0; i < x.length; i++) {
            residuals[i] = y[i] - valueAt(x[i]);
            squares += residuals[i] * residuals[i];
        }
        residualSd = Math.sqrt(squares / (x.length - p));
        cofactor = product(inverse, transposed(inverse));
        double[][] map = mapToX(p);
        coefficients = new double[p];
        for (int i = 0; i < p; i++) {
            for (int j = 0; j < p; j++) {
                coefficients[i] += map[i][j] * local[j];
            }
        }
        covariance = product(product(map, cofactor), transposed(map));
        for (double[] row : covariance) {
            for (int j = 0; j < p; j++) {
                row[j] *= residualSd * residualSd;
            }
        }
    }

    /**
     * Fits.
     *
     * @param x abscissas, finite, at least degree + 1 different ones.
     * @param y ordinates, finite, as many.
     * @param degree 1 or 2.
     * @throws IllegalArgumentException if there are fewer than degree + 2 points or too few different abscissas.
     */
    public static PolynomialFit of(double[] x, double[] y, int degree) {
        if (degree < 1 || degree > 2 || x.length != y.length || x.length < degree + 2) {
            throw new IllegalArgumentException(
                    "degree 1 or 2 and degree + 2 points: degree=" + degree + ", x=" + x.length + ", y=" + y.length);
        }
        if (Arrays.stream(x).distinct().count() <= degree) {
            throw new IllegalArgumentException("more than " + degree + " different x are needed");
        }
        return new PolynomialFit(x, y, degree);
    }

    /** Returns the coefficients b0, b1 (and b2) of b0 + b1 x + b2 x^2. */
    public double[] coefficients() {
        return coefficients.clone();
    }

    /** Returns the covariance matrix of the coefficients. */
    public double[][] covariance() {
        return Arrays.stream(covariance).map(double[]::clone).toArray(double[][]::new);
    }

    /** Returns the standard error of coefficient i. */
    public double standardError(int i) {
        return Math.sqrt(covariance[i][i]);
    }

    /** Returns the residual standard deviation. */
    public double residualSd() {
        return residualSd;
    }

    /** Returns points minus coefficients. */
    public int degreesOfFreedom() {
        return residuals.length - local.length;
    }

    /** Returns ordinate minus curve of point i. */
    public double residual(int i) {
        return residuals[i];
    }

    /** Returns the curve at x. */
    public double valueAt(double x) {
        double z = (x - centre) / scale;
        double value = 0;
        for (int i = local.length - 1; i >= 0; i--) {
            value = value * z + local[i];
        }
        return value;
    }

    /** Returns the curve's derivative at x. */
    public double slopeAt(double x) {
        double z = (x - centre) / scale;
        return (local[1] + (local.length > 2 ? 2 * local[2] * z : 0)) / scale;
    }

    /** Returns h(x), the variance of the curve at x over the variance of one point. */
    public double leverageAt(double x) {
        double z = (x - centre) / scale;
        double h = 0;
        double zi = 1;
        for (int i = 0; i < local.length; i++) {
            double zj = 1;
            for (int j = 0; j < local.length; j++) {
                h += zi * cofactor[i][j] * zj;
                zj *= z;
            }
            zi *= z;
        }
        return h;
    }

    /**
     * Returns the x at which the curve has a value, on the branch that holds the middle of the fitted x; NaN beyond the turning
     * point of a parabola. The form of the root without cancellation: 2c / (b + sign(b) sqrt(b^2 + 4ac)).
     */
    public double inverse(double value) {
        double c = value - local[0];
        double a = local.length > 2 ? local[2] : 0;
        double root = Math.sqrt(local[1] * local[1] + 4 * a * c);
        return centre + scale * 2 * c / (local[1] + Math.copySign(root, local[1]));
    }

    private double[][] columns(double[] x, double[] y, int p) {
        double[][] columns = new double[p + 1][x.length];
        for (int i = 0; i < x.length; i++) {
            double z = (x[i] - centre) / scale;
            columns[0][i] = 1;
            columns[1][i] = z;
            if (p > 2) {
                columns[2][i] = z * z;
            }
        }
        columns[p] = y.clone();
        return columns;
    }

    /** Reflects the columns, the last of them the ordinates, into triangular form and returns the triangle. */
    private static double[][] triangle(double[][] columns, int p) {
        double[][] r = new double[p][p];
        for (int k = 0; k < p; k++) {
            double[] v = columns[k];
            double squares = 0;
            for (int i = k; i < v.length; i++) {
                squares += v[i] * v[i];
            }
            double diagonal = -Math.copySign(Math.sqrt(squares), v[k]);
            for (int j = 0; j < k; j++) {
                r[j][k] = v[j];
            }
            r[k][k] = diagonal;
            v[k] -= diagonal;
            double norm = 0;
            for (int i = k; i < v.length; i++) {
                norm += v[i] * v[i];
            }
            for (int j = k + 1; j <= p; j++) {
                reflect(columns[j], v, k, norm);
            }
        }
        return r;
    }

    private static void reflect(double[] column, double[] v, int from, double squaredNorm) {
        double dot = 0;
        for (int i = from; i < v.length; i++) {
            dot += v[i] * column[i];
        }
        double factor = 2 * dot / squaredNorm;
        for (int i = from; i < v.length; i++) {
            column[i] -= factor * v[i];
        }
    }

    private static double[][] inverseOf(double[][] r, int p) {
        double[][] inverse = new double[p][p];
        for (int j = 0; j < p; j++) {
            inverse[j][j] = 1 / r[j][j];
            for (int i = j - 1; i >= 0; i--) {
                double sum = 0;
                for (int k = i + 1; k <= j; k++) {
                    sum += r[i][k] * inverse[k][j];
                }
                inverse[i][j] = -sum / r[i][i];
            }
        }
        return inverse;
    }

    /** Returns the matrix that makes coefficients of x from those of z. */
    private double[][] mapToX(int p) {
        double m = -centre / scale;
        double s = 1 / scale;
        return p == 2
                ? new double[][] {{1, m}, {0, s}}
                : new double[][] {{1, m, m * m}, {0, s, 2 * m * s}, {0, 0, s * s}};
    }

    private static double[][] transposed(double[][] a) {
        double[][] t = new double[a[0].length][a.length];
        for (int i = 0; i < a.length; i++) {
            for (int j = 0; j < a[0].length; j++) {
                t[j][i] = a[i][j];
            }
        }
        return t;
    }

    private static double[][] product(double[][] a, double[][] b) {
        double[][] c = new double[a.length][b[0].length];
        for (int i = 0; i < a.length; i++) {
            for (int j = 0; j < b[0].length; j++) {
                for (int k = 0; k < b.length; k++) {
                    c[i][j] += a[i][k] * b[k][j];
                }
            }
        }
        return c;
    }
}
