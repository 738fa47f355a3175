package io.heldmark.config;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class SettingsPageTest {
    /** {@code -Dheldmark.regenerate=true} writes the page anew. */
    @Test
    void shouldBeTheDocumentationOfEverySetting() throws IOException {
        Path page = Path.of(System.getProperty("heldmark.root"), "docs", "settings.md");
        if (Boolean.getBoolean("heldmark.regenerate")) {
            Files.writeString(page, SettingsPage.markdown());
        }
        assertEquals(Files.readString(page), SettingsPage.markdown());
    }
}
