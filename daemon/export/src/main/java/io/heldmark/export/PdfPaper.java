package io.heldmark.export;

import com.openhtmltopdf.extend.FSSupplier;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Objects;
import java.util.logging.Level;

/**
 * A page of XHTML as PDF, with its drawings (SVG without text) and tagged for screen readers.
 *
 * <p>Fonts are embedded and our own, so that a paper looks the same wherever it is made: Atkinson Hyperlegible Next, and Liberation
 * Sans for the letters that it lacks (Greek, Cyrillic). Both are under the SIL Open Font License 1.1. Nothing is fetched, whatever
 * the page names.
 *
 * <p><b>Threading.</b> Any thread.
 */
public final class PdfPaper {
    /** What a page names as its fonts, in this order. */
    public static final String FONTS = "'Atkinson Hyperlegible Next','Liberation Sans'";

    private PdfPaper() {}

    /**
     * Returns the whole file.
     *
     * @param xhtml a page that is well-formed XML; its style says the size of the paper.
     * @throws IOException if no paper can be made of it, for example because it is not well-formed.
     */
    public static byte[] of(String xhtml) throws IOException {
        quiet();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (BatikSVGDrawer drawings = new BatikSVGDrawer()) {
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.useFont(font("AtkinsonHyperlegibleNext-Regular.ttf"), family(0), 400, FontStyle.NORMAL, true);
            builder.useFont(font("AtkinsonHyperlegibleNext-Bold.ttf"), family(0), 700, FontStyle.NORMAL, true);
            builder.useFont(
                    font("/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf"),
                    family(1),
                    400,
                    FontStyle.NORMAL,
                    true);
            builder.useSVGDrawer(drawings);
            builder.useExternalResourceAccessControl(
                    (address, type) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI);
            builder.usePdfUaAccessibility(true);
            builder.withProducer("Heldmark");
            builder.withHtmlContent(xhtml, null);
            builder.toStream(out);
            builder.run();
        } catch (RuntimeException e) {
            throw new IOException("no PDF can be made of the page: " + e.getMessage(), e);
        }
        return out.toByteArray();
    }

    private static String family(int index) {
        return FONTS.split(",", -1)[index].replace("'", "");
    }

    private static FSSupplier<InputStream> font(String name) {
        return () -> Objects.requireNonNull(PdfPaper.class.getResourceAsStream(name), name);
    }

    /** The library tells how it goes about its work on the standard error; only what goes wrong is of use there. */
    private static void quiet() {
        XRLog.listRegisteredLoggers().forEach(logger -> XRLog.setLevel(logger, Level.SEVERE));
    }
}
