package io.heldmark.calibration;

/**
 * What the applied loads are: how many newtons their unit has, and how well that is known.
 *
 * <p><b>Masses.</b> A mass m hangs on the cell with
 *
 * <pre>F = m g (1 - rhoAir / rhoMass)</pre>
 *
 * with local gravity ({@link Gravity}) and the buoyancy of air. Air has 1.2 kg/m^3 at the sea and thins out with height as in
 * the standard atmosphere, (1 - 2.25577e-5 h)^4.25588. The density to take for a mass that was weighed, or that is marked with
 * its conventional mass, is 8000 kg/m^3 whatever it is made of: that is how conventional mass is defined (OIML R 111; air of
 * 1.2 kg/m^3). Without a place standard gravity stands in, which differs from the local value by up to 0.27 %.
 *
 * <p><b>Units of force.</b> Newton; kilogram-force 9.80665 N; pound-force 4.4482216152605 N, both exact by definition. They
 * have no gravity to correct.
 *
 * <p><b>Uncertainty,</b> relative, k = 1: of the load itself as stated by the user; of gravity 5e-5 where the place is known
 * (estimate of the formula's error, no published source), else 0.27 % / sqrt(3); of buoyancy a tenth of the correction (weather;
 * common practice, no published source). Independent of one another, the same for all loads.
 *
 * <p><b>Source.</b> Buoyancy and conventional mass: OIML R 111-1 (2004) (from memory); standard atmosphere: ISO 2533 (from
 * memory).
 *
 * @param unit symbol of the applied unit.
 * @param newtonsPerUnit newtons in one unit.
 * @param gravityMS2 the acceleration used; NaN for units of force.
 * @param buoyancyFraction share of the weight that the air carries; 0 for units of force.
 * @param loadRelativeU relative standard uncertainty of the loads as stated; NaN where nobody stated it.
 * @param gravityRelativeU relative standard uncertainty of gravity; 0 for units of force.
 * @param buoyancyRelativeU relative standard uncertainty from buoyancy; 0 for units of force.
 */
public record LoadReference(
        String unit,
        double newtonsPerUnit,
        double gravityMS2,
        double buoyancyFraction,
        double loadRelativeU,
        double gravityRelativeU,
        double buoyancyRelativeU) {
    /** Density of a mass that was weighed or marked with its conventional mass, in kg/m^3. */
    public static final double CONVENTIONAL_KG_M3 = 8000;

    private static final double AIR_KG_M3 = 1.2;
    private static final double FORMULA_RELATIVE_U = 5e-5;
    private static final double STANDARD_OFF_BY = 0.0027;
    private static final double BUOYANCY_SHARE_U = 0.1;

    /**
     * Returns loads in a unit of force.
     *
     * @param unit {@code N}, {@code kgf} or {@code lbf}.
     * @param loadRelativeU relative standard uncertainty of the loads; NaN where unknown.
     */
    public static LoadReference force(String unit, double loadRelativeU) {
        double newtons = switch (unit) {
            case "N" -> 1;
            case "kgf" -> Gravity.STANDARD_M_S2;
            case "lbf" -> 4.4482216152605;
            default -> throw new IllegalArgumentException("unit is N, kgf or lbf: unit=" + unit);
        };
        return new LoadReference(unit, newtons, Double.NaN, 0, loadRelativeU, 0, 0);
    }

    /** Returns masses in kilograms at a place that nobody told, under standard gravity. */
    public static LoadReference massAnywhere(double massDensityKgM3, double loadRelativeU) {
        return mass(Gravity.STANDARD_M_S2, STANDARD_OFF_BY / Math.sqrt(3), 0, massDensityKgM3, loadRelativeU);
    }

    /** Returns masses in kilograms at a latitude (degrees) and a height (metres). */
    public static LoadReference massAt(
            double latitudeDeg, double heightM, double massDensityKgM3, double loadRelativeU) {
        double g = Gravity.normal(latitudeDeg, heightM);
        return mass(g, FORMULA_RELATIVE_U, heightM, massDensityKgM3, loadRelativeU);
    }

    private static LoadReference mass(
            double g, double gravityRelativeU, double heightM, double massDensityKgM3, double loadRelativeU) {
        double air = AIR_KG_M3 * StrictMath.pow(1 - 2.25577e-5 * heightM, 4.25588);
        double buoyancy = air / massDensityKgM3;
        return new LoadReference(
                "kg", g * (1 - buoyancy), g, buoyancy, loadRelativeU, gravityRelativeU, BUOYANCY_SHARE_U * buoyancy);
    }

    /** Returns the relative standard uncertainty of the forces; without the loads' own part where that is unknown. */
    public double relativeU() {
        double own = Double.isNaN(loadRelativeU) ? 0 : loadRelativeU;
        return Math.sqrt(own * own + gravityRelativeU * gravityRelativeU + buoyancyRelativeU * buoyancyRelativeU);
    }
}
