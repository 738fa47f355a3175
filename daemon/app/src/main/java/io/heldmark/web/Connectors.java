package io.heldmark.web;

import org.eclipse.jetty.http.UriCompliance;
import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.ssl.SslContextFactory;

/** Makes the server's one connector, plain or with TLS; HTTP/1.1 only, which is what WebSockets need. */
final class Connectors {
    private static final int ONE_ACCEPTOR = 1;
    private static final int ONE_SELECTOR = 1;

    private Connectors() {}

    /** Makes the connector. */
    static Connector make(Server server, HttpConfiguration http, WebOptions options) {
        http.setSendServerVersion(false);
        http.setUriCompliance(UriCompliance.RFC3986);
        HttpConnectionFactory plain = new HttpConnectionFactory(http);
        ServerConnector connector;
        WebOptions.Tls tls = options.tls();
        if (tls == null) {
            connector = new ServerConnector(server, ONE_ACCEPTOR, ONE_SELECTOR, plain);
        } else {
            SecureRequestCustomizer customizer = new SecureRequestCustomizer();
            customizer.setSniHostCheck(false); // The station is reached by address as often as by name.
            http.addCustomizer(customizer);
            SslContextFactory.Server context = new SslContextFactory.Server();
            context.setKeyStoreType("PKCS12");
            context.setKeyStorePath(tls.keyStore().toUri().toString());
            context.setKeyStorePassword(tls.password());
            connector = new ServerConnector(
                    server, ONE_ACCEPTOR, ONE_SELECTOR, new SslConnectionFactory(context, "http/1.1"), plain);
        }
        connector.setHost(options.address().getHostAddress());
        connector.setPort(options.port());
        return connector;
    }
}
