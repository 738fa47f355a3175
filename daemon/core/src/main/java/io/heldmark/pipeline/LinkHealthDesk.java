package io.heldmark.pipeline;

import io.heldmark.decode.LinkDecoder;
import io.heldmark.link.Link;
import io.heldmark.link.LinkState;
import io.heldmark.model.LinkHealth;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Status;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * The health of one link: its state with the reason in plain words, its rates and its totals.
 *
 * <p><b>States.</b> {@code connecting}; {@code waiting}: connected, no samples yet; {@code streaming}; {@code lost}: there
 * were samples and there are none; {@code fault}: somebody must do something.
 *
 * <p>Time only enters as an argument: a time-out fires with the input that shows that it is over.
 */
final class LinkHealthDesk {
    /** How long a new connection may be silent before the silence is a reason. */
    private static final long PATIENCE_NS = 2_000_000_000L;

    /** What is lost where a board prints numbers only. */
    static final String PRINTS_NUMBERS =
            "it prints numbers only: lines lost on the way and changed digits cannot be seen,"
                    + " and times are times of arrival";

    /** Share by which the rate of a second may differ from the declared one, before it is said. */
    private static final double RATE_TOLERANCE = 0.1;

    private final LinkSetup setup;
    private final LinkDecoder decoder;
    private final long lostAfterNs;
    private LinkState linkState = LinkState.CONNECTING;
    private String linkReason = "";
    private long upSinceNs;
    private boolean wasUp;
    private boolean hadSamples;
    private long newestSamplesNs;
    private long bytesAtUp;
    private long reconnects;
    private long rateSinceNs;
    private long samplesAtRate;
    private double rateHz;
    private int batteryPercent = -1;
    private double temperatureC = Double.NaN;
    private String toldState = "";
    private @Nullable String toldReason;
    private boolean toldStreaming;

    LinkHealthDesk(LinkSetup setup, LinkDecoder decoder, double lostAfterS) {
        this.setup = setup;
        this.decoder = decoder;
        lostAfterNs = Math.round(lostAfterS * 1e9);
    }

    void onLinkState(LinkState state, String reason, long atNs) {
        if (state == LinkState.UP && linkState != LinkState.UP) {
            reconnects += wasUp ? 1 : 0;
            wasUp = true;
            hadSamples = false;
            upSinceNs = atNs;
            bytesAtUp = decoder.counters().bytes;
        }
        linkState = state;
        linkReason = reason;
    }

    LinkState linkState() {
        return linkState;
    }

    String linkReason() {
        return linkReason;
    }

    void onSamples(long arrivalNs) {
        hadSamples = true;
        newestSamplesNs = arrivalNs;
    }

    void onStatus(Status status) {
        batteryPercent = status.batteryPercent().orElse(-1);
        temperatureC = status.temperatureC().orElse(Double.NaN);
    }

    /** Ends the second over which the rate is taken. */
    void endSecond(long nowNs) {
        if (nowNs > rateSinceNs) {
            rateHz = (decoder.samples() - samplesAtRate) * 1e9 / (nowNs - rateSinceNs);
        }
        rateSinceNs = nowNs;
        samplesAtRate = decoder.samples();
    }

    /** Tells whether state or reason differ from what was told last. */
    boolean changed(long nowNs) {
        if (toldStreaming && linkState == LinkState.UP && hadSamples && nowNs - newestSamplesNs <= lostAfterNs) {
            return false; // Asked with every chunk; nearly always this is the answer.
        }
        String state = state(nowNs);
        return !state.equals(toldState) || !Objects.equals(reason(state, nowNs), toldReason);
    }

    /** Tells whether samples came when the state was told last. */
    boolean streaming() {
        return toldState.equals("streaming");
    }

    LinkHealth report(long nowNs, @Nullable SampleClock clock) {
        toldState = state(nowNs);
        toldReason = reason(toldState, nowNs);
        toldStreaming = streaming() && toldReason == null && setup.binding() != Link.Binding.NUMBERS;
        DecoderCounters c = decoder.counters();
        Describe device = decoder.describe();
        SampleClock times = hadSamples ? clock : null;
        return new LinkHealth(
                setup.name(),
                toldState,
                toldReason,
                nowNs,
                rateHz,
                device == null ? 0 : device.sampleRateHz(),
                times != null ? times.arrivalJitterNs() : Double.NaN,
                times != null ? times.standardUncertaintyNs() : Double.NaN,
                times != null ? times.skewPpm() : Double.NaN,
                decoder.samples(),
                decoder.lostSamples(),
                c.skippedBytes,
                c.crcFailures,
                c.duplicates,
                c.reordered,
                decoder.putBack(),
                reconnects,
                clock == null ? 0 : clock.restarts(),
                batteryPercent,
                temperatureC);
    }

    private String state(long nowNs) {
        return switch (linkState) {
            case CONNECTING -> "connecting";
            case DOWN -> "lost";
            case FAULT -> "fault";
            case UP -> hadSamples ? nowNs - newestSamplesNs > lostAfterNs ? "lost" : "streaming" : "waiting";
        };
    }

    private @Nullable String reason(String state, long nowNs) {
        if (linkState != LinkState.UP) {
            return linkReason.isEmpty() ? null : linkReason;
        }
        if (state.equals("lost")) {
            return "connected, but no samples arrive any more";
        }
        if (state.equals("streaming") && setup.binding() == Link.Binding.NUMBERS) {
            return PRINTS_NUMBERS + rateText();
        }
        return state.equals("waiting") ? whyWaiting(nowNs) : null;
    }

    private @Nullable String whyWaiting(long nowNs) {
        if (decoder.looksUnreadable()) {
            return unreadable();
        }
        if (nowNs - upSinceNs < PATIENCE_NS) {
            return null;
        }
        if (decoder.awaitsDescribe()) {
            if (decoder.samplesSinceUpWithoutDescribe() > 0) {
                return "samples arrive, but the device has not described itself, so that they mean nothing yet";
            }
            return decoder.counters().bytes == bytesAtUp
                    ? "connected, but the device sends nothing"
                    : "bytes arrive, but no description of the device and no samples";
        }
        return "the device has described itself and sends no samples";
    }

    /** A declared rate that is wrong misleads filters and the search for contractions. */
    private String rateText() {
        Describe device = decoder.describe();
        double declaredHz = device == null ? 0 : device.sampleRateHz();
        if (rateHz <= 0 || declaredHz <= 0 || Math.abs(rateHz / declaredHz - 1) <= RATE_TOLERANCE) {
            return "";
        }
        return String.format(
                Locale.ROOT, "; about %.0f lines a second come, and rate=%.0f is declared", rateHz, declaredHz);
    }

    private String unreadable() {
        if (setup.binding() == Link.Binding.NUMBERS) {
            return "bytes arrive that are no lines of the declared columns (columns, delimiter)"
                    + (isSerial() ? ", or the baud rate is another one" : "");
        }
        if (setup.binding() == Link.Binding.TEXT || setup.binding() == Link.Binding.BYTES) {
            return "bytes arrive that are not Gaugeline in the binding that was asked for; try binding=auto"
                    + (isSerial() ? ", or another baud rate" : "");
        }
        if (!isSerial()) {
            return "bytes arrive that are not Gaugeline";
        }
        String baud = setup.address().options().getOrDefault("baud", "the default");
        return "bytes arrive that make no sense: the baud rate is probably wrong (now " + baud
                + "; set it with ?baud=...)";
    }

    private boolean isSerial() {
        return setup.address().scheme().equals("serial");
    }
}
