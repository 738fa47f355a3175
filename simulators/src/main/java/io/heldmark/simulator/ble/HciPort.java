package io.heldmark.simulator.ble;

import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.sender.PortException;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * A cell as a Bluetooth LE peripheral that drives a controller by itself, as firmware does: it advertises, takes one
 * connection, serves the Attribute Protocol and notifies. Neither a Bluetooth stack nor the kernel is between.
 *
 * <p>Everything that is sent goes through one thread, in order; what finds no room in its queue is lost.
 *
 * <p>Source of the codes: Bluetooth Core Specification, Vol 4, Part E, 7 and Vol 3, Part A, 4 (from memory).
 */
public final class HciPort extends GattPort implements HciSocket.Listener {
    private static final int RESET = 0x0C03;
    private static final int SET_EVENT_MASK = 0x0C01;
    private static final int WRITE_LE_HOST_SUPPORT = 0x0C6D;
    private static final int READ_BUFFER_SIZE = 0x1005;
    private static final int READ_ADDRESS = 0x1009;
    private static final int DISCONNECT = 0x0406;
    private static final int LE_SET_EVENT_MASK = 0x2001;
    private static final int LE_READ_BUFFER_SIZE = 0x2002;
    private static final int LE_SET_ADVERTISING_PARAMETERS = 0x2006;
    private static final int LE_SET_ADVERTISING_DATA = 0x2008;
    private static final int LE_SET_SCAN_RESPONSE = 0x2009;
    private static final int LE_ENABLE_ADVERTISING = 0x200A;

    private static final int DISCONNECTION_COMPLETE = 0x05;
    private static final int COMPLETED_PACKETS = 0x13;
    private static final int LE_META = 0x3E;

    private static final int CID_ATT = 4;
    private static final int CID_SIGNALLING = 5;
    private static final int CID_SECURITY = 6;

    private static final int OWN_MTU = 247;
    /** About five seconds at 200 a second, more than firmware has: an emulated machine halts for seconds where its host is busy. */
    private static final int QUEUED_MOST = 1024;
    /** What a cell has sent before it is switched off arrives, also where an emulated controller is slow to take it. */
    private static final int DRAIN_S = 20;

    private static final int ADVERTISE_AGAIN_MS = 100;
    private static final int NOBODY = -1;

    private final HciSocket socket;
    private final AttributeTable table;
    private final AttServer server;
    private final String name;
    private final String address;
    private final int pieceBytes;
    private final int pieces;
    private final ExecutorService sender;
    private final AtomicInteger queued = new AtomicInteger();
    private final ByteArrayOutputStream incoming = new ByteArrayOutputStream();
    private volatile Semaphore credits = new Semaphore(0);
    private volatile int handle = NOBODY;
    private volatile boolean inRange = true;
    private volatile boolean advertising;
    private volatile boolean closed;

    /**
     * Takes a controller and advertises.
     *
     * @param controller local socket of the controller.
     * @param cell what the cell is.
     * @throws PortException if the controller cannot be used.
     */
    public HciPort(Path controller, CellSpec cell) {
        super(cell);
        name = cell.name();
        table = new AttributeTable(new ShownCell(cell, this::describe, this::batteryPercent));
        server = new AttServer(table, OWN_MTU, this::takeCommand, this::takeEnd);
        socket = new HciSocket(controller);
        sender = Executors.newSingleThreadExecutor(task -> daemon(task, "hci-send-" + name));
        socket.start(this);
        try {
            byte[] buffers = begin();
            boolean shared = u16(buffers, 1) == 0; // Then LE uses the buffers of the other radio.
            byte[] common = shared ? socket.command(READ_BUFFER_SIZE) : buffers;
            pieceBytes = u16(common, 1);
            pieces = shared ? u16(common, 4) : common[3] & 0xFF;
            byte[] own = socket.command(READ_ADDRESS);
            address = String.format("%02X:%02X:%02X:%02X:%02X:%02X", own[6], own[5], own[4], own[3], own[2], own[1]);
            advertise();
        } catch (IOException e) {
            socket.close();
            throw new PortException("the Bluetooth controller cannot be used: " + e.getMessage());
        }
        daemon(this::advertiseAgain, "hci-advertise-" + name).start();
    }

    private static Thread daemon(Runnable task, String name) {
        Thread thread = new Thread(task, name);
        thread.setDaemon(true);
        return thread;
    }

    private byte[] begin() throws IOException {
        socket.command(RESET);
        socket.command(SET_EVENT_MASK, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0x3F);
        socket.command(LE_SET_EVENT_MASK, 0x1F, 0, 0, 0, 0, 0, 0, 0);
        socket.command(WRITE_LE_HOST_SUPPORT, 1, 0);
        return socket.command(LE_READ_BUFFER_SIZE);
    }

    private void advertise() throws IOException {
        // Every 30 to 50 ms (units of 0.625 ms), connectable, on all three channels.
        socket.command(LE_SET_ADVERTISING_PARAMETERS, 0x30, 0, 0x50, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 7, 0);
        ByteArrayOutputStream data = new ByteArrayOutputStream();
        data.writeBytes(new byte[] {2, 0x01, 0x06}); // Flags: general discovery, LE only.
        data.writeBytes(new byte[] {17, 0x07}); // All 128-bit services:
        data.writeBytes(AttributeTable.uuid(GattNames.SERVICE));
        socket.command(LE_SET_ADVERTISING_DATA, padded(data.toByteArray()));
        byte[] text = AttributeTable.text(name);
        ByteArrayOutputStream more = new ByteArrayOutputStream();
        more.write(text.length + 1);
        more.write(0x09); // Complete name.
        more.writeBytes(text);
        socket.command(LE_SET_SCAN_RESPONSE, padded(more.toByteArray()));
        socket.command(LE_ENABLE_ADVERTISING, 1);
        advertising = true;
    }

    /** The length, and the data filled up to 31 bytes. */
    private static int[] padded(byte[] data) {
        int[] all = new int[32];
        all[0] = data.length;
        for (int i = 0; i < Math.min(31, data.length); i++) {
            all[1 + i] = data[i];
        }
        return all;
    }

    /** An emulated controller reports once for each enabling; a radio does for each packet. */
    private void advertiseAgain() {
        byte[] off = HciSocket.packet(LE_ENABLE_ADVERTISING, 0);
        byte[] on = HciSocket.packet(LE_ENABLE_ADVERTISING, 1);
        try {
            while (!closed) {
                Thread.sleep(ADVERTISE_AGAIN_MS);
                if (advertising && handle == NOBODY) {
                    socket.commandsUnheard(off, on);
                }
            }
        } catch (InterruptedException | IOException e) {
            advertising = false;
        }
    }

    @Override
    public void onEvent(int code, byte[] parameters) {
        if (code == COMPLETED_PACKETS) {
            int handles = parameters[0] & 0xFF;
            for (int i = 0; i < handles; i++) {
                credits.release(u16(parameters, 1 + 2 * handles + 2 * i));
            }
        } else if (code == DISCONNECTION_COMPLETE) {
            handle = NOBODY;
            server.reset();
            takeEnd();
            if (inRange) {
                submit(this::advertise);
            }
        } else if (code == LE_META && isConnected(parameters)) {
            advertising = false;
            server.reset();
            credits = new Semaphore(pieces);
            handle = u16(parameters, 2) & 0xFFF;
        }
    }

    /** Connection complete, or its enhanced form, with success. */
    private static boolean isConnected(byte[] parameters) {
        return (parameters[0] == 0x01 || parameters[0] == 0x0A) && parameters[1] == 0;
    }

    @Override
    public void onData(int from, int flags, byte[] data) {
        if ((flags & 3) != 1) {
            incoming.reset();
        }
        incoming.writeBytes(data);
        byte[] all = incoming.toByteArray();
        if (all.length < 4 || all.length < 4 + u16(all, 0)) {
            return;
        }
        incoming.reset();
        int channel = u16(all, 2);
        byte[] message = Arrays.copyOfRange(all, 4, 4 + u16(all, 0));
        byte[] answer = answer(channel, message);
        if (answer != null) {
            submit(() -> message(channel, answer));
        }
    }

    private byte @org.jspecify.annotations.Nullable [] answer(int channel, byte[] message) {
        if (channel == CID_ATT) {
            return server.answer(message);
        }
        if (channel == CID_SIGNALLING && message.length > 1 && message[0] != 1) {
            return new byte[] {1, message[1], 2, 0, 0, 0}; // Rejected: command not understood.
        }
        if (channel == CID_SECURITY) {
            return new byte[] {5, 5}; // Pairing failed: not supported.
        }
        return null;
    }

    @Override
    public void onEnd() {
        handle = NOBODY;
        advertising = false;
    }

    @Override
    boolean tell(byte characteristic, byte[] value) {
        int at = characteristic == GattNames.STREAM_BYTE ? table.stream() : table.reply();
        byte[] notification = server.notification(at, value);
        if (notification == null || handle == NOBODY || queued.get() >= QUEUED_MOST) {
            return false;
        }
        queued.incrementAndGet();
        submit(() -> {
            queued.decrementAndGet();
            message(CID_ATT, notification);
        });
        return true;
    }

    /** Work of the sending thread. */
    private interface Sending {
        void run() throws IOException, InterruptedException;
    }

    private void submit(Sending work) {
        if (closed) {
            return;
        }
        sender.execute(() -> {
            try {
                work.run();
            } catch (IOException e) {
                handle = NOBODY; // The controller is gone.
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        });
    }

    /** Sends a message in pieces, each when the controller has room for it. */
    private void message(int channel, byte[] content) throws IOException, InterruptedException {
        byte[] all = new byte[4 + content.length];
        all[0] = (byte) content.length;
        all[1] = (byte) (content.length >> 8);
        all[2] = (byte) channel;
        System.arraycopy(content, 0, all, 4, content.length);
        for (int at = 0; at < all.length; at += pieceBytes) {
            Semaphore room = credits;
            while (!room.tryAcquire(20, TimeUnit.MILLISECONDS)) {
                if (handle == NOBODY) {
                    return;
                }
            }
            int to = handle;
            if (to == NOBODY) {
                return;
            }
            socket.data(to, at > 0, all, at, Math.min(pieceBytes, all.length - at));
        }
    }

    @Override
    public boolean hasReader() {
        return server.isStreamWanted();
    }

    @Override
    public String address() {
        return "ble:" + address;
    }

    @Override
    public void takeDown() {
        inRange = false;
        advertising = false;
        int connected = handle;
        submit(() -> {
            socket.commandsUnheard(HciSocket.packet(LE_ENABLE_ADVERTISING, 0));
            if (connected != NOBODY) {
                // Power off: what the other side sees when a cell is switched off.
                socket.commandsUnheard(HciSocket.packet(DISCONNECT, connected, connected >> 8, 0x15));
            }
        });
    }

    @Override
    public void bringUp() {
        inRange = true;
        if (handle == NOBODY) {
            submit(this::advertise);
        }
    }

    /** Switches off as {@link #takeDown} does: a controller that merely vanishes leaves the other side waiting. */
    @Override
    public void close() {
        if (closed) {
            return;
        }
        takeDown();
        closed = true;
        sender.shutdown();
        try {
            sender.awaitTermination(DRAIN_S, TimeUnit.SECONDS);
            for (int i = 0; i < 50 && handle != NOBODY; i++) {
                Thread.sleep(20);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        sender.shutdownNow();
        socket.close();
    }

    private static int u16(byte[] bytes, int at) {
        return (bytes[at] & 0xFF) | (bytes[at + 1] & 0xFF) << 8;
    }
}
