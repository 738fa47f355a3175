package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.LinkState;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** Gives the items of a recording to links and sink, one by one and in file order; knows nothing of time. */
final class ReplayFeed implements AutoCloseable {
    private final Path file;
    private final ReplaySink sink;
    private final List<ReplayLink> links = new ArrayList<>();
    private final List<String> notes = new CopyOnWriteArrayList<>();
    private final RecordedItem item = new RecordedItem();
    private RecordingReader reader;
    private boolean present;

    ReplayFeed(Path file, ReplaySink sink) throws RecordingException {
        this.file = file;
        this.sink = sink;
        this.reader = RecordingReader.open(file);
        try {
            for (LinkHeader link : reader.links()) {
                links.add(ReplayLink.of(links.size(), link));
            }
        } catch (RecordingException e) {
            reader.close();
            throw e;
        }
        notes.addAll(reader.notes());
    }

    RecordingHeader header() {
        return reader.header();
    }

    List<ReplayLink> links() {
        return List.copyOf(links);
    }

    List<String> notes() {
        return List.copyOf(notes);
    }

    /** Looks at the next item; false at the end of the recording. */
    boolean peek() throws RecordingException {
        if (!present) {
            present = reader.next(item);
        }
        if (!present) {
            reader.notes().stream().filter(note -> !notes.contains(note)).forEach(notes::add);
        }
        return present;
    }

    /** Returns the recorded time of the item that {@link #peek} found. */
    long itemNs() {
        return item.timeNs();
    }

    /** Gives away the item that {@link #peek} found. */
    void feed() throws RecordingException {
        present = false;
        addNewLinks();
        switch (item.kind()) {
            case CHUNK -> links.get(item.link()).deliver(item);
            case EVENT -> feedEvent();
            case SENT -> {} // What the station said then; the answer to it is in the recording too.
        }
    }

    /** Goes back to the first item. */
    void restart() throws RecordingException {
        RecordingReader again = RecordingReader.openUnchanged(file);
        reader.close();
        reader = again;
        present = false;
    }

    @Override
    public void close() {
        reader.close();
    }

    private void addNewLinks() throws RecordingException {
        List<LinkHeader> known = reader.links();
        while (links.size() < known.size()) {
            ReplayLink link = ReplayLink.of(links.size(), known.get(links.size()));
            links.add(link);
            sink.onLinkAdded(link);
            if (!link.started()) {
                throw new IllegalStateException("the sink did not start link " + link.number());
            }
        }
    }

    private void feedEvent() {
        ObjectNode body = RecordingFacts.object(item.json());
        String event = body == null ? "" : body.path("event").asText("");
        if (body == null) {
            note(file + " holds a station event at " + item.timeNs() + " ns that is no JSON object; it is passed over");
        } else if (event.equals("linkState")) {
            feedLinkState(body);
        } else if (!event.isEmpty()) { // Without the member it is a result, which a replay makes anew.
            sink.onEvent(event, body, item.timeNs());
        }
    }

    private void feedLinkState(ObjectNode body) {
        int link = body.path("link").asInt(-1);
        String name = body.path("state").asText("");
        for (LinkState state : LinkState.values()) {
            if (state.name().equals(name) && link >= 0 && link < links.size()) {
                links.get(link).deliver(state, body.path("reason").asText(""), item.timeNs());
                return;
            }
        }
        note(file + " holds a linkState at " + item.timeNs() + " ns with an unknown link or state; it is passed over");
    }

    private void note(String sentence) {
        if (!notes.contains(sentence)) {
            notes.add(sentence);
        }
    }
}
