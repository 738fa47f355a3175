package io.heldmark.web;

import io.javalin.config.RoutesConfig;
import io.javalin.websocket.WsConfig;
import io.javalin.websocket.WsContext;
import io.javalin.websocket.WsMessageContext;
import java.nio.ByteBuffer;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.eclipse.jetty.websocket.api.Callback;
import org.eclipse.jetty.websocket.api.Session;

/** {@code /ws/live}: the live trace and events, and the acknowledgements of viewers. */
final class LiveSocket {
    private static final String PATH = "/ws/live";
    /** More than any room holds; each takes a buffer of 64 kB. */
    private static final int MAX_VIEWERS = 100;

    private static final int MAX_MESSAGE_BYTES = 1024;
    /** Nothing sent or received for so long: the network is gone. The station says something every second. */
    private static final Duration IDLE = Duration.ofSeconds(30);

    /** Acknowledgements are short: a buffer of the usual size for each would be most of what the station allocates. */
    private static final int INPUT_BUFFER_BYTES = 256;

    private static final Pattern PAINTED = Pattern.compile(
            "\\s*\\{\\s*\"type\"\\s*:\\s*\"painted\"\\s*,\\s*\"sequence\"\\s*:\\s*([0-9]{1,18})\\s*\\}\\s*");

    private final StationPort station;
    private final LiveSender sender;
    private final WebCounters counters;
    private final Map<String, LiveConnection> bySession = new ConcurrentHashMap<>();

    /** Makes the socket's routes. */
    LiveSocket(StationPort station, LiveSender sender, WebCounters counters) {
        this.station = station;
        this.sender = sender;
        this.counters = counters;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.wsBeforeUpgrade(PATH, ctx -> {
            if (sender.viewers() >= MAX_VIEWERS) {
                throw new ApiException(503, MAX_VIEWERS + " viewers are watching; close one first.");
            }
        });
        routes.ws(PATH, this::handlers);
    }

    private void handlers(WsConfig ws) {
        ws.onConnect(this::join);
        ws.onMessage(this::take);
        ws.onBinaryMessage(ctx -> counters.messagesIgnored.increment());
        ws.onClose(ctx -> sender.remove(bySession.remove(ctx.sessionId())));
        ws.onError(ctx -> sender.remove(bySession.remove(ctx.sessionId())));
    }

    private void join(WsContext ctx) {
        Session session = ctx.session;
        session.setIdleTimeout(IDLE);
        session.setMaxTextMessageSize(MAX_MESSAGE_BYTES);
        session.setMaxBinaryMessageSize(MAX_MESSAGE_BYTES);
        session.setInputBufferSize(INPUT_BUFFER_BYTES);
        bySession.put(ctx.sessionId(), sender.add(station.join(), new JettySocket(session), counters));
    }

    private void take(WsMessageContext ctx) {
        LiveConnection connection = bySession.get(ctx.sessionId());
        Matcher painted = PAINTED.matcher(ctx.message());
        if (connection != null && painted.matches()) {
            connection.painted(Long.parseLong(painted.group(1)));
        } else {
            counters.messagesIgnored.increment();
        }
    }

    /** Sends by the session's own callback, the only way that tells when a message has left. */
    private record JettySocket(Session session) implements LiveConnection.Socket {
        @Override
        public void sendBinary(ByteBuffer message, LiveConnection.Done done) {
            session.sendBinary(message, callback(done));
        }

        @Override
        public void sendText(String message, LiveConnection.Done done) {
            session.sendText(message, callback(done));
        }

        @Override
        public void close(int code, String reason) {
            session.close(code, reason.length() <= 100 ? reason : reason.substring(0, 100), Callback.NOOP);
        }

        private static Callback callback(LiveConnection.Done done) {
            return Callback.from(() -> done.ended(true), failure -> done.ended(false));
        }
    }
}
