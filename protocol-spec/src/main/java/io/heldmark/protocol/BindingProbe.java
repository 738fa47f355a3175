package io.heldmark.protocol;

/**
 * What a station sends to a device whose binding it does not know: the command <em>describe</em> as a byte-stream frame
 * and as a text line, put so that neither spoils the other.
 *
 * <p>A byte-stream device sees an empty frame, the command, and the line as one damaged frame; a text device sees the frame
 * as one line that it cannot use, and the command. Once the binding is known, a station that speaks text sends one line
 * feed before its first line.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "The station's handshake".
 */
public final class BindingProbe {
    private static final byte[] NO_ARGUMENTS = {};

    private BindingProbe() {}

    /**
     * Writes the command <em>describe</em> in both bindings and returns the number of bytes written, fewer than 64.
     *
     * @param token token of the command, 0 to 255.
     * @param out where to write.
     * @param outOffset index of the first byte to write.
     */
    public static int describe(int token, byte[] out, int outOffset) {
        Command command = new Command(Command.DESCRIBE, token, NO_ARGUMENTS);
        int at = outOffset;
        out[at++] = 0;
        at += new ByteStreamEncoder().command(command, out, at);
        out[at++] = '\n';
        at += new TextEncoder().command(command, out, at);
        out[at++] = 0;
        return at - outOffset;
    }
}
