package io.heldmark.importer;

import io.heldmark.model.SampleBatch;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;

/**
 * A text file of forces over time as batches of samples, column by column, as a station would have them.
 *
 * <p><b>Form.</b> See {@link CsvHeader} and {@link DecimalCell}; {@code docs/how-to/analyse-a-csv.md} says it for people.
 *
 * <p><b>Time.</b> Batches count nanoseconds from the first time in the file; {@link #originNs} is that time on the file's own
 * axis.
 *
 * <p><b>Gaps.</b> A row without a time is left out, an empty cell is a missing sample of its column; a step over 1.5 periods
 * is a gap ({@link SamplingGrid}). Nothing is filled in.
 *
 * <p><b>Errors.</b> The first line that cannot be used ends the import with one line of text. Memory does not grow with the
 * file; nothing is allocated per row once the head has been read.
 */
public final class CsvImport implements AutoCloseable {
    /** Takes the batches of all columns; those of one column come in the order of time. */
    @FunctionalInterface
    public interface Listener {
        /** Takes a batch, reused after the call; its channel is the column's index. */
        void onBatch(SampleBatch batch);
    }

    private static final double RATE_LEAST_HZ = 10;
    private static final double RATE_MOST_HZ = 20_000;
    private static final int GAPS_MOST = 100;

    private final InputStream in;
    private final Path file;
    private final CsvRows rows;
    private final CsvHead head;
    private final SamplingGrid grid;
    private final List<CsvColumn> columns;
    private final ColumnBatch[] batches;
    private long lastNs = Long.MIN_VALUE;
    private int gapsInARow;

    private CsvImport(Path file, InputStream in) throws IOException, CsvException {
        this.file = file;
        this.in = in;
        rows = new CsvRows(file, in);
        head = CsvHead.read(rows);
        grid = head.grid();
        double rateHz = grid.sampleRateHz();
        if (!(rateHz >= RATE_LEAST_HZ && rateHz <= RATE_MOST_HZ)) {
            throw new CsvException(
                    file,
                    head.line(1),
                    String.format(
                            Locale.ROOT,
                            "sampled at %.4g Hz; 10 to 20000 Hz can be used (are the times in seconds?)",
                            rateHz));
        }
        columns = head.columns(rows.header().names());
        batches = new ColumnBatch[columns.size()];
        for (int column = 0; column < batches.length; column++) {
            batches[column] = new ColumnBatch(column, grid);
        }
    }

    /** Opens a file and reads its head. */
    public static CsvImport open(Path file) throws CsvException {
        try {
            InputStream in = Files.newInputStream(file);
            try {
                return new CsvImport(file, in);
            } catch (IOException | CsvException | RuntimeException e) {
                in.close();
                throw e;
            }
        } catch (IOException e) {
            throw unreadable(file, e);
        }
    }

    private static CsvException unreadable(Path file, IOException e) {
        boolean absent = e instanceof NoSuchFileException;
        return new CsvException(file, absent ? "there is no such file" : "cannot be read: " + e.getMessage());
    }

    /** Returns the columns of forces. */
    public List<CsvColumn> columns() {
        return columns;
    }

    /** Returns the sample rate, in hertz. */
    public double sampleRateHz() {
        return grid.sampleRateHz();
    }

    /** Returns the first time in the file, in nanoseconds on the file's own axis. */
    public long originNs() {
        return head.timeNs(0);
    }

    /** Returns the time of the last row that was read, in nanoseconds from {@link #originNs}. */
    public long lastNs() {
        return lastNs;
    }

    /** Reads to the end and hands every sample on. */
    public void readAll(Listener out) throws CsvException {
        try {
            for (int row = 0; row < head.count(); row++) {
                step(head.timeNs(row), head.line(row));
                for (int column = 0; column < batches.length; column++) {
                    batches[column].add(lastNs, head.forceN(row, column), out);
                }
            }
            head.forget();
            while (rows.next()) {
                if (rows.hasTime()) {
                    step(rows.timeNs(), rows.line());
                    for (int column = 0; column < batches.length; column++) {
                        batches[column].add(lastNs, rows.forceN(column), out);
                    }
                }
            }
            for (int column = 0; column < batches.length; column++) {
                batches[column].flush(out);
                if (batches[column].isEmpty()) {
                    throw new CsvException(
                            file,
                            "the column " + columns.get(column).name()
                                    + " has no value in any row that has a time; fill it or take it out");
                }
            }
        } catch (IOException e) {
            throw unreadable(file, e);
        }
    }

    private void step(long ownNs, long line) throws CsvException {
        long nowNs = ownNs - head.timeNs(0);
        if (lastNs != Long.MIN_VALUE) {
            long stepNs = nowNs - lastNs;
            if (stepNs <= 0) {
                throw CsvHead.backwards(rows);
            }
            boolean gap = grid.isGap(stepNs);
            gapsInARow = gap ? gapsInARow + 1 : 0;
            if (gapsInARow > GAPS_MOST || (!gap && !grid.isRegular(stepNs))) {
                throw new CsvException(
                        file,
                        line,
                        String.format(
                                Locale.ROOT,
                                "irregular sampling: a step of %.6g s where %.6g s is usual; resample the trace first",
                                stepNs * 1e-9,
                                grid.periodNs() * 1e-9));
            }
        }
        lastNs = nowNs;
    }

    @Override
    public void close() {
        try {
            in.close();
        } catch (IOException e) {
            // Nothing was written, so nothing can be lost.
            return;
        }
    }
}
