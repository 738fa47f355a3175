package io.heldmark.config;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.VirtualChannelSpec.Term;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class VirtualChannelSpecTest {
    @Test
    void shouldReadSumsDifferencesSignsAndFactors() {
        assertTrue(VirtualChannelSpec.parse("k", " ").isEmpty());
        assertEquals(
                List.of(
                        new VirtualChannelSpec("plate", List.of(new Term(0, 0, 1), new Term(0, 1, 1))),
                        new VirtualChannelSpec("net", List.of(new Term(12, 7, -0.25), new Term(3, 0, -1)))),
                VirtualChannelSpec.parse("k", "plate = 0#0+0#1; net=-0.25 * 12#7 - 3#0"));
    }

    @Test
    void shouldReadThePlacesOfCellsUnderAPlate() {
        VirtualChannelSpec plate = VirtualChannelSpec.parse("k", "p = 0#0@-200,150.5 + 0.5*0#1 @ +20 , 0")
                .get(0);
        assertTrue(plate.isPlate());
        assertEquals(List.of(new Term(0, 0, 1, -200, 150.5), new Term(0, 1, 0.5, 20, 0)), plate.terms());
        assertFalse(VirtualChannelSpec.parse("k", "p = 0#0").get(0).isPlate());
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "plate",
                "=0#0",
                "1plate=0#0",
                "a b=0#0",
                "plate=",
                "plate=0",
                "plate=0#8",
                "plate=100#0",
                "plate=0#0 0#1",
                "plate=0#0+",
                "plate=0#0++0#1",
                "plate=0*0#0",
                "plate=1001*0#0",
                "plate=0#0*2",
                "plate=0#0+0#0",
                "plate=0#0;plate=0#1",
                "plate=0#0;",
                "plate=0#0@1,2+0#1",
                "plate=0#0+0#1@1,2",
                "plate=0#0@1,2-0#1@3,4",
                "plate=0#0@1",
                "plate=0#0@1,x",
                "plate=0#0@100000,1",
                "a=0#0;b=0#0;c=0#0;d=0#0;e=0#0;f=0#0;g=0#0;h=0#0;i=0#0"
            })
    void shouldRefuseWhatIsNoSumWithKeyValueAndWhatIsAllowed(String text) {
        ConfigException refused =
                assertThrows(ConfigException.class, () -> Config.resolve(Map.of(), Map.of("channels.virtual", text)));
        assertTrue(refused.getMessage().startsWith("channels.virtual="), refused.getMessage());
        assertTrue(refused.getMessage().contains(" is not allowed: "), refused.getMessage());
    }

    @Test
    void shouldSayWhatASumLooksLike() {
        assertEquals(
                "channels.virtual=plate=0#8 is not allowed: 1 to 16 terms LINK#CHANNEL or FACTOR*LINK#CHANNEL with + or -"
                        + " between them; links are numbered from 0, channels 0 to 7, factors above 0 to 1000",
                assertThrows(ConfigException.class, () -> VirtualChannelSpec.parse("channels.virtual", "plate=0#8"))
                        .getMessage());
    }
}
