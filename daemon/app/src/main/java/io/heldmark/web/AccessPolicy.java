package io.heldmark.web;

import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;

/**
 * Who may ask the station; no framework, only header values in and a verdict out.
 *
 * <p><b>Host.</b> A page from elsewhere can point a name of its own at this machine (DNS rebinding); its requests carry that
 * name. So a host name is accepted only if it is {@code localhost} or, where the station listens to others, this machine's
 * own; numeric addresses cannot be pointed elsewhere and are accepted as loopback, or any where it listens to others.
 *
 * <p><b>Origin.</b> A browser names the page that asks; it must be the station's own. A client that is no browser sends
 * none and has nothing to gain by it.
 *
 * <p><b>Token.</b> Compared in constant time; exchanged once for a random session of 256 bits that the browser keeps in a
 * cookie which scripts cannot read. Programs may send it as a bearer token.
 */
public final class AccessPolicy {
    /** Name of the session cookie. */
    public static final String COOKIE = "heldmark_session";

    private static final int MAX_SESSIONS = 256;
    private static final int SESSION_BYTES = 32;

    private final WebOptions options;
    private final Set<String> ownNames;
    private final Set<String> sessions = ConcurrentHashMap.newKeySet();
    private final SecureRandom random = new SecureRandom();

    /**
     * Makes the policy.
     *
     * @param options where the station listens.
     * @param machineName host name of this machine; accepted where the station listens to others.
     */
    public AccessPolicy(WebOptions options, String machineName) {
        this.options = options;
        this.ownNames = new TreeSet<>(Set.of("localhost"));
        if (!options.address().isLoopbackAddress() && !machineName.isEmpty()) {
            String name = machineName.toLowerCase(Locale.ROOT);
            ownNames.add(name);
            ownNames.add(name + ".local");
        }
    }

    /** Tells whether the {@code Host} header names this station. */
    public boolean hostAllowed(@Nullable String host) {
        if (host == null) {
            return false;
        }
        String name = nameOf(host.toLowerCase(Locale.ROOT));
        if (ownNames.contains(name)) {
            return true;
        }
        InetAddress number = HostNumbers.parse(name);
        return number != null
                && (number.isLoopbackAddress() || !options.address().isLoopbackAddress());
    }

    /** Tells whether the {@code Origin} header, where there is one, names the page that this station served. */
    public boolean originAllowed(@Nullable String origin, @Nullable String host) {
        return origin == null || origin.equalsIgnoreCase(options.scheme() + "://" + host);
    }

    /** Tells whether the caller has shown the token, now or before; always where none is needed. */
    public boolean tokenShown(@Nullable String cookie, @Nullable String authorization) {
        if (options.token() == null) {
            return true;
        }
        if (cookie != null && sessions.contains(cookie)) {
            return true;
        }
        String prefix = "Bearer ";
        return authorization != null
                && authorization.regionMatches(true, 0, prefix, 0, prefix.length())
                && isToken(authorization.substring(prefix.length()).trim());
    }

    /** Returns whether a token is needed at all. */
    public boolean needsToken() {
        return options.token() != null;
    }

    /** Returns whether the station is reached by TLS. */
    public boolean secure() {
        return options.tls() != null;
    }

    /** Returns a new session for whoever knows the token; absent for a wrong one. */
    public @Nullable String openSession(String token) {
        if (!isToken(token)) {
            return null;
        }
        if (sessions.size() >= MAX_SESSIONS) {
            sessions.clear(); // Whoever is still there shows the token again; nobody can fill the memory.
        }
        byte[] bytes = new byte[SESSION_BYTES];
        random.nextBytes(bytes);
        String session = HexFormat.of().formatHex(bytes);
        sessions.add(session);
        return session;
    }

    private boolean isToken(String text) {
        String token = options.token();
        return token != null
                && MessageDigest.isEqual(text.getBytes(StandardCharsets.UTF_8), token.getBytes(StandardCharsets.UTF_8));
    }

    private static String nameOf(String host) {
        int end = host.startsWith("[") ? host.indexOf(']') + 1 : host.indexOf(':');
        String name = end > 0 ? host.substring(0, end) : host;
        String port = end > 0 ? host.substring(end) : "";
        return port.isEmpty() || port.matches(":[0-9]{1,5}") ? name : "";
    }
}
