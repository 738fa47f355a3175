package io.heldmark.cells;

import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.Coefficient;
import io.heldmark.calibration.LoadReference;
import io.heldmark.calibration.LoadResult;
import io.heldmark.calibration.Percent;
import io.heldmark.calibration.RunResult;
import io.heldmark.export.PdfPaper;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;

/** The certificate of a calibration: one page of HTML that needs nothing else, to look at and to print, or the same as PDF. */
public final class CalibrationCertificate {
    private static final String STYLE = """
            body{font-family:%s,Arial,sans-serif;font-size:10pt;line-height:1.35;color:#111;max-width:18cm;margin:1cm auto;padding:0 .5cm}
            h1{font-size:18pt;margin:0 0 .3cm}h2{font-size:12pt;margin:.6cm 0 .2cm}
            table{border-collapse:collapse;width:100%%;font-size:9pt}
            th,td{border-bottom:1px solid #999;padding:2px 5px;text-align:right;vertical-align:top}
            th:first-child,td:first-child{text-align:left}.facts td{text-align:left}.facts td:first-child{width:5cm}
            .beyond{font-weight:bold;text-decoration:underline}.say{border:1px solid #111;padding:.2cm .4cm}
            .plot{position:relative;width:17.28cm;height:7.2cm;font-size:8pt;line-height:.4cm}
            .plot span{position:absolute;width:2cm;height:.4cm;white-space:nowrap}
            .plot .x{text-align:center;margin-left:-1cm}.plot .y{text-align:right}
            @page{size:A4;margin:1.5cm}
            @media print{body{margin:0;padding:0;max-width:none}h2{page-break-after:avoid}tr,.plot{page-break-inside:avoid}}
            """.formatted(PdfPaper.FONTS);

    private final CalibrationResult result;
    private final CalibrationLimits limits;
    private final CalibrationFacts about;
    private final UnaryOperator<String> inOtherWords;
    private final StringBuilder html = new StringBuilder();

    /** Writes about a calibration from a table. */
    public CalibrationCertificate(CalibrationResult result, CalibrationLimits limits, CalibrationFacts about) {
        this(result, limits, about, sentence -> sentence);
    }

    /** Writes about a calibration whose readings are not lines of a table: a sentence about lines is put in other words. */
    CalibrationCertificate(
            CalibrationResult result,
            CalibrationLimits limits,
            CalibrationFacts about,
            UnaryOperator<String> inOtherWords) {
        this.inOtherWords = inOtherWords;
        this.result = result;
        this.limits = limits;
        this.about = about;
    }

    /**
     * Returns the same page as a PDF of pages of A4.
     *
     * @throws IOException if none can be made.
     */
    public byte[] pdf() throws IOException {
        return PdfPaper.of(html());
    }

    /** Returns the page: well-formed XML, so that the PDF can be made of it. */
    public String html() {
        html.setLength(0);
        html.append("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"/><title>Calibration of ")
                .append(safe(about.deviceId()))
                .append("</title><style>")
                .append(STYLE)
                .append(
                        "</style><meta name=\"description\" content=\"Calibration of a load cell\"/></head><body><h1>Calibration of a load cell</h1>");
        html.append(
                "<p class=\"say\"><b>Not a conformity statement.</b> The terms are those of ISO 376 so that numbers can be compared;"
                        + " the procedure of that standard was not checked, and no conformity with it or any other standard is"
                        + " claimed.</p>");
        facts();
        curve();
        loads();
        html.append("<h2>Residuals in N</h2>").append(new ResidualPlot(result, limits).html());
        html.append(
                "<p>Dots: mean reading minus curve. Bars: 95 % interval of the force of one later reading. Lines: the limit of the"
                        + " interpolation error.</p>");
        runs();
        list("Beyond the limits", limits.sentences(result));
        list("Notes", result.notes());
        html.append(
                        "<p>Not in the uncertainty: creep beyond the waiting time, temperature, pull off the axis, ageing. Made with"
                                + " Heldmark ")
                .append(safe(about.stationVersion()))
                .append(".</p></body></html>\n");
        return html.toString();
    }

    private void facts() {
        LoadReference reference = result.request().reference();
        html.append("<table class=\"facts\">");
        fact("Device, channel", about.deviceId() + ", " + about.deviceChannel());
        fact("Calibration", about.id().isEmpty() ? "not saved in a station" : about.id());
        fact("Calibrated by", about.by());
        fact("Date of evaluation", about.evaluatedOn());
        fact("Valid until", about.validUntil().toString());
        fact("Loads", about.loads().isEmpty() ? "not described" : about.loads());
        fact(
                "Standard uncertainty of the loads",
                String.format(
                        Locale.ROOT,
                        "%.3g %% as stated, %.3g %% with gravity and buoyancy",
                        100 * reference.loadRelativeU(),
                        100 * reference.relativeU()));
        fact("Force of one " + reference.unit(), weight(reference));
        fact(
                "Readings",
                result.readings() + " in " + result.runs().size() + " runs, at "
                        + result.loads().size() + " loads; " + about.input());
        html.append("</table>");
    }

    private static String weight(LoadReference reference) {
        String newtons = String.format(Locale.ROOT, "%.8g N", reference.newtonsPerUnit());
        return Double.isNaN(reference.gravityMS2())
                ? newtons
                : newtons
                        + String.format(
                                Locale.ROOT,
                                "; gravity %.6f m/s², buoyancy of air %.4f %%",
                                reference.gravityMS2(),
                                100 * reference.buoyancyFraction());
    }

    private void fact(String name, String value) {
        html.append("<tr><td>")
                .append(safe(name))
                .append("</td><td>")
                .append(safe(value))
                .append("</td></tr>");
    }

    private void curve() {
        html.append("<h2>Curve</h2><p>counts = ")
                .append(result.coefficients().size() == 2 ? "b0 + b1 F" : "b0 + b1 F + b2 F²")
                .append(result.request().zeroOfEachRun() ? ", counts above each run's own zero" : "")
                .append("</p><table><tr><th>coefficient</th><th>value</th><th>standard error of the fit</th>"
                        + "<th>standard uncertainty with the loads</th><th>unit</th></tr>");
        for (Coefficient c : result.coefficients()) {
            row(c.name(), "%.9g", c.value(), c.standardError(), c.standardUncertainty());
            html.append("<td>").append(safe(c.unit())).append("</td></tr>");
        }
        html.append("</table><p>")
                .append(String.format(
                        Locale.ROOT,
                        "Residual standard deviation %.4g counts, %d degrees of freedom.",
                        result.curve().fit().residualSd(),
                        result.curve().fit().degreesOfFreedom()))
                .append("</p>");
    }

    private void loads() {
        html.append(
                "<h2>Each load</h2><table><tr><th>load in N</th><th>residual in N</th><th>uncertainty in N, 95 %</th>"
                        + "<th>k</th>");
        CalibrationLimits.FIGURES.forEach(name -> html.append("<th>")
                .append(name)
                .append(String.format(
                        Locale.ROOT, " in %% (limit %s)", limits.percent().get(name)))
                .append("</th>"));
        html.append("</tr>");
        for (LoadResult load : result.loads()) {
            row(
                    load.loadN() == 0 ? "0" : String.format(Locale.ROOT, "%.6g", load.loadN()),
                    "%.3g",
                    load.residualN(),
                    load.uncertainty().expandedN(),
                    load.uncertainty().coverageFactor());
            for (String name : CalibrationLimits.FIGURES) {
                Percent value = CalibrationLimits.figure(load, name);
                html.append(limits.beyond(load, name) ? "<td class=\"beyond\">" : "<td>")
                        .append(value.known() ? String.format(Locale.ROOT, "%.4f", value.value()) : "–")
                        .append("</td>");
            }
            html.append("</tr>");
        }
        html.append("</table>");
    }

    private void row(String head, String format, double... values) {
        html.append("<tr><td>").append(safe(head)).append("</td>");
        for (double value : values) {
            html.append("<td>")
                    .append(String.format(Locale.ROOT, format, value))
                    .append("</td>");
        }
    }

    private void runs() {
        html.append("<h2>Zeros</h2><table><tr><th>run</th><th>zero before in counts</th><th>after</th></tr>");
        for (RunResult run : result.runs()) {
            html.append("<tr><td>")
                    .append(safe(run.run() + (run.mounting().isEmpty() ? "" : ", mounting " + run.mounting())));
            for (double zero : new double[] {run.zeroBeforeCounts(), run.zeroAfterCounts()}) {
                html.append("</td><td>").append(Double.isNaN(zero) ? "–" : String.format(Locale.ROOT, "%.7g", zero));
            }
            html.append("</td></tr>");
        }
        html.append("</table>");
    }

    private void list(String title, List<String> sentences) {
        html.append("<h2>").append(title).append("</h2><ul>");
        (sentences.isEmpty() ? List.of("None.") : sentences)
                .forEach(one -> html.append("<li>")
                        .append(safe(inOtherWords.apply(one)))
                        .append("</li>"));
        html.append("</ul>");
    }

    /** Returns text that no browser takes for anything else. */
    static String safe(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
