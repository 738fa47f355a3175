package io.heldmark.pipeline;

import io.heldmark.config.StationSettings;
import io.heldmark.model.Counters;
import io.heldmark.model.TrialConditions;
import io.heldmark.record.RecordedItem;
import io.heldmark.record.RecordingException;
import io.heldmark.record.RecordingReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * A recording through the stages that live samples go through, as fast as it can be read; the file stays as it is.
 *
 * <p><b>Same results.</b> The inputs go to the same {@link StationCore} in the same order as live and in a replay, so that
 * what is found is the same, bit for bit. What only viewers need is left out. One thing is added: a contraction that is
 * still open when the recording ends is finished with what was seen of it.
 */
public final class RecordingAnalysis {
    private static final byte[] CLOCK = "{\"event\":\"clock\"}".getBytes(StandardCharsets.UTF_8);
    private static final byte[] RESULT = "{\"result\":".getBytes(StandardCharsets.UTF_8);

    private final StationCore core;
    private final int links;
    private long lastNs;

    private RecordingAnalysis(StationCore core, int links) {
        this.core = core;
        this.links = links;
    }

    /**
     * Reads a recording to its end.
     *
     * @param settings the effective settings; those of the recording that change results win.
     * @param conditions what the user says of the trials, by their onset.
     * @param calibrations calibrations to evaluate with instead of those that the recording names; mostly none.
     * @param out takes what is found.
     * @throws RecordingException with one line if it cannot be read; what was told before is void then.
     */
    public static void run(
            Path file,
            StationSettings settings,
            TrialConditions conditions,
            List<BoundCalibration> calibrations,
            AnalysisListener out)
            throws RecordingException {
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            read(reader, LaterMoves.beside(file), settings, conditions, setup -> setup.with(calibrations), out, null);
        }
    }

    /**
     * Does the same on two threads: while the caller's reads on, another one measures what is finished and tells the
     * listener, in the same order. Samples and channels are told on the caller's ({@link WorkerListener}).
     *
     * @param bandwidthHz what the user says of the converters' bandwidth; 0 or NaN where nothing.
     * @throws RecordingException as {@link #run}.
     */
    public static void runOnTwoThreads(
            Path file,
            StationSettings settings,
            TrialConditions conditions,
            List<BoundCalibration> calibrations,
            double bandwidthHz,
            AnalysisListener out)
            throws RecordingException {
        UnaryOperator<LinkSetup> told = setup -> setup.with(calibrations).withBandwidth(bandwidthHz);
        try (RecordingReader reader = RecordingReader.openUnchanged(file);
                OrderedWorker worker = new OrderedWorker("heldmark-measure")) {
            read(reader, LaterMoves.beside(file), settings, conditions, told, out, worker);
        }
    }

    private static void read(
            RecordingReader reader,
            LaterMoves later,
            StationSettings settings,
            TrialConditions conditions,
            UnaryOperator<LinkSetup> told,
            AnalysisListener out,
            @Nullable OrderedWorker worker)
            throws RecordingException {
        RecordedSettings recorded = RecordedSettings.of(reader.header().settingsJson());
        StationSettings effective = settings.withResultSettingsOf(recorded.values(), "recording");
        List<LinkSetup> setups =
                reader.header().links().stream().map(LinkFacts::read).map(told).toList();
        out.onStart(new AnalysisStart("recording", "session", 0, effective, recorded.invented()));
        StationCore core = worker == null
                ? new StationCore(effective, setups, out, new Counters())
                : new StationCore(effective, setups, new WorkerListener(out, worker), new Counters(), worker);
        core.setConditions(conditions);
        core.setLaterMoves(later);
        new RecordingAnalysis(core, setups.size()).readAll(reader);
        if (worker != null) {
            worker.drain();
        }
        List<String> notes = new ArrayList<>(reader.notes());
        notes.addAll(later.notes());
        out.onEnd(reader.complete(), notes);
    }

    private void readAll(RecordingReader reader) throws RecordingException {
        RecordedItem item = new RecordedItem();
        while (reader.next(item)) {
            lastNs = Math.max(lastNs, item.timeNs());
            switch (item.kind()) {
                case CHUNK -> {
                    if (item.link() < links) { // A link that came later is not of a station's making.
                        core.onChunk(item.link(), item.timeNs(), item.bytes(), item.offset(), item.length());
                    }
                }
                case EVENT -> onEvent(item);
                case SENT -> {} // What the station said then; the answer to it is in the recording too.
            }
        }
        core.end(lastNs);
    }

    private void onEvent(RecordedItem item) {
        if (begins(item, CLOCK)) {
            core.onClock(item.timeNs()); // Ten a second: not worth a parser.
        } else if (!begins(item, RESULT)) {
            StationEvent event = StationEventJson.read(item.json(), item.timeNs());
            if (event != null && isKnown(event)) {
                event.applyTo(core);
            }
        }
    }

    private boolean isKnown(StationEvent event) {
        int link = 0;
        if (event instanceof StationEvent.LinkChanged e) {
            link = e.link();
        } else if (event instanceof StationEvent.PingSent e) {
            link = e.link();
        } else if (event instanceof StationEvent.BytesLost e) {
            link = e.link();
        }
        return link >= 0 && link < links;
    }

    private static boolean begins(RecordedItem item, byte[] with) {
        return item.length() >= with.length
                && Arrays.equals(item.bytes(), item.offset(), item.offset() + with.length, with, 0, with.length);
    }
}
