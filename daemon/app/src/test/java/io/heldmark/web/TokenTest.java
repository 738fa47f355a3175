package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.security.KeyStore;
import java.util.List;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The interface where a token is needed, plain and with TLS. */
class TokenTest {
    private static final String TOKEN = "correct-horse-battery";

    private final FakeStation station = new FakeStation();

    @TempDir
    Path folder;

    @Test
    void shouldOpenEverythingSecretOnlyToWhoShowedTheToken() throws Exception {
        try (WebServer server = start(null)) {
            int port = server.port();
            assertTrue(server.url().endsWith(":" + port + "/#token=" + TOKEN), server.url());
            for (String path : List.of("/api/v1/station", "/metrics", "/api/v1/nothing")) {
                assertEquals(403, RawHttp.get(port, path).status(), path);
            }
            assertEquals(200, RawHttp.get(port, "/healthz").status());
            assertEquals(403, upgrade(port, "").status());
            assertEquals(403, RawHttp.json(port, "POST /api/v1/zero", "{}").status());
            assertEquals(
                    403,
                    RawHttp.json(port, "POST /api/v1/session", "{\"token\":\"wrong\"}")
                            .status());

            RawHttp.Answer session = RawHttp.json(port, "POST /api/v1/session", "{\"token\":\"" + TOKEN + "\"}");
            assertEquals(204, session.status());
            String cookie = session.header("Set-Cookie");
            assertTrue(cookie.startsWith("heldmark_session="), cookie);
            for (String part : List.of("HttpOnly", "SameSite=Strict", "Path=/")) {
                assertTrue(cookie.contains(part), part + " in " + cookie);
            }
            assertFalse(cookie.contains(TOKEN));
            String shown =
                    "Host: localhost:" + port + "\r\nCookie: " + cookie.substring(0, cookie.indexOf(';')) + "\r\n";
            assertEquals(
                    200, RawHttp.send(port, "GET /api/v1/station", shown, "").status());
            assertEquals(
                    101,
                    upgrade(port, "Cookie: " + cookie.substring(0, cookie.indexOf(';')) + "\r\n")
                            .status());
            assertEquals(
                    101,
                    upgrade(port, "Authorization: Bearer " + TOKEN + "\r\n").status());
        }
    }

    @Test
    void shouldSpeakTlsWithTheGivenKey() throws Exception {
        Path keyStore = folder.resolve("key.p12");
        makeKey(keyStore);
        try (WebServer server = start(new WebOptions.Tls(keyStore, "changeit"))) {
            assertTrue(server.url().startsWith("https://"), server.url());
            HttpClient client =
                    HttpClient.newBuilder().sslContext(trusting(keyStore)).build();
            HttpRequest request = HttpRequest.newBuilder(
                            URI.create("https://localhost:" + server.port() + "/api/v1/session"))
                    .header("Content-Type", "application/json")
                    .header("Origin", "https://localhost:" + server.port())
                    .POST(HttpRequest.BodyPublishers.ofString("{\"token\":\"" + TOKEN + "\"}"))
                    .build();
            var answer = client.send(request, BodyHandlers.ofString());
            assertEquals(204, answer.statusCode(), answer.body());
            assertTrue(answer.headers().firstValue("Set-Cookie").orElseThrow().contains("Secure"));
        }
    }

    private WebServer start(WebOptions.Tls tls) throws Exception {
        WebOptions options = new WebOptions(InetAddress.getLoopbackAddress(), 0, TOKEN, tls);
        return WebServer.start(station, new SystemStationClock(), options, "1.2");
    }

    private static RawHttp.Answer upgrade(int port, String headers) throws Exception {
        return RawHttp.send(
                port,
                "GET /ws/live",
                "Host: localhost:" + port + "\r\n" + headers + "Upgrade: websocket\r\nConnection: Upgrade\r\n"
                        + "Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n",
                "");
    }

    private static void makeKey(Path file) throws Exception {
        Path tool = Path.of(System.getProperty("java.home"), "bin", "keytool");
        Process process = new ProcessBuilder(
                        tool.toString(),
                        "-genkeypair",
                        "-alias",
                        "station",
                        "-keyalg",
                        "EC",
                        "-dname",
                        "CN=localhost",
                        "-ext",
                        "SAN=dns:localhost,ip:127.0.0.1",
                        "-storetype",
                        "PKCS12",
                        "-keystore",
                        file.toString(),
                        "-storepass",
                        "changeit")
                .redirectErrorStream(true)
                .start();
        assertTrue(process.waitFor(60, TimeUnit.SECONDS));
        assertEquals(0, process.exitValue());
    }

    private static SSLContext trusting(Path file) throws Exception {
        KeyStore keys = KeyStore.getInstance(file.toFile(), "changeit".toCharArray());
        KeyStore trust = KeyStore.getInstance("PKCS12");
        trust.load(null, null);
        trust.setCertificateEntry("station", keys.getCertificate("station"));
        TrustManagerFactory managers = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        managers.init(trust);
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(null, managers.getTrustManagers(), null);
        return context;
    }
}
