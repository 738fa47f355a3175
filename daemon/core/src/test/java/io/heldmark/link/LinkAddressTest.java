package io.heldmark.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.heldmark.config.ConfigException;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class LinkAddressTest {
    @Test
    void shouldReadSchemeTargetOptionsAndChannel() {
        LinkAddress a = LinkAddress.parse("serial:/dev/ttyUSB0?baud=115200&binding=bytes#1");
        assertEquals("serial", a.scheme());
        assertEquals("/dev/ttyUSB0", a.target());
        assertEquals(Map.of("baud", "115200", "binding", "bytes"), a.options());
        assertEquals(1, a.channel());
        assertEquals(-1, LinkAddress.parse("tcp:localhost:9000").channel());
    }

    @ParameterizedTest
    @CsvSource({
        "ble:00:AA?passkey=004217, ble:00:AA",
        "ble:00:AA?passkey=004217#1, ble:00:AA#1",
        "ble:00:AA?adapter=hci1&passkey=004217, ble:00:AA?adapter=hci1",
        "ble:00:AA?passkey=004217&adapter=hci1#0, ble:00:AA?adapter=hci1#0",
        "ble:00:AA?a=1&passkey=004217&b=2, ble:00:AA?a=1&b=2",
        "ble:00:AA?a=1, ble:00:AA?a=1",
    })
    void shouldKeepPasskeysOutOfTheText(String written, String shown) {
        assertEquals(shown, LinkAddress.parse(written).text());
    }

    @Test
    void shouldStillKnowThePasskey() {
        assertEquals(
                "004217",
                LinkAddress.parse("ble:00:AA?passkey=004217").options().get(LinkAddress.PASSKEY));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "serial", "serial:", ":x", "tcp:a?b", "tcp:a?b=1&b=2", "tcp:a#9", "tcp:a#"})
    void shouldRefuseWhatIsNoAddress(String text) {
        assertThrows(ConfigException.class, () -> LinkAddress.parse(text));
    }
}
