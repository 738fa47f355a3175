package io.heldmark.calibration;

/**
 * Acceleration of free fall.
 *
 * <p><b>Formula.</b> Normal gravity on the ellipsoid of WGS 84 (Somigliana), sine of the geodetic latitude phi:
 *
 * <pre>g0 = 9.7803253359 (1 + 0.00193185265241 sin^2 phi) / sqrt(1 - 0.00669437999013 sin^2 phi)   m/s^2
 * g  = g0 (1 - 2 (1 + f + m - 2 f sin^2 phi) h / a + 3 h^2 / a^2)</pre>
 *
 * with a = 6378137 m, f = 1/298.257223563, m = 0.00344978650684; about -3.086e-6 m/s^2 per metre of height.
 *
 * <p><b>Error.</b> What lies in the ground moves the true value away from this by up to some 1e-3 m/s^2 (1 part in 10^4) in
 * mountains, usually much less (from memory); a published value of a gravity network is better where there is one.
 *
 * <p><b>Source.</b> NIMA TR8350.2, Department of Defense World Geodetic System 1984, chapter 4, equations 4-1 and 4-3
 * (constants of the second equation from memory).
 */
public final class Gravity {
    /** Standard acceleration of free fall in m/s^2, exact by definition (CGPM 1901). */
    public static final double STANDARD_M_S2 = 9.80665;

    private static final double EQUATOR_M_S2 = 9.7803253359;
    private static final double SOMIGLIANA = 0.00193185265241;
    private static final double ECCENTRICITY_SQUARED = 0.00669437999013;
    private static final double SEMI_MAJOR_M = 6_378_137;
    private static final double FLATTENING = 1 / 298.257223563;
    private static final double CENTRIFUGAL = 0.00344978650684;

    private Gravity() {}

    /**
     * Returns the normal gravity in m/s^2.
     *
     * @param latitudeDeg geodetic latitude, -90 to 90.
     * @param heightM height above the ellipsoid, in practice above the sea.
     */
    public static double normal(double latitudeDeg, double heightM) {
        if (!(Math.abs(latitudeDeg) <= 90)) {
            throw new IllegalArgumentException("latitudeDeg is -90 to 90: latitudeDeg=" + latitudeDeg);
        }
        double sine = StrictMath.sin(StrictMath.toRadians(latitudeDeg));
        double s2 = sine * sine;
        double ground = EQUATOR_M_S2 * (1 + SOMIGLIANA * s2) / Math.sqrt(1 - ECCENTRICITY_SQUARED * s2);
        double h = heightM / SEMI_MAJOR_M;
        return ground * (1 - 2 * (1 + FLATTENING + CENTRIFUGAL - 2 * FLATTENING * s2) * h + 3 * h * h);
    }
}
