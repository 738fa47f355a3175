package io.heldmark.web;

import java.nio.ByteBuffer;
import java.util.function.Function;

/**
 * One viewer on its WebSocket, with at most one send in flight.
 *
 * <p>{@link #pump} runs on the sender thread only; the end of a send arrives on a thread of the server and only asks for
 * the next turn. The buffer belongs to the send in flight until then.
 */
final class LiveConnection {
    /** Room for 16,000 values a turn: 8 channels at 2 kHz put 270 into one. */
    private static final int BUFFER_BYTES = 64 * 1024;

    private static final int TRY_AGAIN_LATER = 1013; // RFC 6455 registry, IANA "WebSocket Close Code Number".

    /** What the sender needs of a WebSocket. */
    interface Socket {
        /** Sends without waiting; calls back exactly once, on any thread, with whether it went well. */
        void sendBinary(ByteBuffer message, Done done);

        /** Sends without waiting; calls back exactly once, on any thread, with whether it went well. */
        void sendText(String message, Done done);

        /** Closes with a code and a reason for people. */
        void close(int code, String reason);
    }

    /** Takes the end of a send. */
    @FunctionalInterface
    interface Done {
        /** Takes whether the message was sent. */
        void ended(boolean sent);
    }

    private final ViewerPort viewer;
    private final Socket socket;
    private final WebCounters counters;
    private final Runnable wantsTurn;
    private final ByteBuffer buffer = ByteBuffer.allocate(BUFFER_BYTES);

    private boolean traceDue;
    private volatile boolean inFlight;
    private volatile boolean ended;

    /**
     * Takes over a viewer and its socket.
     *
     * @param wantsTurn called when a send has ended; brings {@link #pump} to its next turn on the sender thread.
     */
    LiveConnection(
            ViewerPort viewer, Socket socket, WebCounters counters, Function<LiveConnection, Runnable> wantsTurn) {
        this.viewer = viewer;
        this.socket = socket;
        this.counters = counters;
        this.wantsTurn = wantsTurn.apply(this);
    }

    /** Takes an acknowledgement. */
    void painted(long sequence) {
        viewer.painted(sequence);
    }

    /** Allows one binary message from now on; a second one of the same turn would only be smaller. */
    void flushDue() {
        traceDue = true;
    }

    /** Sends the next thing that waits, unless a send is under way: events first, then the trace. */
    void pump() {
        if (inFlight || ended) {
            return;
        }
        String reason = viewer.closeReason();
        if (reason != null) {
            leave();
            socket.close(TRY_AGAIN_LATER, reason);
            return;
        }
        String event = viewer.nextEvent();
        if (event != null) {
            sendEvent(event);
        } else if (traceDue) {
            traceDue = false;
            sendTrace();
        }
    }

    /** Takes the viewer out; idempotent. */
    void leave() {
        ended = true;
        viewer.leave();
    }

    private void sendEvent(String event) {
        inFlight = true;
        socket.sendText(event, sent -> {
            if (sent) {
                counters.eventsSent.increment();
            }
            turnEnded();
        });
    }

    private void sendTrace() {
        long sequence = viewer.nextMessage(buffer);
        if (sequence == 0) {
            return;
        }
        int bytes = buffer.remaining();
        inFlight = true;
        socket.sendBinary(buffer, sent -> {
            if (sent) {
                viewer.sent(sequence);
                counters.messagesSent.increment();
                counters.bytesSent.add(bytes);
            }
            turnEnded();
        });
    }

    private void turnEnded() {
        inFlight = false;
        wantsTurn.run();
    }
}
