package io.heldmark.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.pipeline.ConditionsJson;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * What was said of the trials while a session was recorded, as it stood after each change.
 *
 * <p>The newest {@value #KEPT} changes are kept, so that memory does not grow with a session.
 */
final class SessionWords {
    private static final int KEPT = 256;
    private static final Map<String, String> UNITS =
            Map.of("Kg", "kg", "Nm", "N\u00b7m", "Deg", "deg", "N", "N", "S", "s", "M", "m");
    private static final Pattern NAME = Pattern.compile("(.*?)(Kg|Nm|Deg|N|S|M)");
    private static final Pattern CAPITAL = Pattern.compile("[A-Z]");

    private final ArrayDeque<Entry> entries = new ArrayDeque<>();

    /** What held from a time of the session on. */
    record Entry(long fromNs, SaidConditions said, @Nullable Target target) {
        /** Writes it; what was not said is absent. */
        ObjectNode json(double fromS) {
            ObjectNode o = JsonLines.object().put("fromS", fromS);
            ConditionsJson.put(o, said);
            if (target != null) {
                o.put("shownTargetN", target.forceN());
            }
            return o;
        }

        /** Returns it in words. */
        String words() {
            List<String> parts = new ArrayList<>();
            parts.add(words(said.both()));
            if (target != null) {
                parts.add("shown target " + plain(String.valueOf(target.forceN())) + " N");
            }
            parts.add(ofLimb("left: ", said.left()));
            parts.add(ofLimb("right: ", said.right()));
            parts.removeIf(String::isEmpty);
            return parts.isEmpty() ? "nothing" : String.join("; ", parts);
        }

        private static String ofLimb(String limb, TestConditions said) {
            String words = words(said);
            return words.isEmpty() ? "" : limb + words;
        }

        private static String words(TestConditions said) {
            ObjectNode o = JsonLines.object();
            ConditionsJson.put(o, said);
            List<String> parts = new ArrayList<>();
            for (Map.Entry<String, JsonNode> member : o.properties()) {
                Matcher name = NAME.matcher(member.getKey());
                boolean number = member.getValue().isNumber() && name.matches();
                String what = number ? name.group(1) : member.getKey();
                String value = plain(member.getValue().asText());
                parts.add(spaced(what) + " " + (number ? value + " " + UNITS.get(name.group(2)) : spaced(value)));
            }
            return String.join(", ", parts);
        }

        private static String spaced(String camelCase) {
            return CAPITAL.matcher(camelCase).replaceAll(m -> " " + m.group().toLowerCase(Locale.ROOT));
        }

        private static String plain(String number) {
            return number.endsWith(".0") ? number.substring(0, number.length() - 2) : number;
        }
    }

    void onTrials(SaidConditions said, long atNs) {
        Entry last = entries.peekLast();
        add(new Entry(atNs, said, last == null ? null : last.target()));
    }

    void onTarget(@Nullable Target target, long atNs) {
        Entry last = entries.peekLast();
        add(new Entry(atNs, last == null ? SaidConditions.NONE : last.said(), target));
    }

    private void add(Entry entry) {
        if (entries.isEmpty() && entry.said().equals(SaidConditions.NONE) && entry.target() == null) {
            return; // a session that begins in silence says nothing
        }
        entries.addLast(entry);
        if (entries.size() > KEPT) {
            entries.removeFirst();
        }
    }

    List<Entry> entries() {
        return List.copyOf(entries);
    }
}
