package io.heldmark.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executor;

/** A recorder without its thread: the test makes every cycle itself, at the time it wants. */
final class RecorderBench {
    final ManualClock clock = new ManualClock();
    final List<RecorderStatus> told = new ArrayList<>();
    final RecorderQueue queue;
    final RecorderWorker worker;
    FaultyFile file;

    /** Where syncs run: at once, unless a test holds them back. */
    Executor heldSyncs = Runnable::run;

    RecorderBench(Path path, long capacityBytes, LinkHeader... links) {
        this(() -> ChannelFile.create(path), path, capacityBytes, links);
    }

    RecorderBench(RecordingFile.Opener opener, Path path, long capacityBytes, LinkHeader... links) {
        RecorderConfig config = RecorderConfig.withDefaults(clock);
        Executor syncs = sync -> heldSyncs.execute(sync);
        queue = new RecorderQueue(config.ringBytes(), links.length);
        RecordingFile.Opener faulty = () -> open(opener, capacityBytes);
        worker = new RecorderWorker(queue, faulty, path, Recordings.header(links), told::add, config, syncs);
    }

    private FaultyFile open(RecordingFile.Opener opener, long capacityBytes) throws IOException {
        file = new FaultyFile(opener.open(), capacityBytes, clock);
        return file;
    }

    boolean chunk(int link, long timeNs, byte[] bytes) {
        return queue.chunk(RecorderQueue.CHUNK, link, timeNs, bytes, 0, bytes.length);
    }

    RecorderStatus status() {
        return worker.status();
    }

    void end() {
        queue.end();
        worker.cycle();
    }
}
