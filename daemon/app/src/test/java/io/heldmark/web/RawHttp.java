package io.heldmark.web;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** HTTP by hand, since the platform's client does not let a test choose the Host header. */
final class RawHttp {
    private static final Pattern LENGTH = Pattern.compile("(?i)content-length: ([0-9]+)");

    private RawHttp() {}

    /** An answer. */
    record Answer(int status, Map<String, String> headers, String body) {
        String header(String name) {
            return headers.getOrDefault(name.toLowerCase(Locale.ROOT), "");
        }
    }

    /** Sends one request with these header lines and reads the answer to its end. */
    static Answer send(int port, String requestLine, String headerLines, String body) throws IOException {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            socket.setSoTimeout(20_000);
            String length =
                    body.isEmpty() ? "" : "Content-Length: " + body.getBytes(StandardCharsets.UTF_8).length + "\r\n";
            String connection = headerLines.contains("Upgrade") ? "" : "Connection: close\r\n";
            String text = requestLine + " HTTP/1.1\r\n" + headerLines + length + connection + "\r\n" + body;
            socket.getOutputStream().write(text.getBytes(StandardCharsets.UTF_8));
            StringBuilder in = new StringBuilder();
            int b;
            while ((b = socket.getInputStream().read()) >= 0) {
                in.append((char) b);
                if (complete(in)) {
                    break; // A refused upgrade keeps the connection open.
                }
            }
            return parse(in.toString());
        }
    }

    /** Sends one request with the ordinary Host. */
    static Answer get(int port, String path) throws IOException {
        return send(port, "GET " + path, "Host: localhost:" + port + "\r\n", "");
    }

    /** Sends one JSON request with the ordinary Host. */
    static Answer json(int port, String methodAndPath, String body) throws IOException {
        return send(port, methodAndPath, "Host: localhost:" + port + "\r\nContent-Type: application/json\r\n", body);
    }

    private static boolean complete(StringBuilder in) {
        int end = in.indexOf("\r\n\r\n");
        if (end < 0) {
            return false;
        }
        if (in.indexOf("HTTP/1.1 101") == 0) {
            return true; // A WebSocket now.
        }
        Matcher length = LENGTH.matcher(in.substring(0, end));
        return length.find() && in.length() - end - 4 >= Integer.parseInt(length.group(1));
    }

    private static Answer parse(String text) {
        int end = text.indexOf("\r\n\r\n");
        String[] lines = text.substring(0, end).split("\r\n", -1);
        Map<String, String> headers = new TreeMap<>();
        for (int i = 1; i < lines.length; i++) {
            int colon = lines[i].indexOf(':');
            headers.put(
                    lines[i].substring(0, colon).toLowerCase(Locale.ROOT),
                    lines[i].substring(colon + 1).trim());
        }
        return new Answer(Integer.parseInt(lines[0].substring(9, 12)), headers, text.substring(end + 4));
    }
}
