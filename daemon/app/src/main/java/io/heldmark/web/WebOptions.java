package io.heldmark.web;

import io.heldmark.config.ConfigException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Where the station listens and who may ask.
 *
 * @param address address to listen on.
 * @param port TCP port; 0 for any free one.
 * @param token what a viewer must know; absent where none is needed (loopback).
 * @param tls key and certificate; absent for plain HTTP.
 */
public record WebOptions(
        InetAddress address,
        int port,
        @Nullable String token,
        @Nullable Tls tls) {
    /** Fewest characters of a token: 16 characters of 64 kinds are 96 bits. */
    public static final int TOKEN_CHARACTERS = 16;

    /**
     * Key and certificate for TLS.
     *
     * @param keyStore a PKCS #12 file.
     * @param password its password.
     */
    public record Tls(Path keyStore, String password) {}

    /** Refuses a token that can be guessed, a port out of range, and listening to others without a token. */
    public WebOptions {
        if (port < 0 || port > 65_535) {
            throw new ConfigException("--port", port, "a whole number from 0 to 65535");
        }
        if (token != null && token.length() < TOKEN_CHARACTERS) {
            throw new ConfigException("--token is too short: at least " + TOKEN_CHARACTERS + " characters");
        }
        if (token == null && !address.isLoopbackAddress()) {
            throw new ConfigException("--listen", address.getHostAddress(), "a token is needed there (--token)");
        }
    }

    /** Returns the address of a name or number. */
    public static InetAddress addressOf(String text) {
        try {
            return InetAddress.getByName(text);
        } catch (UnknownHostException e) {
            throw new ConfigException(
                    "--listen", text, "an address of this machine, for example 192.168.1.20 or 0.0.0.0");
        }
    }

    /** Returns {@code http} or {@code https}. */
    public String scheme() {
        return tls == null ? "http" : "https";
    }
}
