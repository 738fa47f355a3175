package io.heldmark.cli;

import io.heldmark.config.ConfigException;
import io.heldmark.web.WebOptions;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.SecureRandom;
import java.util.Base64;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The options that say where the viewer is served and to whom. */
final class WebArguments {
    private static final int TOKEN_BYTES = 18;

    @Option(
            names = "--port",
            paramLabel = "PORT",
            defaultValue = "8470",
            description = "TCP port of the viewer; 0 takes a free one. Default: ${DEFAULT-VALUE}.")
    private int port;

    @Option(names = "--no-browser", description = "Do not open a browser.")
    private boolean noBrowser;

    @Option(
            names = "--listen",
            paramLabel = "ADDRESS",
            description =
                    "Address to listen on instead of this machine alone, for example 0.0.0.0. Needs a token (one is"
                            + " made where none is given), and --tls-key or --insecure.")
    private @Nullable String listen;

    @Option(names = "--token", paramLabel = "TEXT", description = "What viewers must know, at least 16 characters.")
    private @Nullable String token;

    @Option(names = "--insecure", description = "Serve others without TLS; whoever shares the network can read along.")
    private boolean insecure;

    @Option(
            names = "--tls-key",
            paramLabel = "FILE",
            description = "Key and certificate (PKCS #12); its password is read from the environment variable"
                    + " HELDMARK_TLS_PASSWORD.")
    private @Nullable Path tlsKey;

    /**
     * Returns where to serve and to whom.
     *
     * @throws ConfigException if the options do not go together.
     */
    WebOptions options() {
        InetAddress address = WebOptions.addressOf(listen == null ? "127.0.0.1" : listen);
        WebOptions.Tls tls = tlsKey == null ? null : tls(tlsKey);
        if (!address.isLoopbackAddress() && tls == null && !insecure) {
            throw new ConfigException(
                    "--listen",
                    address.getHostAddress(),
                    "others are served with TLS (--tls-key FILE), or without if you say --insecure");
        }
        String needed = token;
        if (needed == null && !address.isLoopbackAddress()) {
            needed = newToken();
        }
        return new WebOptions(address, port, needed, tls);
    }

    /** Returns whether a browser is to be opened. */
    boolean opensBrowser() {
        return !noBrowser;
    }

    private static WebOptions.Tls tls(Path file) {
        String password = System.getenv("HELDMARK_TLS_PASSWORD");
        if (password == null) {
            throw new ConfigException("--tls-key", file, "its password is missing; set HELDMARK_TLS_PASSWORD");
        }
        try (InputStream in = Files.newInputStream(file)) {
            KeyStore.getInstance("PKCS12").load(in, password.toCharArray());
            return new WebOptions.Tls(file, password);
        } catch (IOException | GeneralSecurityException e) {
            throw new ConfigException("--tls-key", file, "it cannot be read as a PKCS #12 file with that password");
        }
    }

    private static String newToken() {
        byte[] bytes = new byte[TOKEN_BYTES];
        new SecureRandom().nextBytes(bytes);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }
}
