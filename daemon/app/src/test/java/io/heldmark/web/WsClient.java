package io.heldmark.web;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletionStage;

/** A viewer without a picture: keeps every message. */
public final class WsClient implements WebSocket.Listener {
    private final List<String> texts = new ArrayList<>();
    private final List<ByteBuffer> binaries = new ArrayList<>();
    private final StringBuilder text = new StringBuilder();
    private ByteBuffer binary = ByteBuffer.allocate(0);
    private String closed = "";
    private WebSocket socket;

    /** Connects to a station on this machine. */
    public static WsClient connect(int port) {
        WsClient client = new WsClient();
        client.socket = HttpClient.newHttpClient()
                .newWebSocketBuilder()
                .buildAsync(URI.create("ws://localhost:" + port + "/ws/live"), client)
                .join();
        return client;
    }

    @Override
    public synchronized CompletionStage<?> onText(WebSocket from, CharSequence data, boolean last) {
        text.append(data);
        if (last) {
            texts.add(text.toString());
            text.setLength(0);
        }
        from.request(1);
        return null;
    }

    @Override
    public synchronized CompletionStage<?> onBinary(WebSocket from, ByteBuffer data, boolean last) {
        ByteBuffer joined = ByteBuffer.allocate(binary.remaining() + data.remaining());
        joined.put(binary.duplicate()).put(data).flip();
        binary = joined;
        if (last) {
            binaries.add(binary);
            binary = ByteBuffer.allocate(0);
        }
        from.request(1);
        return null;
    }

    @Override
    public synchronized CompletionStage<?> onClose(WebSocket from, int code, String reason) {
        closed = code + " " + reason;
        return null;
    }

    @Override
    public synchronized void onError(WebSocket from, Throwable error) {
        closed = "error " + error;
    }

    /** Returns the events so far. */
    public synchronized List<String> texts() {
        return List.copyOf(texts);
    }

    /** Returns the binary messages so far, as sent. */
    public synchronized List<ByteBuffer> binaries() {
        return binaries.stream()
                .map(b -> b.duplicate().order(ByteOrder.BIG_ENDIAN))
                .toList();
    }

    /** Returns code and reason of the end; empty while open. */
    public synchronized String closed() {
        return closed;
    }

    /** Sends a text. */
    public void send(String message) {
        socket.sendText(message, true).join();
    }

    /** Ends the connection. */
    public void close() {
        socket.sendClose(WebSocket.NORMAL_CLOSURE, "").join();
    }

    /** Waits for so many events. */
    public void awaitText(int count) throws Exception {
        Waiting.until(count + " events", () -> texts().size() >= count);
    }

    /** Waits for so many binary messages. */
    public void awaitBinary(int count) throws Exception {
        Waiting.until(count + " binary messages", () -> binaries().size() >= count);
    }

    /** Waits for the end. */
    public void awaitClose() throws Exception {
        Waiting.until("the end of the connection", () -> !closed().isEmpty());
    }
}
