package io.heldmark.importer;

import org.jspecify.annotations.Nullable;

/**
 * Units of force that a column may have.
 *
 * <p><b>Source.</b> NIST Special Publication 811 (2008), appendix B.8: kilogram-force 9.80665 N and pound-force
 * 4.448222 N; the latter's exact value follows from 0.45359237 kg and 9.80665 m/s^2.
 */
public enum ForceUnit {
    /** Newton. */
    NEWTON("N", 1),
    /** Kilonewton. */
    KILONEWTON("kN", 1000),
    /** Kilogram-force. */
    KILOGRAM_FORCE("kgf", 9.80665),
    /** Pound-force. */
    POUND_FORCE("lbf", 0.45359237 * 9.80665);

    private final String symbol;
    private final double newtons;

    ForceUnit(String symbol, double newtons) {
        this.symbol = symbol;
        this.newtons = newtons;
    }

    /** Returns the symbol, as it stands in a header. */
    public String symbol() {
        return symbol;
    }

    /** Returns its size in newtons. */
    public double newtons() {
        return newtons;
    }

    /** Returns the unit with this symbol; absent where there is none. */
    static @Nullable ForceUnit of(String symbol) {
        for (ForceUnit unit : values()) {
            if (unit.symbol.equals(symbol)) {
                return unit;
            }
        }
        return null;
    }
}
