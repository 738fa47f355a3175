package io.heldmark.web;

import org.eclipse.jetty.ee10.servlet.ServletContextHandler;
import org.eclipse.jetty.util.component.LifeCycle;
import org.eclipse.jetty.websocket.core.server.WebSocketServerComponents;

/**
 * Turns the compression of WebSocket messages off: browsers ask for it, and at 60 messages a second and viewer it would
 * cost more processor time than the whole acquisition, for float32 values that hardly shrink.
 */
final class LiveCompression {
    private LiveCompression() {}

    /** Takes the extension out of what the server offers, before the first socket is opened. */
    static void disable(ServletContextHandler context) {
        context.addEventListener(new LifeCycle.Listener() {
            @Override
            public void lifeCycleStarting(LifeCycle starting) {
                WebSocketServerComponents.ensureWebSocketComponents(context.getServer(), context)
                        .getExtensionRegistry()
                        .unregister("permessage-deflate");
            }
        });
    }
}
