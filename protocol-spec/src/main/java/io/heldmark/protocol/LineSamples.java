package io.heldmark.protocol;

/** Reads a samples line: one sample of channels 0 up. */
final class LineSamples {
    private LineSamples() {}

    /** Reads the fields after the letter and returns whether they are well-formed; the view is of no use where not. */
    static boolean read(LineFields f, SamplesView into) {
        int sequence = (int) f.need().integer(0, Wire.U16_MAX);
        long tick = f.need().integer(0, Wire.U32_MAX);
        int status = f.need().isEmpty() ? 0 : (int) f.integer(0, 7);
        int channels = 0;
        while (f.ok() && f.next()) {
            if (channels == Wire.MAX_CHANNELS) {
                return false;
            }
            into.counts()[channels++] = (int) f.integer(Integer.MIN_VALUE, Integer.MAX_VALUE);
        }
        into.set(sequence, tick, status, (1 << channels) - 1, 1);
        return f.ok() && channels > 0;
    }
}
