package io.heldmark.pipeline;

import io.heldmark.config.ConfigException;
import io.heldmark.importer.CsvColumn;
import io.heldmark.importer.CsvException;
import io.heldmark.importer.CsvImport;
import io.heldmark.metric.PairClocks;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Zeroing;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.TrialConditions;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * A text file of forces through the stages that live samples go through: detection, metrics, pairing.
 *
 * <p>Forces are relative to the rest before each contraction ({@link io.heldmark.importer.RestBefore}); everything else is
 * as live.
 */
public final class CsvAnalysis {
    private CsvAnalysis() {}

    /**
     * Reads a file to its end.
     *
     * @throws CsvException with one line if the file cannot be used; what was told before is void then.
     * @throws ConfigException if a column that the options name is not there.
     */
    public static void run(Path file, CsvOptions options, AnalysisListener out) throws CsvException {
        try (CsvImport in = CsvImport.open(file)) {
            List<ChannelInfo> channels = channels(file, options, in);
            out.onStart(new AnalysisStart("csv", "restBefore", in.originNs(), options.settings(), false));
            out.onChannels(channels, Collections.nCopies(channels.size(), TraceFilter.NONE), 0);
            OnsetlessMetrics told = new OnsetlessMetrics(out);
            ContractionDesk desk =
                    new ContractionDesk(options.settings(), told, () -> PairClocks.UNKNOWN, Runnable::run);
            Levers levers = new Levers(options.settings());
            TrialConditions conditions = onsetNs -> options.conditions().at(onsetNs + in.originNs());
            List<CsvChannelPath> paths = new ArrayList<>();
            for (ChannelInfo channel : channels) {
                TrialConditions ofChannel = levers.of(channel, conditions);
                paths.add(new CsvChannelPath(
                        channel, options.settings(), onsetNs -> atRest(ofChannel.at(onsetNs)), desk));
            }
            in.readAll(batch -> {
                out.onMeasured(batch);
                paths.get(batch.channel).onBatch(batch);
            });
            paths.forEach(path -> path.end(in.lastNs()));
            out.onEnd(true, List.of());
        }
    }

    /** The zero is the rest before, with the limb in place: its weight is gone, whatever is said elsewhere. */
    private static TestConditions atRest(TestConditions said) {
        return said.toBuilder().zeroing(Zeroing.IN_POSTURE).build();
    }

    private static List<ChannelInfo> channels(Path file, CsvOptions options, CsvImport in) {
        List<CsvColumn> columns = in.columns();
        requireColumn(file, columns, options.left(), "--left");
        requireColumn(file, columns, options.right(), "--right");
        boolean stated = options.calibrationRelativeU() >= 0;
        List<ChannelInfo> channels = new ArrayList<>();
        for (CsvColumn column : columns) {
            channels.add(new ChannelInfo(
                    channels.size(),
                    String.valueOf(file.getFileName()),
                    "",
                    channels.size() % 8,
                    column.name(),
                    limb(column.name(), options),
                    in.sampleRateHz(),
                    options.bandwidthHz(),
                    0,
                    "N",
                    stated ? "stated" : "unknown",
                    options.calibrationRelativeU(),
                    column.resolutionN()));
        }
        return List.copyOf(channels);
    }

    private static void requireColumn(Path file, List<CsvColumn> columns, @Nullable String name, String option) {
        if (name != null && columns.stream().noneMatch(c -> c.name().equals(name))) {
            List<String> names = columns.stream().map(CsvColumn::name).toList();
            throw new ConfigException(file + ": line 1: no column is called " + name + " (" + option + "); there are: "
                    + String.join(", ", names));
        }
    }

    private static Limb limb(String name, CsvOptions options) {
        if (name.equals(options.left())) {
            return Limb.LEFT;
        }
        if (name.equals(options.right())) {
            return Limb.RIGHT;
        }
        String lower = name.toLowerCase(Locale.ROOT);
        if (options.left() == null && lower.startsWith("left")) {
            return Limb.LEFT;
        }
        return options.right() == null && lower.startsWith("right") ? Limb.RIGHT : Limb.NONE;
    }
}
