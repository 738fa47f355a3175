package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.w3c.dom.Document;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** The certificate on paper. */
class CertificateTest {
    private static final String EXAMPLE = Path.of(System.getProperty("heldmark.root"))
            .resolve("docs/examples/cell-calibration-invented.csv")
            .toString();

    @TempDir
    Path folder;

    private Cli.Result certified(Path file, String... more) {
        List<String> args = new ArrayList<>(List.of(
                "calibrate",
                EXAMPLE,
                "--applied-unit",
                "kg",
                "--load-u-percent",
                "0.05",
                "--latitude-deg",
                "52",
                "--data",
                folder.resolve("data").toString(),
                "--device",
                "<cell&7>",
                "--by",
                "Zoë Αθηνά",
                "--certificate",
                file.toString()));
        args.addAll(List.of(more));
        return Cli.run(args.toArray(String[]::new));
    }

    /** Texts of cells, labels and sentences, each without what only breaks lines. */
    private static List<String> said(String html) throws Exception {
        Document page = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(html)));
        List<String> said = new ArrayList<>();
        for (String element : new String[] {"h1", "h2", "p", "th", "td", "li", "span"}) {
            NodeList found = page.getElementsByTagName(element);
            for (int i = 0; i < found.getLength(); i++) {
                said.add(squeezed(found.item(i).getTextContent()));
            }
        }
        return said;
    }

    private static String squeezed(String text) {
        return text.replaceAll("\\s+", "");
    }

    @Test
    void shouldSayOnPaperWhatThePageSays() throws Exception {
        Path paper = folder.resolve("certificate.PDF");
        Path page = folder.resolve("certificate.html");
        Cli.Result result = certified(paper, "--limit", "zero=0.001");
        assertEquals(0, result.code(), result.err());
        assertEquals("certificate: " + paper, result.err().strip());
        assertEquals(0, certified(page, "--limit", "zero=0.001").code());
        List<String> said = said(Files.readString(page));
        try (PDDocument document = Loader.loadPDF(paper.toFile())) {
            String text = squeezed(new PDFTextStripper().getText(document));
            assertTrue(said.size() > 100, said::toString);
            said.forEach(one -> assertTrue(text.contains(one), one + " is not in " + text));
            assertTrue(text.contains("Zoë") && text.contains("<cell&7>"));
            assertTrue(document.getNumberOfPages() <= 3);
            for (PDPage one : document.getPages()) {
                // ISO 216: A4 is 210 mm by 297 mm; a point is 1/72 inch.
                assertEquals(210 / 25.4 * 72, one.getMediaBox().getWidth(), 0.5);
                assertEquals(297 / 25.4 * 72, one.getMediaBox().getHeight(), 0.5);
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"no-such-folder/c.pdf", "a-folder.pdf", "a-folder.html"})
    void shouldLeaveNothingHalfWritten(String name) throws Exception {
        for (String taken : new String[] {"a-folder.pdf", "a-folder.html"}) {
            Files.writeString(Files.createDirectory(folder.resolve(taken)).resolve("kept"), "kept");
        }
        Cli.Result result = certified(folder.resolve(name), "--save");
        assertEquals(1, result.code(), result.err());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains("cannot be written"), result.err());
        assertFalse(Files.exists(folder.resolve("data")), "saved without its certificate");
        assertEquals(4, files().size(), files()::toString);
    }

    private List<String> files() throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return all.filter(one -> !one.equals(folder)).map(Path::toString).toList();
        }
    }
}
