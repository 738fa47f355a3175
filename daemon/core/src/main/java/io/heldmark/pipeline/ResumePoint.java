package io.heldmark.pipeline;

import io.heldmark.link.LinkState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.ZeroReference;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Wire;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a recording that begins within a session must hold to be read at all: the links' states and descriptions, the
 * zeros, the target.
 *
 * <p>It does not hold what the stages have learnt (clocks, resting levels, open contractions): such a recording shows the
 * same trace, but its results are promised to be the session's only from the moment at which those are learnt again. It
 * is never {@code complete}.
 *
 * @param links the links, in the order in which their channels appeared.
 * @param zeros the session zeros that were taken.
 * @param target the target; absent without.
 * @param said what was said of the trials.
 * @param calibrations those that were chosen within the session.
 */
public record ResumePoint(
        List<LinkPoint> links,
        List<ZeroPoint> zeros,
        @Nullable Target target,
        SaidConditions said,
        List<BoundCalibration> calibrations) {
    /**
     * One link.
     *
     * @param link its number.
     * @param state where it stands.
     * @param reason why, in plain words; may be empty.
     * @param describe the device's description as a message of the byte stream, in Base64; empty where unknown.
     */
    public record LinkPoint(int link, LinkState state, String reason, String describe) {}

    /**
     * One zero.
     *
     * @param channel station-wide channel number.
     * @param zero the zero.
     */
    public record ZeroPoint(int channel, ZeroReference zero) {}

    /** Copies the lists. */
    public ResumePoint {
        links = List.copyOf(links);
        zeros = List.copyOf(zeros);
        calibrations = List.copyOf(calibrations);
    }

    /** Makes the state of a session in which no calibration was chosen. */
    ResumePoint(List<LinkPoint> links, List<ZeroPoint> zeros, @Nullable Target target) {
        this(links, zeros, target, SaidConditions.NONE, List.of());
    }

    /** Returns a description as Base64 text. */
    static String text(Describe describe) {
        byte[] buffer = new byte[Wire.MAX_MESSAGE_BYTES];
        int length = new ByteStreamEncoder().describe(describe, buffer, 0);
        return Base64.getEncoder().encodeToString(Arrays.copyOf(buffer, length));
    }

    /** Returns the description in a Base64 text; absent where it holds none. */
    static @Nullable Describe describe(String text) {
        List<Describe> found = new ArrayList<>();
        MessageHandler collector = new MessageHandler() {
            @Override
            public void onDescribe(Describe describe) {
                found.add(describe);
            }
        };
        try {
            byte[] bytes = Base64.getDecoder().decode(text);
            new ByteStreamDecoder(collector).accept(bytes, 0, bytes.length);
        } catch (IllegalArgumentException notBase64) {
            return null;
        }
        return found.isEmpty() ? null : found.get(0);
    }
}
