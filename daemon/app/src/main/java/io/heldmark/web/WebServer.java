package io.heldmark.web;

import io.heldmark.cells.CheckDesk;
import io.heldmark.cells.GuideDesk;
import io.heldmark.time.StationClock;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.util.JavalinBindException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.UnknownHostException;
import org.eclipse.jetty.io.EofException;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The station's web server. */
public final class WebServer implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(WebServer.class);
    private static final int MAX_THREADS = 24;
    private static final int IDLE_THREADS = 4;
    private static final int THREAD_IDLE_MS = 30_000;

    private final WebOptions options;
    private final WebCounters counters = new WebCounters();
    private final LiveSender sender;
    private final Javalin javalin;

    private WebServer(StationPort station, StationClock clock, WebOptions options, String version) {
        this.options = options;
        sender = new LiveSender(station, clock);
        AccessPolicy policy = new AccessPolicy(options, machineName());
        javalin = Javalin.create(config -> {
            settings(config);
            routes(config.routes, station, clock, policy, version);
            errors(config.routes);
        });
    }

    /**
     * Starts to listen.
     *
     * @param station what is served.
     * @param clock paces the sender.
     * @param options where to listen and who may ask.
     * @param version version of the station.
     * @throws BindException if the port is in use; one line that says what to do.
     */
    public static WebServer start(StationPort station, StationClock clock, WebOptions options, String version)
            throws BindException {
        requireFree(options);
        WebServer server = new WebServer(station, clock, options, version);
        try {
            server.javalin.start();
        } catch (JavalinBindException e) {
            throw notBound(options, e);
        }
        server.sender.start();
        return server;
    }

    /** Returns the port that it listens on. */
    public int port() {
        return javalin.port();
    }

    /** Returns the address to open in a browser, with the token where one is needed. */
    public String url() {
        InetAddress address = options.address();
        String host = literal(address);
        if (address.isAnyLocalAddress()) {
            host = machineName().isEmpty() ? "localhost" : machineName();
        }
        String token = options.token() == null ? "" : "#token=" + options.token();
        return options.scheme() + "://" + host + ":" + port() + "/" + token;
    }

    @Override
    public void close() {
        sender.close();
        javalin.stop();
    }

    private void settings(JavalinConfig config) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.startup.startupWatcherEnabled = false;
        config.http.maxRequestSize = Json.MAX_BODY_BYTES;
        QueuedThreadPool threads = new QueuedThreadPool(MAX_THREADS, IDLE_THREADS, THREAD_IDLE_MS);
        threads.setName("web");
        threads.setDaemon(true);
        config.jetty.threadPool = threads;
        config.jetty.addConnector((server, http) -> Connectors.make(server, http, options));
        config.jetty.modifyServletContextHandler(LiveCompression::disable);
    }

    private void routes(
            RoutesConfig routes, StationPort station, StationClock clock, AccessPolicy policy, String version) {
        new AccessFilter(policy, counters).register(routes);
        new HealthRoutes(version).register(routes);
        new MetricsRoutes(station, counters).register(routes);
        new StationRoutes(station).register(routes);
        new ZeroRoutes(station).register(routes);
        new RecordingRoutes(station).register(routes);
        new MarkRoutes(station).register(routes);
        new TapRoutes(station).register(routes);
        new TargetRoutes(station).register(routes);
        new TrialRoutes(station).register(routes);
        new ContractionRoutes(station).register(routes);
        new MetricListRoutes().register(routes);
        new ReplayRoutes(station).register(routes);
        new CellRoutes(station).register(routes);
        new CalibrationRoutes(new GuideDesk(station, clock, version)).register(routes);
        new CheckRoutes(new CheckDesk(station, clock)).register(routes);
        new DeviceRoutes(new ThisComputer()).register(routes);
        new SessionRoutes(policy, counters).register(routes);
        new LiveSocket(station, sender, counters).register(routes);
        new ViewerRoutes().register(routes);
    }

    /** Every error is one sentence of ours; what happened inside stays in the log. */
    private void errors(RoutesConfig routes) {
        routes.exception(ApiException.class, (e, ctx) -> Json.error(ctx, e.status(), e.sentence()));
        routes.exception(HttpResponseException.class, (e, ctx) -> {
            boolean tooLong = e.getStatus() == 413;
            Json.error(ctx, tooLong ? 400 : e.getStatus(), tooLong ? "The body is too long." : sentence(e.getStatus()));
        });
        routes.exception(EofException.class, (e, ctx) -> Json.error(ctx, 400, "The connection ended too early."));
        routes.exception(Exception.class, this::fail);
        routes.error(404, ctx -> {
            if (ctx.result() == null
                    || !String.valueOf(ctx.res().getContentType()).startsWith("application/json")) {
                Json.error(ctx, 404, "There is nothing here.");
            }
        });
    }

    private void fail(Exception e, Context ctx) {
        if (e.getCause() instanceof EofException) {
            return; // Whoever asked is gone; nothing of ours failed.
        }
        counters.failed.increment();
        LOG.error("{} {} failed", ctx.method(), ctx.path(), e);
        Json.error(ctx, 500, "The station failed at this request; its log says why.");
    }

    private static String sentence(int status) {
        return status == 404 ? "There is nothing here." : "The request was refused (status " + status + ").";
    }

    /** Jetty shares a port silently on some systems; a connection that is answered is the surest sign of another server. */
    private static void requireFree(WebOptions options) throws BindException {
        if (options.port() == 0) {
            return;
        }
        InetAddress address =
                options.address().isAnyLocalAddress() ? InetAddress.getLoopbackAddress() : options.address();
        try (Socket socket = new Socket()) {
            socket.connect(new InetSocketAddress(address, options.port()), 500);
        } catch (java.io.IOException e) {
            return; // Nobody answers: free, or Jetty will say.
        }
        throw inUse(options.port());
    }

    private static BindException inUse(int port) {
        return new BindException("port " + port
                + " is in use, perhaps by another Heldmark station; end that, or choose another with --port "
                + (port + 1));
    }

    private static BindException notBound(WebOptions options, Throwable cause) {
        for (Throwable e = cause; e != null; e = e.getCause()) {
            if (String.valueOf(e.getMessage()).contains("assign requested address")) {
                return new BindException(options.address().getHostAddress()
                        + " is not an address of this machine; see them with: ip address, or listen everywhere with"
                        + " --listen 0.0.0.0");
            }
            if (e instanceof SocketException && String.valueOf(e.getMessage()).contains("Permission denied")) {
                return new BindException(
                        "no permission to listen on port " + options.port() + "; choose one above 1023 with --port");
            }
        }
        return inUse(options.port());
    }

    private static String literal(InetAddress address) {
        String text = address.getHostAddress();
        return text.contains(":") ? "[" + text + "]" : text;
    }

    private static String machineName() {
        try {
            return InetAddress.getLocalHost().getHostName();
        } catch (UnknownHostException e) {
            return "";
        }
    }
}
