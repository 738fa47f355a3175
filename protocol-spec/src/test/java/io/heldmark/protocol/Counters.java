package io.heldmark.protocol;

import java.lang.reflect.Field;
import java.util.Map;
import java.util.TreeMap;

/** The counters of a decoder by name, those that are not zero, so that two decoders can be compared. */
final class Counters {
    private Counters() {}

    static Map<String, Long> of(StreamDecoder decoder) {
        Map<String, Long> counters = new TreeMap<>();
        for (Field field : DecoderCounters.class.getFields()) {
            try {
                long value = field.getLong(decoder.counters());
                if (value != 0) {
                    counters.put(field.getName(), value);
                }
            } catch (IllegalAccessException e) {
                throw new AssertionError(e);
            }
        }
        return counters;
    }
}
