package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AccessPolicyTest {
    private static final String TOKEN = "0123456789abcdef";

    private final AccessPolicy loopback = policy("127.0.0.1", null);
    private final AccessPolicy everywhere = policy("0.0.0.0", TOKEN);

    @ParameterizedTest
    @CsvSource({
        "localhost, true, true",
        "localhost:8470, true, true",
        "LOCALHOST:1, true, true",
        "127.0.0.1:8470, true, true",
        "127.8.9.10, true, true",
        "[::1]:8470, true, true",
        "[::1], true, true",
        "192.168.1.20:8470, false, true",
        "[fe80::1]:8470, false, true",
        "lab-pc:8470, false, true",
        "lab-pc.local:8470, false, true",
        "evil.example, false, false",
        "evil.example:8470, false, false",
        "localhost.evil.example, false, false",
        "127.0.0.1.evil.example, false, false",
        "999.0.0.1, false, false",
        "localhost:8470:1, false, false",
        "localhost:port, false, false",
        "'', false, false",
        "[], false, false",
        "[::1, false, false",
    })
    void shouldAnswerOnlyToHostsThatNobodyElseCanPointHere(String host, boolean onLoopback, boolean onEverywhere) {
        assertEquals(onLoopback, loopback.hostAllowed(host), "loopback");
        assertEquals(onEverywhere, everywhere.hostAllowed(host), "everywhere");
    }

    @Test
    void shouldRefuseARequestWithoutHost() {
        assertFalse(loopback.hostAllowed(null));
        assertFalse(everywhere.hostAllowed(null));
    }

    @ParameterizedTest
    @CsvSource({
        "http://localhost:8470, localhost:8470, true",
        "HTTP://LocalHost:8470, localhost:8470, true",
        "https://localhost:8470, localhost:8470, false",
        "http://localhost:8471, localhost:8470, false",
        "http://127.0.0.1:8470, localhost:8470, false",
        "http://evil.example, localhost:8470, false",
        "null, localhost:8470, false",
        "'', localhost:8470, false",
    })
    void shouldTakeOnlyItsOwnPageAsOrigin(String origin, String host, boolean allowed) {
        assertEquals(allowed, loopback.originAllowed(origin, host));
    }

    @Test
    void shouldTakeAClientThatIsNoBrowser() {
        assertTrue(loopback.originAllowed(null, "localhost:8470"));
    }

    @Test
    void shouldNeedNoTokenOnLoopback() {
        assertFalse(loopback.needsToken());
        assertTrue(loopback.tokenShown(null, null));
    }

    @Test
    void shouldTakeTheTokenAsBearerOrAsSession() {
        assertTrue(everywhere.needsToken());
        assertFalse(everywhere.tokenShown(null, null));
        assertFalse(everywhere.tokenShown(TOKEN, null), "the token itself is no session");
        assertFalse(everywhere.tokenShown(null, TOKEN));
        assertFalse(everywhere.tokenShown(null, "Bearer " + TOKEN + "0"));
        assertFalse(everywhere.tokenShown(null, "Basic " + TOKEN));
        assertTrue(everywhere.tokenShown(null, "Bearer " + TOKEN));
        assertTrue(everywhere.tokenShown(null, "bearer  " + TOKEN));
        assertNull(everywhere.openSession("wrong"));
        String session = everywhere.openSession(TOKEN);
        assertTrue(everywhere.tokenShown(session, null));
        assertNotEquals(session, everywhere.openSession(TOKEN));
        assertEquals(64, session.length());
    }

    @Test
    void shouldForgetSessionsRatherThanGrow() {
        String first = everywhere.openSession(TOKEN);
        for (int i = 0; i < 256; i++) {
            everywhere.openSession(TOKEN);
        }
        assertFalse(everywhere.tokenShown(first, null));
    }

    @Test
    void shouldRefuseToListenToOthersWithoutAToken() {
        assertThrows(ConfigException.class, () -> policy("0.0.0.0", null));
        assertThrows(ConfigException.class, () -> policy("192.168.1.20", null));
        ConfigException refusal = assertThrows(ConfigException.class, () -> policy("0.0.0.0", "short"));
        assertEquals("--token is too short: at least 16 characters", refusal.getMessage());
    }

    private static AccessPolicy policy(String address, String token) {
        return new AccessPolicy(new WebOptions(WebOptions.addressOf(address), 0, token, null), "Lab-PC");
    }
}
