package io.heldmark.record;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/**
 * Writes a recording through a buffer, on the caller's thread.
 *
 * <p>{@link Recorder} is this behind a ring; used directly it is for making recordings of what already exists, where the
 * caller may wait for the disk.
 *
 * <p><b>Errors.</b> Every {@link IOException} is the file's. After one the writer takes nothing more, and
 * {@link #close} cuts the file back to its last whole block.
 *
 * <p><b>Threading.</b> One thread.
 */
public final class RecordingWriter implements Closeable {
    /** Holds the longest packet and more: one write takes many blocks. */
    private static final int BUFFER_BYTES = 512 << 10;

    private static final int STATION_INTERFACE = 0;

    private final RecordingFile file;
    private final ByteBuffer buffer = ByteBuffer.allocateDirect(BUFFER_BYTES).order(ByteOrder.LITTLE_ENDIAN);
    private final PacketTally written = new PacketTally();
    private int links;
    private long fileBytes;
    private long lastTimeNs;
    private final long wallAnchorNs;
    private boolean failed;

    /** Makes the file's header and writes it at once. */
    RecordingWriter(RecordingFile file, RecordingHeader header) throws IOException {
        this.file = file;
        this.wallAnchorNs = header.wallAnchorNs();
        block(BlockEncoder.sectionHeader("Heldmark " + header.stationVersion(), RecordingFacts.sectionComment(header)));
        block(BlockEncoder.interfaceDescription(
                Pcapng.LINKTYPE_STATION, "station", "Heldmark station, JSON", RecordingFacts.stationComment()));
        for (LinkHeader link : header.links()) {
            addLink(link);
        }
        flush();
    }

    /**
     * Makes a recording.
     *
     * @param path a file that does not exist.
     * @param header what it says before the first packet.
     * @throws IOException if the file exists or cannot be made.
     */
    public static RecordingWriter create(Path path, RecordingHeader header) throws IOException {
        return new RecordingWriter(ChannelFile.create(path), header);
    }

    /** Adds a link and returns its number, from 0. */
    public int addLink(LinkHeader link) throws IOException {
        return addLinkBlock(linkBlock(links, link));
    }

    int addLinkBlock(byte[] linkBlock) throws IOException {
        block(linkBlock);
        return links++;
    }

    /** Adds a packet of bytes that a device sent. */
    public void chunk(int link, long arrivalNs, byte[] bytes, int offset, int length) throws IOException {
        packet(checkedInterface(link), arrivalNs, Pcapng.INBOUND, bytes, offset, length);
    }

    /** Adds a packet of bytes that the station sent. */
    public void sent(int link, long atNs, byte[] bytes, int offset, int length) throws IOException {
        packet(checkedInterface(link), atNs, Pcapng.OUTBOUND, bytes, offset, length);
    }

    /** Adds a station event, one JSON object. */
    public void event(long atNs, String json) throws IOException {
        byte[] bytes = json.getBytes(StandardCharsets.UTF_8);
        event(atNs, bytes, bytes.length);
    }

    void event(long atNs, byte[] bytes, int length) throws IOException {
        packet(STATION_INTERFACE, atNs, 0, bytes, 0, length);
    }

    /** Adds the event that says that the recording was ended as asked, and how complete it is. */
    public void end(long atNs, long lostChunks, long lostBytes, long lostEvents) throws IOException {
        event(Math.max(atNs, lastTimeNs), StationEvents.end(lostChunks, lostBytes, lostEvents));
    }

    /** Hands everything to the operating system. */
    public void flush() throws IOException {
        buffer.flip();
        try {
            while (buffer.hasRemaining()) {
                int before = buffer.position();
                file.write(buffer);
                fileBytes += buffer.position() - before;
            }
        } catch (IOException e) {
            failed = true;
            keepWholeBlocks();
            throw e;
        }
        PacketTally.countBlocks(buffer, 0, buffer.limit(), written);
        buffer.clear();
    }

    /** Returns after everything so far is safe on the disk. */
    public void sync() throws IOException {
        flush();
        file.checkInPlace();
        file.sync();
    }

    /** Closes the file; after a failed write it is cut back to its last whole block first. */
    @Override
    public void close() throws IOException {
        try {
            if (!failed) {
                sync();
            }
        } finally {
            file.close();
        }
    }

    /** Returns the file. */
    public Path path() {
        return file.path();
    }

    /** Returns the bytes in the file; what is still buffered is not in it. */
    public long fileBytes() {
        return fileBytes;
    }

    /** Returns the packets in the file; what is still buffered is not among them. */
    PacketTally written() {
        return written;
    }

    static byte[] linkBlock(int number, LinkHeader link) {
        return BlockEncoder.interfaceDescription(
                Pcapng.LINKTYPE_LINK,
                link.name(),
                "Heldmark link " + number + ", binding " + link.binding(),
                RecordingFacts.linkComment(number, link));
    }

    private int checkedInterface(int link) {
        if (link < 0 || link >= links) {
            throw new IllegalArgumentException("link out of range: link=" + link + ", links=" + links);
        }
        return link + 1;
    }

    private void block(byte[] block) throws IOException {
        makeRoom(block.length);
        buffer.put(block);
    }

    private void packet(int interfaceId, long timeNs, int direction, byte[] bytes, int offset, int length)
            throws IOException {
        if (length > Pcapng.MAX_PACKET_BYTES) {
            throw new IllegalArgumentException(
                    "a packet holds " + Pcapng.MAX_PACKET_BYTES + " bytes: length=" + length);
        }
        makeRoom(BlockEncoder.packetBytes(length, direction));
        BlockEncoder.putPacket(buffer, interfaceId, wallAnchorNs + timeNs, direction, bytes, offset, length);
        lastTimeNs = Math.max(lastTimeNs, timeNs);
    }

    private void makeRoom(int bytes) throws IOException {
        if (failed) {
            throw new IOException("the recording has failed before");
        }
        if (buffer.remaining() < bytes) {
            flush();
        }
    }

    /** After a failed write: counts the blocks that got whole into the file and cuts off the one that did not. */
    private void keepWholeBlocks() {
        int wholeEnd = PacketTally.countBlocks(buffer, 0, buffer.position(), written);
        int torn = buffer.position() - wholeEnd;
        if (torn == 0) {
            return;
        }
        try {
            file.truncate(fileBytes - torn);
            fileBytes -= torn;
        } catch (IOException e) {
            // The disk is failing already and that is being told; the reader copes with the torn block.
            return;
        }
    }
}
