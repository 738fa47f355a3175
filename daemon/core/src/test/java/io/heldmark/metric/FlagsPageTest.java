package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class FlagsPageTest {
    @Test
    void shouldHoldThePageAndTheFlagsTogether() throws IOException {
        Path page = Path.of(System.getProperty("heldmark.root", "../.."), "docs", "quality-flags.md");
        if (Boolean.getBoolean("heldmark.regenerate")) {
            Files.writeString(page, FlagsPage.markdown());
        }
        assertEquals(FlagsPage.markdown(), Files.readString(page), "regenerate: see the remark at the top of the page");
    }
}
