package io.heldmark.record;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Reads a recording packet by packet, through one buffer of 1 MiB whatever the file's size.
 *
 * <p><b>Crashes.</b> A file without a proper end is repaired on opening where that is possible; else it is read to its last
 * whole block. {@link #notes} says which.
 *
 * <p><b>Tolerance.</b> Both byte orders, all time resolutions, unknown blocks, unknown options and interfaces of other
 * kinds are read or passed over as the pcapng draft says.
 *
 * <p><b>Errors.</b> A file that is not a recording is refused by {@link #open} with one line. Damage ends the reading and
 * is noted; a fault of the disk, or contents that no recorder wrote, throw from {@link #next}.
 *
 * <p><b>Threading.</b> One thread at a time.
 */
public final class RecordingReader implements AutoCloseable {
    private final Path file;
    private final FileChannel channel;
    private final RecordingBlocks blocks;
    private final RecordingTail.@Nullable End end;
    private final List<String> notes = new ArrayList<>();
    private boolean faultNoted;

    private RecordingReader(Path file, FileChannel channel, boolean mayRepair) throws IOException, RecordingException {
        this.file = file;
        this.channel = channel;
        RecordingBlocks opened = RecordingBlocks.open(channel, file);
        RecordingTail.End found = RecordingTail.find(channel, opened);
        if (found == null && mayRepair) {
            notes.add(RecordingRepair.repair(file).sentence());
            notes.removeIf(String::isEmpty);
            opened = RecordingBlocks.open(channel, file); // The buffer may hold what was cut off.
            found = RecordingTail.find(channel, opened);
        }
        blocks = opened;
        end = found;
    }

    /**
     * Opens a recording; one that was not ended properly is repaired first where that is possible.
     *
     * @throws RecordingException if the file cannot be read or is not a recording that this version reads.
     */
    public static RecordingReader open(Path file) throws RecordingException {
        return open(file, true);
    }

    /** Opens a recording and leaves the file as it is. */
    public static RecordingReader openUnchanged(Path file) throws RecordingException {
        return open(file, false);
    }

    private static RecordingReader open(Path file, boolean mayRepair) throws RecordingException {
        try {
            FileChannel channel = FileChannel.open(file, StandardOpenOption.READ);
            try {
                return new RecordingReader(file, channel, mayRepair);
            } catch (IOException | RecordingException | RuntimeException e) {
                channel.close();
                throw e;
            }
        } catch (IOException e) {
            throw RecordingRefusals.unreadable(file, e);
        }
    }

    /**
     * Cuts a half-written tail off and notes it in the file; does nothing where the file had ended properly.
     *
     * @throws RecordingException if the file is not a recording or cannot be repaired (in use, not writable, damaged in
     *     the middle).
     */
    public static Repair repair(Path file) throws RecordingException {
        openUnchanged(file).close(); // Refuses what is no recording, with its own line.
        RecordingRepair.Outcome outcome = RecordingRepair.repair(file);
        Repair repair = outcome.repair();
        if (repair == null) {
            throw RecordingRefusals.notRepairable(outcome.sentence());
        }
        return repair;
    }

    /** Returns what the file says before its first packet. */
    public RecordingHeader header() {
        return blocks.header();
    }

    /** Returns the links seen so far; link numbers are indexes into it. */
    public List<LinkHeader> links() {
        return blocks.links();
    }

    /** Returns whether the recorder ended this file itself and lost nothing: then a replay is the same, bit for bit. */
    public boolean complete() {
        return end != null && end.complete();
    }

    /**
     * Reads the next packet, in the order in which the station processed them.
     *
     * @param into is filled; its bytes are valid until the next call.
     * @return false at the end of what can be read.
     * @throws RecordingException if the disk fails or the file holds what no recorder writes.
     */
    public boolean next(RecordedItem into) throws RecordingException {
        try {
            if (blocks.next(into)) {
                return true;
            }
        } catch (IOException e) {
            throw RecordingRefusals.unreadable(file, e);
        }
        noteEnd();
        return false;
    }

    /** Returns sentences for people about what is not as it should be (repaired, cut, damaged); empty where all is well. */
    public List<String> notes() {
        return List.copyOf(notes);
    }

    /** Returns the station time of the proper end; -1 where the file has none. */
    long endNs() {
        return end == null ? -1 : end.timeNs();
    }

    @Override
    public void close() {
        try {
            channel.close();
        } catch (IOException e) {
            // Nothing was written, so nothing can be lost.
            return;
        }
    }

    private void noteEnd() {
        if (faultNoted) {
            return;
        }
        faultNoted = true;
        if (!blocks.fault().isEmpty()) {
            notes.add(file + " can be read to byte " + blocks.wholeBytes() + " only: there " + blocks.fault());
        }
        if (blocks.cutPackets() > 0) {
            notes.add(file + " holds " + blocks.cutPackets()
                    + " packets that another program has shortened; use the original");
        }
    }
}
