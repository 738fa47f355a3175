package io.heldmark.filter;

/** Checks of design arguments; every condition is written so that NaN fails it. */
final class FilterArguments {
    private FilterArguments() {}

    static void checkSampleRate(double sampleRateHz) {
        if (sampleRateHz > 0 && sampleRateHz <= Double.MAX_VALUE) {
            return;
        }
        throw new IllegalArgumentException("sampleRateHz must be finite and positive: sampleRateHz=" + sampleRateHz);
    }

    /** Checks that a frequency lies between zero and half the sample rate, both excluded. */
    static void checkBelowNyquist(String name, double frequencyHz, double sampleRateHz) {
        checkSampleRate(sampleRateHz);
        if (frequencyHz > 0 && frequencyHz < sampleRateHz / 2) {
            return;
        }
        throw new IllegalArgumentException(name + " must be above 0 and below half the sample rate (" + sampleRateHz / 2
                + "): " + name + "=" + frequencyHz + ", sampleRateHz=" + sampleRateHz);
    }
}
