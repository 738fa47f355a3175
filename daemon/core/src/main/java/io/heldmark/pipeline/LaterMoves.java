package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.Boundaries;
import io.heldmark.model.Contraction;
import io.heldmark.record.RecordingException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Boundaries that somebody put elsewhere after the session, while its recording was played: {@code NAME.boundaries.json} beside
 * {@code NAME.pcapng}, which itself is never changed.
 *
 * <p><b>The later word stands.</b> For each contraction there is what was in force at the end: boundaries, or the word that those
 * that the station found hold again. It goes before every move within the session. A contraction is named by its channel
 * and the onset that the station found; one that an analysis finds elsewhere, by another version or other settings, is not
 * touched, and that is said.
 *
 * <p>The file is whole or not there. <b>Threading.</b> One thread at a time.
 */
final class LaterMoves {
    private static final String SCHEMA = "heldmark.boundaries/1";
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();

    private record Key(int channel, long automaticOnsetNs) {}

    /** What is in force; absent boundaries: those that the station found. */
    private record Move(@Nullable Boundaries to, String movedAt) {}

    private final @Nullable Path file;
    private final Map<Key, Move> moves = new LinkedHashMap<>();
    private final Set<Key> met = new HashSet<>();

    private LaterMoves(@Nullable Path file) {
        this.file = file;
    }

    /** Returns none, of a session that is not a recording. */
    static LaterMoves none() {
        return new LaterMoves(null);
    }

    /**
     * Reads what stands beside a recording; mostly nothing.
     *
     * @throws RecordingException with one line if there is a file that cannot be used.
     */
    static LaterMoves beside(Path recording) throws RecordingException {
        Path file = fileOf(recording);
        LaterMoves later = new LaterMoves(file);
        if (Files.exists(file)) {
            try {
                later.read(MAPPER.readTree(Files.readString(file)));
            } catch (JsonProcessingException | IllegalArgumentException e) {
                throw new RecordingException(
                        file + ": no boundaries of ours (" + firstLine(e)
                                + "); mend it or take it away from beside the recording",
                        e);
            } catch (IOException e) {
                throw new RecordingException(file + ": cannot be read: " + e.getMessage(), e);
            }
        }
        return later;
    }

    /** Returns the file that belongs to a recording. */
    static Path fileOf(Path recording) {
        String name = String.valueOf(recording.getFileName());
        String stem = name.endsWith(".pcapng") ? name.substring(0, name.length() - ".pcapng".length()) : name;
        return recording.resolveSibling(stem + ".boundaries.json");
    }

    private static String firstLine(Exception e) {
        return String.valueOf(e.getMessage()).lines().findFirst().orElse("");
    }

    /** Tells whether somebody moved a contraction later. */
    boolean has(int channel, long automaticOnsetNs) {
        return moves.containsKey(new Key(channel, automaticOnsetNs));
    }

    /** Returns the move that makes of what the station found what is in force; absent where that is the same. */
    @Nullable BoundaryChange of(Contraction automatic) {
        Key key = new Key(automatic.channel(), automatic.onsetNs());
        Move move = moves.get(key);
        if (move == null) {
            return null;
        }
        met.add(key);
        return move.to() == null ? null : BoundaryChange.move(automatic, move.to());
    }

    /**
     * Keeps what is in force of a contraction now.
     *
     * @param movedAt when it was moved, as ISO 8601 has it.
     * @throws IOException if it cannot be written; it is still in force until the recording is opened again.
     */
    void put(Review review, String movedAt) throws IOException {
        Contraction found = review.automatic();
        Contraction manual = review.manual();
        Boundaries to =
                manual == null ? null : new Boundaries(manual.onsetNs(), manual.releaseStartNs(), manual.offsetNs());
        Key key = new Key(found.channel(), found.onsetNs());
        moves.put(key, new Move(to, movedAt));
        met.add(key);
        if (file != null) {
            WholeFile.write(file, write().toPrettyString() + "\n");
        }
    }

    /** Returns sentences for people about an analysis that has come to its end. */
    List<String> notes() {
        if (moves.isEmpty()) {
            return List.of();
        }
        List<String> notes = new ArrayList<>();
        String name = String.valueOf(file == null ? null : file.getFileName());
        notes.add("Boundaries that were moved after the session are in force: " + met.size() + " of " + moves.size()
                + " contractions in " + name + ".");
        if (met.size() < moves.size()) {
            notes.add("The others begin elsewhere now, or are not found; their boundaries are those that were found.");
        }
        return notes;
    }

    private ObjectNode write() {
        ObjectNode document = MAPPER.createObjectNode().put("schema", SCHEMA);
        var list = document.putArray("moves");
        moves.forEach((key, move) -> {
            ObjectNode o = list.addObject()
                    .put("channel", key.channel())
                    .put("automaticOnsetNs", key.automaticOnsetNs())
                    .put("movedAt", move.movedAt());
            Boundaries to = move.to();
            if (to != null) {
                o.put("onsetNs", to.onsetNs())
                        .put("releaseStartNs", to.releaseStartNs())
                        .put("offsetNs", to.offsetNs());
            }
        });
        return document;
    }

    private void read(JsonNode document) {
        if (!document.path("schema").asText().equals(SCHEMA)
                || !document.path("moves").isArray()) {
            throw new IllegalArgumentException("schema is " + SCHEMA + ", moves is an array");
        }
        for (JsonNode o : document.path("moves")) {
            Boundaries to = o.has("onsetNs")
                    ? new Boundaries(whole(o, "onsetNs"), whole(o, "releaseStartNs"), whole(o, "offsetNs"))
                    : null;
            Key key = new Key((int) whole(o, "channel"), whole(o, "automaticOnsetNs"));
            moves.put(key, new Move(to, o.path("movedAt").asText()));
        }
    }

    private static long whole(JsonNode o, String name) {
        if (!o.path(name).isIntegralNumber()) {
            throw new IllegalArgumentException("a move without a whole number " + name);
        }
        return o.path(name).asLong();
    }
}
