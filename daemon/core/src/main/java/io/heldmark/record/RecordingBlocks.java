package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.SeekableByteChannel;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A recording's blocks as header, links and packets; what is not for us is passed over.
 *
 * <p><b>Errors.</b> A file that is no recording is refused with one line. Where reading ends early, {@link #fault} says
 * why, and {@link #torn} whether it looks like a write that a crash cut off.
 */
final class RecordingBlocks {
    private final Path file;
    private final BlockSource source;
    private final RecordingHeader section;
    private final List<RecordedInterface> interfaces = new ArrayList<>();
    private final List<LinkHeader> links = new ArrayList<>();
    private int headerLinks;
    private boolean held; // The current block has not been looked at yet.
    private long wholeBytes;
    private long lastTimeNs;
    private long cutPackets;
    private String fault = "";

    private RecordingBlocks(Path file, BlockSource source, RecordingHeader section) {
        this.file = file;
        this.source = source;
        this.section = section;
        this.wholeBytes = source.wholeBytes();
    }

    /**
     * Reads up to the first packet.
     *
     * @throws RecordingException if the file is not a recording that this version reads.
     */
    static RecordingBlocks open(SeekableByteChannel channel, Path file) throws IOException, RecordingException {
        BlockSource source = new BlockSource(channel);
        if (!source.next()) {
            throw RecordingRefusals.noBlock(file, channel.size());
        }
        if (source.type() != Pcapng.SECTION_HEADER) {
            throw RecordingRefusals.notPcapng(file);
        }
        RecordingBlocks blocks = new RecordingBlocks(file, source, readSection(file, source));
        blocks.readInterfaces();
        blocks.headerLinks = blocks.links.size();
        return blocks;
    }

    RecordingHeader header() {
        return new RecordingHeader(
                section.wallAnchorNs(),
                section.stationVersion(),
                links.subList(0, headerLinks),
                section.settingsJson());
    }

    List<LinkHeader> links() {
        return List.copyOf(links);
    }

    /** Reads the next packet of an interface that recordings use; false at the end of what can be read. */
    boolean next(RecordedItem into) throws IOException, RecordingException {
        while (fault.isEmpty() && (held || source.next())) {
            held = false;
            boolean found = false;
            switch (source.type()) {
                case Pcapng.INTERFACE_DESCRIPTION -> addInterface();
                case Pcapng.ENHANCED_PACKET -> found = readPacket(into);
                case Pcapng.SECTION_HEADER -> fault = "a second section begins (two files joined into one)";
                default -> {} // Name resolution, statistics and what else other tools add.
            }
            if (fault.isEmpty()) {
                wholeBytes = source.wholeBytes();
            }
            if (found) {
                return true;
            }
        }
        return false;
    }

    /** Reads over everything that can be read. */
    void skipToEnd() throws IOException, RecordingException {
        RecordedItem item = new RecordedItem();
        boolean more = true;
        while (more) {
            more = next(item);
        }
    }

    /** Returns the end of the last block that could be read. */
    long wholeBytes() {
        return wholeBytes;
    }

    /** Returns the time of the latest packet so far. */
    long lastTimeNs() {
        return lastTimeNs;
    }

    /** Returns how many packets another tool has shortened. */
    long cutPackets() {
        return cutPackets;
    }

    /** Returns why reading ended before the end of the file; empty where it did not. */
    String fault() {
        return fault.isEmpty() ? source.fault() : fault;
    }

    /** Returns whether reading ended at a block that is not whole. */
    boolean torn() {
        return fault.isEmpty() && !source.fault().isEmpty();
    }

    ByteOrder byteOrder() {
        return source.buffer().order();
    }

    /** Returns the number of the station's interface; -1 without one. */
    int stationInterface() {
        for (int i = 0; i < interfaces.size(); i++) {
            if (interfaces.get(i).isStation()) {
                return i;
            }
        }
        return -1;
    }

    /** Returns the station time of a packet of the station's interface that was read apart. */
    long stationEventNs(ByteBuffer block, int bodyIndex, long blockStart) throws RecordingException {
        return stationTimeNs(
                interfaces.get(stationInterface()),
                block.getInt(bodyIndex + 4),
                block.getInt(bodyIndex + 8),
                blockStart);
    }

    /** Returns whether the recorder's own blocks can be appended: its byte order and its times. */
    boolean canBeAppended() {
        int station = stationInterface();
        return byteOrder() == ByteOrder.LITTLE_ENDIAN
                && station >= 0
                && interfaces.get(station).countsNanoseconds();
    }

    private static RecordingHeader readSection(Path file, BlockSource source) throws RecordingException {
        int body = source.bodyIndex();
        if (source.bodyBytes() < Pcapng.SECTION_BODY_BYTES) {
            throw RecordingRefusals.notPcapng(file);
        }
        Options options = new Options(source.buffer(), body + Pcapng.SECTION_BODY_BYTES, body + source.bodyBytes());
        while (options.next()) {
            ObjectNode facts = options.code() == Pcapng.OPT_COMMENT ? RecordingFacts.object(options.text()) : null;
            if (facts != null && facts.path("schema").asText("").startsWith(RecordingFacts.SCHEMA_FAMILY)) {
                return checkedHeader(file, facts);
            }
        }
        throw RecordingRefusals.foreign(file);
    }

    private static RecordingHeader checkedHeader(Path file, ObjectNode facts) throws RecordingException {
        String schema = facts.path("schema").asText("");
        if (!schema.equals(RecordingFacts.SCHEMA)) {
            throw RecordingRefusals.otherVersion(file, schema);
        }
        @Nullable RecordingHeader header = RecordingFacts.header(facts);
        if (header == null) {
            throw RecordingRefusals.badHeader(file);
        }
        return header;
    }

    private void readInterfaces() throws IOException, RecordingException {
        while (source.next()) {
            if (source.type() == Pcapng.ENHANCED_PACKET || source.type() == Pcapng.SECTION_HEADER) {
                held = true;
                break;
            }
            if (source.type() == Pcapng.INTERFACE_DESCRIPTION) {
                addInterface();
            }
            wholeBytes = source.wholeBytes();
        }
        if (stationInterface() < 0) {
            throw RecordingRefusals.noStation(file);
        }
    }

    private void addInterface() throws RecordingException {
        if (source.bodyBytes() < Pcapng.INTERFACE_BODY_BYTES) {
            fault = "an interface description is too short";
            return;
        }
        RecordedInterface added =
                new RecordedInterface(source.buffer(), source.bodyIndex(), source.bodyBytes(), links.size());
        interfaces.add(added);
        if (added.isLink()) {
            LinkHeader link = added.link();
            if (link == null) {
                throw RecordingRefusals.silentLink(file, interfaces.size() - 1);
            }
            links.add(link);
        }
    }

    private boolean readPacket(RecordedItem into) throws RecordingException {
        int body = source.bodyIndex();
        int room = source.bodyBytes() - Pcapng.PACKET_BODY_BYTES;
        int interfaceId = room < 0 ? -1 : source.word(body);
        int captured = room < 0 ? 0 : source.word(body + 12);
        if (interfaceId < 0 || interfaceId >= interfaces.size() || captured < 0 || captured > room) {
            fault = "a packet contradicts itself";
            return false;
        }
        RecordedInterface from = interfaces.get(interfaceId);
        if (!from.isStation() && !from.isLink()) {
            return false;
        }
        cutPackets += Integer.compareUnsigned(captured, source.word(body + 16)) < 0 ? 1 : 0;
        into.bytes = source.bytes();
        into.offset = body + Pcapng.PACKET_BODY_BYTES;
        into.length = captured;
        into.link = from.number();
        into.timeNs = stationTimeNs(from, source.word(body + 4), source.word(body + 8), source.blockStart());
        into.kind = from.isStation() ? RecordedItem.Kind.EVENT : direction(body, captured);
        lastTimeNs = Math.max(lastTimeNs, into.timeNs);
        return true;
    }

    private long stationTimeNs(RecordedInterface from, int high, int low, long blockStart) throws RecordingException {
        long units = (long) high << 32 | Integer.toUnsignedLong(low);
        long timeNs;
        try {
            timeNs = from.wallNs(units) - section.wallAnchorNs();
        } catch (ArithmeticException e) {
            throw RecordingRefusals.badTime(file, blockStart);
        }
        if (timeNs < 0) {
            throw RecordingRefusals.badTime(file, blockStart);
        }
        return timeNs;
    }

    private RecordedItem.Kind direction(int body, int captured) {
        int start = body + Pcapng.PACKET_BODY_BYTES + Pcapng.padded(captured);
        int end = body + source.bodyBytes();
        if (end - start >= 2 * Integer.BYTES
                && source.word(start) == source.optionHead(Pcapng.EPB_FLAGS, Integer.BYTES)) {
            return direction(source.word(start + Integer.BYTES)); // Where the recorder writes them.
        }
        Options options = new Options(source.buffer(), start, end);
        while (options.next()) {
            if (options.code() == Pcapng.EPB_FLAGS && options.length() == Integer.BYTES) {
                return direction(source.word(options.valueIndex()));
            }
        }
        return RecordedItem.Kind.CHUNK;
    }

    private static RecordedItem.Kind direction(int flags) {
        boolean outbound = (flags & Pcapng.DIRECTION_MASK) == Pcapng.OUTBOUND;
        return outbound ? RecordedItem.Kind.SENT : RecordedItem.Kind.CHUNK;
    }
}
