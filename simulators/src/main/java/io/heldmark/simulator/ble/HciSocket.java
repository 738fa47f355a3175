package io.heldmark.simulator.ble;

import io.heldmark.simulator.sender.PortException;
import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.Channels;
import java.nio.channels.SocketChannel;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * A Bluetooth controller behind a local socket that speaks HCI with the packet types of the UART transport (H4), such as that
 * of BlueZ's controller emulator.
 *
 * <p>Source: Bluetooth Core Specification, Vol 4, Part A, 2 and Part E, 5.4, 7 (from memory). One thread reads; any may send.
 */
final class HciSocket implements AutoCloseable {
    private static final int COMMAND_PACKET = 1;
    private static final int ACL_PACKET = 2;
    private static final int EVENT_PACKET = 4;
    private static final int COMMAND_COMPLETE = 0x0E;
    private static final int COMMAND_STATUS = 0x0F;
    /** Answers take milliseconds, but an emulated machine halts for seconds where its host is busy. */
    private static final int ANSWER_S = 30;

    private final SocketChannel channel;
    private final Object sending = new Object();
    private final Object commanding = new Object();
    private final LinkedBlockingQueue<byte[]> completed = new LinkedBlockingQueue<>();

    /** Takes what comes from the controller; called by the reading thread, must not wait for a command. */
    interface Listener {
        /** Takes an event other than the end of a command. */
        void onEvent(int code, byte[] parameters);

        /** Takes a packet of data; {@code flags} are its handle's four highest bits. */
        void onData(int handle, int flags, byte[] data);

        /** The controller has gone. */
        void onEnd();
    }

    /**
     * Connects.
     *
     * @throws PortException if nobody listens there.
     */
    HciSocket(Path socket) {
        try {
            channel = SocketChannel.open(StandardProtocolFamily.UNIX);
            channel.connect(UnixDomainSocketAddress.of(socket));
        } catch (IOException e) {
            throw new PortException("no Bluetooth controller at " + socket + ": " + e.getMessage());
        }
    }

    /** Begins to read. */
    void start(Listener listener) {
        Thread thread = new Thread(
                () -> {
                    try {
                        readAll(listener);
                    } catch (IOException e) {
                        // Closed, by us or by the controller; both end here.
                    } finally {
                        listener.onEnd();
                    }
                },
                "hci-read");
        thread.setDaemon(true);
        thread.start();
    }

    private void readAll(Listener listener) throws IOException {
        DataInputStream in = new DataInputStream(new BufferedInputStream(Channels.newInputStream(channel)));
        while (true) {
            int type = in.readUnsignedByte();
            if (type == EVENT_PACKET) {
                int code = in.readUnsignedByte();
                takeEvent(code, in.readNBytes(in.readUnsignedByte()), listener);
            } else if (type == ACL_PACKET) {
                int handle = Short.toUnsignedInt(Short.reverseBytes(in.readShort()));
                int length = Short.toUnsignedInt(Short.reverseBytes(in.readShort()));
                listener.onData(handle & 0xFFF, handle >> 12, in.readNBytes(length));
            } else {
                throw new IOException("unknown packet type " + type);
            }
        }
    }

    private void takeEvent(int code, byte[] parameters, Listener listener) {
        switch (code) {
            case COMMAND_COMPLETE -> completed.add(Arrays.copyOfRange(parameters, 3, parameters.length));
            case COMMAND_STATUS -> completed.add(new byte[] {parameters[0]});
            default -> listener.onEvent(code, parameters);
        }
    }

    /**
     * Sends a command and waits for its end.
     *
     * @return the return parameters, the status first.
     * @throws IOException if the controller does not answer or refuses.
     */
    byte[] command(int opcode, int... parameters) throws IOException {
        synchronized (commanding) {
            completed.clear();
            send(packet(opcode, parameters));
            try {
                byte[] answer = completed.poll(ANSWER_S, TimeUnit.SECONDS);
                if (answer == null || (answer.length > 0 && answer[0] != 0)) {
                    throw new IOException(String.format("controller refused command 0x%04X", opcode));
                }
                return answer;
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted", e);
            }
        }
    }

    /** Sends commands at once, without looking at how they end. */
    void commandsUnheard(byte[]... packets) throws IOException {
        synchronized (commanding) {
            for (byte[] packet : packets) {
                send(packet);
            }
        }
    }

    /** Returns a command as it goes to the controller. */
    static byte[] packet(int opcode, int... parameters) {
        byte[] packet = new byte[4 + parameters.length];
        packet[0] = COMMAND_PACKET;
        packet[1] = (byte) opcode;
        packet[2] = (byte) (opcode >> 8);
        packet[3] = (byte) parameters.length;
        for (int i = 0; i < parameters.length; i++) {
            packet[4 + i] = (byte) parameters[i];
        }
        return packet;
    }

    /** Sends a piece of data; {@code continues} for all pieces of a message but its first. */
    void data(int handle, boolean continues, byte[] bytes, int offset, int length) throws IOException {
        ByteBuffer packet = ByteBuffer.allocate(5 + length).order(java.nio.ByteOrder.LITTLE_ENDIAN);
        packet.put((byte) ACL_PACKET).putShort((short) (handle | (continues ? 1 << 12 : 0)));
        packet.putShort((short) length).put(bytes, offset, length);
        send(packet.array());
    }

    private void send(byte[] packet) throws IOException {
        synchronized (sending) {
            ByteBuffer buffer = ByteBuffer.wrap(packet);
            while (buffer.hasRemaining()) {
                channel.write(buffer);
            }
        }
    }

    @Override
    public void close() {
        try {
            channel.close();
        } catch (IOException e) {
            // Gone either way.
        }
    }
}
