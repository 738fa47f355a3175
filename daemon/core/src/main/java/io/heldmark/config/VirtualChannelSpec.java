package io.heldmark.config;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * A channel that is a sum of others: {@code plate = 0#0@-200,-150 + 0#1@200,-150 + 0#2@0,150}, {@code both = 0#0 + 1#0}, {@code pull = -0#0}, {@code net = 0#0 - 0.5*1#0}.
 *
 * @param name name of the channel; left or right at its beginning (any case) make it that limb's.
 * @param terms what is added up, in order.
 */
public record VirtualChannelSpec(String name, List<Term> terms) {
    /** Most channels of this kind. */
    public static final int MOST = 8;

    private static final int MOST_TERMS = 16;
    private static final double MOST_FACTOR = 1000;
    private static final Pattern NAME = Pattern.compile("[A-Za-z][A-Za-z0-9_-]{0,23}");
    private static final String PLACE = "[+-]?[0-9]{1,5}(?:\\.[0-9]{1,3})?";
    private static final Pattern TERM =
            Pattern.compile("\\s*([+-]?)\\s*(?:([0-9]{1,4}(?:\\.[0-9]{1,6})?)\\s*\\*\\s*)?([0-9]{1,2})#([0-7])\\s*"
                    + "(?:@\\s*(" + PLACE + ")\\s*,\\s*(" + PLACE + ")\\s*)?");

    /**
     * One of the channels that are added up.
     *
     * @param link number of its link, from 0 in the order left, right, others of the command line.
     * @param deviceChannel channel of the device.
     * @param factor what it is multiplied by; not 0.
     * @param xMm place under a plate along x in millimetres; NaN where none is said.
     * @param yMm place along y, likewise.
     */
    public record Term(int link, int deviceChannel, double factor, double xMm, double yMm) {
        /** Makes one without a place. */
        public Term(int link, int deviceChannel, double factor) {
            this(link, deviceChannel, factor, Double.NaN, Double.NaN);
        }

        boolean placed() {
            return !Double.isNaN(xMm);
        }
    }

    /** Tells whether every cell has a place, so that the centre of pressure can be measured. */
    public boolean isPlate() {
        return terms.get(0).placed();
    }

    /** Copies the terms. */
    public VirtualChannelSpec {
        terms = List.copyOf(terms);
    }

    /**
     * Reads the definitions of a setting, parted by semicolons.
     *
     * @param key the setting, for the refusal.
     * @param text its value; empty for none.
     * @throws ConfigException naming key, value and what is allowed.
     */
    public static List<VirtualChannelSpec> parse(String key, String text) {
        List<VirtualChannelSpec> specs = new ArrayList<>();
        if (text.isBlank()) {
            return specs;
        }
        Set<String> names = new HashSet<>();
        for (String definition : text.split(";", -1)) {
            VirtualChannelSpec spec = one(key, definition.strip());
            if (!names.add(spec.name())) {
                throw new ConfigException(key, text, "each name once; " + spec.name() + " stands twice");
            }
            specs.add(spec);
        }
        if (specs.size() > MOST) {
            throw new ConfigException(key, text, "at most " + MOST + " channels");
        }
        return specs;
    }

    private static VirtualChannelSpec one(String key, String definition) {
        int equals = definition.indexOf('=');
        String name = equals < 0 ? "" : definition.substring(0, equals).strip();
        if (!NAME.matcher(name).matches()) {
            throw new ConfigException(
                    key,
                    definition,
                    "NAME = SUM, the name with letters, digits, - and _, at most 24, a letter first; for example"
                            + " plate = 0#0 + 0#1");
        }
        return new VirtualChannelSpec(name, terms(key, definition, definition.substring(equals + 1)));
    }

    private static List<Term> terms(String key, String definition, String sum) {
        List<Term> terms = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        Matcher term = TERM.matcher(sum);
        int at = 0;
        while (at < sum.length() && term.find(at) && term.start() == at) {
            boolean signed = !term.group(1).isEmpty();
            double factor = term.group(2) == null ? 1 : Double.parseDouble(term.group(2));
            if ((!signed && !terms.isEmpty()) || !(factor > 0 && factor <= MOST_FACTOR)) {
                break;
            }
            if (!seen.add(term.group(3) + "#" + term.group(4))) {
                throw new ConfigException(key, definition, "each channel once in a sum");
            }
            terms.add(new Term(
                    Integer.parseInt(term.group(3)),
                    Integer.parseInt(term.group(4)),
                    term.group(1).equals("-") ? -factor : factor,
                    place(term.group(5)),
                    place(term.group(6))));
            at = term.end();
        }
        if (terms.isEmpty() || at < sum.length() || terms.size() > MOST_TERMS) {
            throw new ConfigException(
                    key,
                    definition,
                    "1 to " + MOST_TERMS
                            + " terms LINK#CHANNEL or FACTOR*LINK#CHANNEL with + or - between them; links are"
                            + " numbered from 0, channels 0 to 7, factors above 0 to 1000");
        }
        checkPlaces(key, definition, terms);
        return terms;
    }

    private static double place(@Nullable String text) {
        return text == null ? Double.NaN : Double.parseDouble(text);
    }

    private static void checkPlaces(String key, String definition, List<Term> terms) {
        Term first = terms.get(0);
        boolean same = terms.stream().allMatch(term -> term.placed() == first.placed());
        boolean oneWay = terms.stream().allMatch(term -> term.factor() * first.factor() > 0);
        if (!same || (first.placed() && !oneWay)) {
            throw new ConfigException(
                    key,
                    definition,
                    "a place @X,Y in mm for every cell of a plate or for none, and no differences there");
        }
    }
}
