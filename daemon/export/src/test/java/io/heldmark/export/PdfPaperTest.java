package io.heldmark.export;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.Set;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;

class PdfPaperTest {
    /** ISO 216: 210 mm by 297 mm, in points of 1/72 inch. */
    private static final double[] A4_POINTS = {210 / 25.4 * 72, 297 / 25.4 * 72};

    private static String page(String body) {
        return "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"/><title>A paper</title><style>"
                + "@page{size:A4;margin:15mm}body{font-family:" + PdfPaper.FONTS + "}</style></head><body>" + body
                + "</body></html>";
    }

    private static String text(byte[] pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        }
    }

    @Test
    void shouldKeepEveryLetterOfTextInFontsOfItsOwn() throws Exception {
        String said = "b² = 1.5·10³ m/s², ±0.3 %, –2 °C, 5 µV, Zoë Łuczak, Αθηνά, Ольга";
        byte[] pdf = PdfPaper.of(page("<p>" + said + "</p><p><b>Bold 12</b></p>"));
        assertEquals(said + "\nBold 12\n", text(pdf).replace("\r", ""));
        try (PDDocument document = Loader.loadPDF(pdf)) {
            Set<String> names = new HashSet<>();
            for (PDPage page : document.getPages()) {
                for (COSName name : page.getResources().getFontNames()) {
                    PDFont font = page.getResources().getFont(name);
                    assertTrue(font.isEmbedded(), font.getName());
                    names.add(font.getName().replaceAll("^[A-Z]{6}\\+", ""));
                }
            }
            assertEquals(
                    Set.of("AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold", "LiberationSans"),
                    names);
        }
    }

    @Test
    void shouldFillPagesOfA4() throws Exception {
        byte[] pdf = PdfPaper.of(page("<p>line</p>".repeat(100)));
        try (PDDocument document = Loader.loadPDF(pdf)) {
            assertTrue(document.getNumberOfPages() > 1);
            for (PDPage page : document.getPages()) {
                assertEquals(A4_POINTS[0], page.getMediaBox().getWidth(), 0.5);
                assertEquals(A4_POINTS[1], page.getMediaBox().getHeight(), 0.5);
            }
            assertEquals("A paper", document.getDocumentInformation().getTitle());
            assertTrue(document.getDocumentCatalog().getMarkInfo().isMarked(), "tagged");
        }
    }

    @Test
    void shouldDraw() throws Exception {
        String drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 10 10\" width=\"100\" height=\"100\">"
                + "<circle cx=\"5\" cy=\"5\" r=\"4\" fill=\"#123456\"/></svg>";
        try (PDDocument document = Loader.loadPDF(PdfPaper.of(page(drawing)))) {
            BufferedImage seen = new PDFRenderer(document).renderImage(0);
            int coloured = 0;
            for (int x = 0; x < seen.getWidth(); x++) {
                for (int y = 0; y < seen.getHeight(); y++) {
                    coloured += (seen.getRGB(x, y) & 0xFFFFFF) == 0x123456 ? 1 : 0;
                }
            }
            // 96 px of CSS are 72 points: a circle of radius 30 points, less its soft edge.
            assertEquals(Math.PI * 30 * 30, coloured, 200);
        }
    }

    @Test
    void shouldRefuseAPageThatIsNotWellFormed() {
        String said = assertThrows(IOException.class, () -> PdfPaper.of(page("<p>open")))
                .getMessage();
        assertTrue(said.startsWith("no PDF can be made of the page"), said);
    }

    @Test
    void shouldFetchNothingAndSayNothing() throws Exception {
        PrintStream before = System.err;
        ByteArrayOutputStream told = new ByteArrayOutputStream();
        System.setErr(new PrintStream(told, true, StandardCharsets.UTF_8));
        try {
            byte[] pdf = PdfPaper.of(page("<img src=\"http://127.0.0.1:9/x.png\" alt=\"no\"/>"
                    + "<object data=\"file:///etc/hostname\"></object><p>here</p>"));
            assertTrue(text(pdf).contains("here"));
        } finally {
            System.setErr(before);
        }
        assertFalse(told.toString(StandardCharsets.UTF_8).contains("Exception"), told::toString);
    }
}
