package io.heldmark.record;

import io.heldmark.time.SystemStationClock;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.concurrent.locks.LockSupport;

/**
 * A program that records until it is killed: about 1,000 numbered chunks a second. After each it prints the chunk's number
 * and the station time at which it had been handed over.
 */
final class KillChild {
    private KillChild() {}

    public static void main(String[] args) {
        SystemStationClock clock = new SystemStationClock();
        RecordingHeader header = Recordings.header(Recordings.LEFT);
        Recorder recorder = Recorder.start(Path.of(args[0]), header, status -> {}, RecorderConfig.withDefaults(clock));
        byte[] chunk = new byte[40];
        for (long number = 0; !System.out.checkError(); number++) {
            ByteBuffer.wrap(chunk).putLong(number);
            recorder.chunk(0, clock.nowNs(), chunk, 0, chunk.length);
            if (number % 100 == 0) {
                recorder.event(clock.nowNs(), "{\"event\":\"clock\"}");
            }
            System.out.println(
                    number + " " + clock.nowNs()); // Goes out at once: it is the account of what was handed over.
            LockSupport.parkNanos(1_000_000);
        }
    }
}
