package io.heldmark.decode;

/**
 * What a printed number counts, and what one of it is in newtons.
 *
 * <p><b>Source.</b> Kilogram-force: standard gravity 9.80665 m/s2, pound 0.45359237 kg, both exact by definition (NIST SP 811,
 * 2008 edition, appendix B.8 and B.9). {@code kg} is what a scale shows: its force at standard gravity.
 */
enum NumberUnit {
    COUNTS("counts", 0),
    N("N", 1),
    KN("kN", 1000),
    KG("kg", 9.80665),
    G("g", 9.80665e-3),
    LBF("lbf", 0.45359237 * 9.80665);

    final String text;
    /** Newtons in one of it; 0 for counts, which only a calibration makes newtons. */
    final double newton;

    NumberUnit(String text, double newton) {
        this.text = text;
        this.newton = newton;
    }
}
