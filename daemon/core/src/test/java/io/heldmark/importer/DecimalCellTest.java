package io.heldmark.importer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Outside truth: the decimals of the Java library, {@link Double#parseDouble} and {@link BigDecimal}. */
class DecimalCellTest {
    private final DecimalCell cell = new DecimalCell();

    private int take(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        return cell.take(bytes, 0, bytes.length);
    }

    @Test
    void shouldReadTheDoubleNearestToTheDecimal() {
        SplittableRandom random = new SplittableRandom(11);
        for (int i = 0; i < 200_000; i++) {
            int decimals = random.nextInt(0, 12);
            String text = BigDecimal.valueOf(random.nextLong(-(1L << random.nextInt(1, 62)), 1L << 40), decimals)
                    .toPlainString();
            assertEquals(text.length(), take(text));
            assertEquals(DecimalCell.Kind.NUMBER, cell.kind(), text);
            assertEquals(Double.parseDouble(text), cell.value(), text);
        }
    }

    @Test
    void shouldReadTimesToTheNanosecond() {
        SplittableRandom random = new SplittableRandom(12);
        for (int i = 0; i < 100_000; i++) {
            BigDecimal exact = BigDecimal.valueOf(random.nextLong(-1_000_000_000_000L, 1_000_000_000_000L), 9);
            take(exact.toPlainString());
            assertEquals(exact.unscaledValue().longValue(), cell.billionths());
        }
        take("0.00000000149");
        assertEquals(1, cell.billionths());
        take("1.2345e-3");
        assertEquals(1_234_500, cell.billionths());
        take("1760000000.123456789");
        BigDecimal late = new BigDecimal("1760000000123456789").setScale(0, RoundingMode.UNNECESSARY);
        assertEquals(late.longValueExact(), cell.billionths());
        take("1e300");
        assertEquals(Long.MIN_VALUE, cell.billionths());
        take("99999999999999999");
        assertEquals(Long.MIN_VALUE, cell.billionths());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "12.5|12.5|1",
                "+3|3|0",
                "-.5|-0.5|1",
                "7.|7|0",
                "1.25e2|125|-1",
                "'  4.0\t'|4|1",
                "'\"6.5\"'|6.5|-1",
                "0.1234567890123456789|0.12345678901234568|-1",
            })
    void shouldReadEveryPlainForm(String text, double value, int decimals) {
        take(text);
        assertEquals(DecimalCell.Kind.NUMBER, cell.kind());
        assertEquals(value, cell.value());
        assertEquals(decimals, cell.decimals());
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "NaN",
                "nan",
                "inf",
                "-Infinity",
                "0x1p3",
                "1d",
                "1.2.3",
                "1 2",
                "-",
                "+",
                ".",
                "e5",
                "1e",
                "--1",
                "1e999",
                "1e-999999",
                "12 N",
                "1_000",
                "null",
            })
    void shouldTakeNothingElseForANumber(String text) {
        take(text);
        assertEquals(DecimalCell.Kind.OTHER, cell.kind(), text);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "  ", "\t", "\"\"", ",5"})
    void shouldTakeNothingForAMissingSample(String text) {
        take(text);
        assertEquals(DecimalCell.Kind.EMPTY, cell.kind());
    }

    @Test
    void shouldEndAtTheComma() {
        assertEquals(3, take("1.5,2.5"));
        assertEquals(1.5, cell.value());
        assertEquals(3, take("abc,2.5"));
        assertEquals(DecimalCell.Kind.OTHER, cell.kind());
    }
}
