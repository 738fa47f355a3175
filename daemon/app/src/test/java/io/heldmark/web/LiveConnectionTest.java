package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import org.junit.jupiter.api.Test;

class LiveConnectionTest {
    private final FakeViewer viewer = new FakeViewer();
    private final Held socket = new Held();
    private final List<String> turns = new ArrayList<>();
    private final WebCounters counters = new WebCounters();
    private final LiveConnection connection =
            new LiveConnection(viewer, socket, counters, me -> () -> turns.add("turn"));

    @Test
    void shouldSendOneThingAtATimeAndEventsFirst() {
        viewer.events.add("e1");
        viewer.events.add("e2");
        viewer.messagesLeft.set(5);
        connection.flushDue();
        for (int i = 0; i < 10; i++) {
            connection.pump();
        }
        assertEquals(List.of("text e1"), socket.messages, "the second waits for the first to end");
        socket.end(true);
        assertEquals(1, turns.size());
        connection.pump();
        socket.end(true);
        connection.pump();
        connection.pump();
        assertEquals(List.of("text e1", "text e2", "binary 1"), socket.messages);
        socket.end(true);
        assertEquals(List.of(1L), viewer.sent);
    }

    @Test
    void shouldSendOneTraceMessageAFlushHoweverMuchWaits() {
        viewer.messagesLeft.set(5);
        connection.flushDue();
        connection.pump();
        socket.end(true);
        connection.pump();
        assertEquals(List.of("binary 1"), socket.messages);
        connection.flushDue();
        connection.pump();
        assertEquals(List.of("binary 1", "binary 2"), socket.messages);
    }

    @Test
    void shouldAskNothingOfAViewerWhoDoesNotRead() {
        viewer.messagesLeft.set(1000);
        for (int i = 0; i < 100; i++) {
            connection.flushDue();
            connection.pump();
        }
        assertEquals(1, socket.messages.size());
        assertEquals(999, viewer.messagesLeft.get());
        assertTrue(viewer.sent.isEmpty());
    }

    @Test
    void shouldCountOnlyWhatWasSent() {
        viewer.messagesLeft.set(1);
        connection.flushDue();
        connection.pump();
        socket.end(false);
        assertTrue(viewer.sent.isEmpty());
        assertEquals(0, counters.messagesSent.sum());
        assertEquals(0, counters.bytesSent.sum());
    }

    @Test
    void shouldCloseAViewerThatCannotBeHelpedAndSayWhy() {
        viewer.closeReason = "missed events";
        connection.pump();
        connection.pump();
        assertEquals(List.of("close 1013 missed events"), socket.messages);
        assertTrue(viewer.left);
    }

    /** Holds the end of a send back until the test lets it come. */
    private static final class Held implements LiveConnection.Socket {
        final List<String> messages = new ArrayList<>();
        private final Deque<LiveConnection.Done> open = new ArrayDeque<>();

        @Override
        public void sendBinary(ByteBuffer message, LiveConnection.Done done) {
            messages.add("binary " + message.getLong(0));
            open.add(done);
        }

        @Override
        public void sendText(String message, LiveConnection.Done done) {
            messages.add("text " + message);
            open.add(done);
        }

        @Override
        public void close(int code, String reason) {
            messages.add("close " + code + " " + reason);
        }

        void end(boolean sent) {
            open.remove().ended(sent);
        }
    }
}
