package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;

/** The station events that the recording makes itself. */
final class StationEvents {
    /** The recording was ended as asked. */
    static final String END = "end";

    /** A half-written tail was cut off. */
    static final String REPAIRED = "repaired";

    /** Items were lost on the way to the file. */
    static final String GAP = "gap";

    private StationEvents() {}

    static String end(long lostChunks, long lostBytes, long lostEvents) {
        ObjectNode event = RecordingFacts.newObject().put("event", END);
        event.put("complete", lostChunks == 0 && lostEvents == 0);
        event.put("lostChunks", lostChunks).put("lostBytes", lostBytes).put("lostEvents", lostEvents);
        return event.toString();
    }

    static String repaired(long removedBytes) {
        return RecordingFacts.newObject()
                .put("event", REPAIRED)
                .put("removedBytes", removedBytes)
                .toString();
    }

    static String chunkGap(int link, long lostChunks, long lostBytes) {
        ObjectNode event = RecordingFacts.newObject().put("event", GAP).put("link", link);
        return event.put("lostChunks", lostChunks).put("lostBytes", lostBytes).toString();
    }

    static String eventGap(long lostEvents) {
        return RecordingFacts.newObject()
                .put("event", GAP)
                .put("lostEvents", lostEvents)
                .toString();
    }
}
