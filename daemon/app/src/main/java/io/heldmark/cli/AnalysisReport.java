package io.heldmark.cli;

import io.heldmark.config.Config;
import io.heldmark.metric.TestBook;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.pipeline.AnalysisListener;
import io.heldmark.pipeline.AnalysisStart;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.BoundaryChange;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What the analysis of one input found, gathered until it is known that all of it stands.
 *
 * <p>Memory does not grow with the input: what may be long lies in {@link Spool}s. Where a person has moved boundaries, each
 * contraction and each effort is there once, as it was left ({@link ItemSpool}).
 */
abstract class AnalysisReport implements AnalysisListener, AutoCloseable {
    private final List<ChannelTally> channels = new ArrayList<>();
    private final ItemSpool contractions;
    private final ItemSpool efforts;
    private final Map<Long, Contraction> found = new NewestOnly<>();
    private final Map<Long, Boolean> told = new NewestOnly<>();
    private final String separator;
    private final TestQuestions questions;
    private final EffortFormulas formulas;
    private final SessionWords words = new SessionWords();
    private AnalysisStart start;
    private TestBook book;
    private boolean complete;
    private List<String> notes = List.of();

    AnalysisReport(String separator, AnalysisStart none, TestQuestions questions) {
        this.separator = separator;
        contractions = new ItemSpool(separator);
        efforts = new ItemSpool(separator);
        this.questions = questions;
        formulas = new EffortFormulas(questions.formulas());
        start = none;
        book = bookOf(none);
    }

    private TestBook bookOf(AnalysisStart of) {
        return new TestBook(questions.tests(), questions.imported(), mismatchRelativeU(of));
    }

    private static double mismatchRelativeU(AnalysisStart of) {
        double percent = of.settings().number(Config.CELLS_MISMATCH_PERCENT);
        return percent > 0 ? percent / 100 : Double.NaN;
    }

    /** Returns a gap between two samples as text. */
    abstract String gap(long lastNs, long nextNs);

    /**
     * Returns a contraction as text.
     *
     * @param inForce the revision in force, final or manual.
     * @param found what the station had found, where a person has moved the boundaries; absent otherwise.
     */
    abstract String contraction(Contraction inForce, @Nullable Contraction found, ChannelTally channel);

    /** Returns an effort as text. */
    abstract String effort(Effort effort, List<EffortFormulas.Value> published);

    /** Prints everything, in one go. */
    abstract void print(PrintWriter out) throws IOException;

    AnalysisStart start() {
        return start;
    }

    TestQuestions questions() {
        return questions;
    }

    /** Returns the tests with what was found of them so far. */
    TestBook book() {
        return book;
    }

    boolean complete() {
        return complete;
    }

    List<String> notes() {
        return notes;
    }

    List<ChannelTally> channels() {
        return channels;
    }

    /** Returns the calibrations whose device is not among the channels. */
    List<BoundCalibration> strangers(List<BoundCalibration> calibrations) {
        return calibrations.stream()
                .filter(one -> channels.stream()
                        .noneMatch(c -> one.isOf(c.info().deviceId(), c.info().deviceChannel())))
                .toList();
    }

    ItemSpool contractions() {
        return contractions;
    }

    ItemSpool efforts() {
        return efforts;
    }

    /** Returns a time of the analysis on the input's own axis, in seconds. */
    double seconds(long ns) {
        return (ns + start.originNs()) / 1e9;
    }

    @Override
    public void onStart(AnalysisStart begins) {
        start = begins;
        book = bookOf(begins);
    }

    @Override
    public void onEnd(boolean isComplete, List<String> theNotes) {
        complete = isComplete;
        notes = List.copyOf(theNotes);
    }

    @Override
    public void onChannels(List<ChannelInfo> infos, List<TraceFilter> traceFilters, long atNs) {
        for (ChannelInfo info : infos) {
            if (info.channel() < channels.size()) {
                channels.get(info.channel()).setInfo(info);
            } else {
                channels.add(new ChannelTally(nameOf(info), info, separator, this::gap));
            }
        }
    }

    private String nameOf(ChannelInfo info) {
        boolean taken = channels.stream().anyMatch(c -> c.name().equals(info.name()));
        return taken ? info.name() + " (" + (info.channel() + 1) + ")" : info.name();
    }

    @Override
    public void onTrials(SaidConditions said, long atNs) {
        words.onTrials(said, atNs);
    }

    @Override
    public void onTarget(@Nullable Target target, long atNs) {
        words.onTarget(target, atNs);
    }

    /** Returns what was said of the trials in the session. */
    List<SessionWords.Entry> said() {
        return words.entries();
    }

    @Override
    public void onMeasured(SampleBatch measured) {
        try {
            channels.get(measured.channel).onBatch(measured);
        } catch (IOException e) {
            throw unspoolable(e);
        }
    }

    @Override
    public void onContraction(Contraction contraction) {
        boolean manual = contraction.revision() == Contraction.Revision.MANUAL;
        if (!manual && contraction.revision() != Contraction.Revision.FINAL) {
            return;
        }
        ChannelTally channel = channels.get(contraction.channel());
        book.onContraction(contraction, channel.info(), contraction.onsetNs() + start.originNs());
        formulas.onContraction(contraction, channel.info());
        Contraction before = found.get(contraction.id());
        String text = contraction(contraction, manual ? before : null, channel);
        put(contractions, before != null, contraction.id(), text);
        if (!manual) {
            found.put(contraction.id(), contraction.withMetrics(List.of()));
        }
    }

    @Override
    public void onEffort(Effort effort) {
        book.onEffort(effort);
        String text = effort(effort, formulas.of(effort, mismatchRelativeU(start)));
        put(efforts, told.put(effort.id(), true) != null, effort.id(), text);
    }

    private static void put(ItemSpool spool, boolean again, long id, String text) {
        if (again) {
            spool.replace(id, text);
            return;
        }
        try {
            spool.add(id, text);
        } catch (IOException e) {
            throw unspoolable(e);
        }
    }

    private static UncheckedIOException unspoolable(IOException e) {
        return new UncheckedIOException("the temporary folder cannot be written", e);
    }

    @Override
    public void close() throws IOException {
        for (ChannelTally channel : channels) {
            channel.close();
        }
        contractions.close();
        efforts.close();
    }

    /** The newest entries: those whose boundaries a station lets a person move, so that memory does not grow with a session. */
    private static final class NewestOnly<T> extends LinkedHashMap<Long, T> {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Long, T> eldest) {
            return size() > BoundaryChange.CONTRACTIONS_MAX;
        }
    }
}
