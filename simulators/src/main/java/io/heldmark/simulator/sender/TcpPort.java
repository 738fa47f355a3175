package io.heldmark.simulator.sender;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.StandardSocketOptions;
import java.nio.ByteBuffer;
import java.nio.channels.ClosedSelectorException;
import java.nio.channels.SelectionKey;
import java.nio.channels.Selector;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import org.jspecify.annotations.Nullable;

/**
 * A TCP server on the loopback address, one reader at a time; a second one is turned away. Going down closes the connection and
 * stops listening; coming up listens on the same port again.
 */
public final class TcpPort implements Port {
    private static final int WAIT_MS = 20;

    private final int number;
    private volatile @Nullable Listening listening;
    private volatile @Nullable SocketChannel reader;

    /** What is open while the link is up. */
    private record Listening(ServerSocketChannel server, Selector selector) {}

    /**
     * Listens.
     *
     * @param port port number; 0 for a free one.
     * @throws PortException if the port is in use.
     */
    public TcpPort(int port) {
        Listening opened = listen(port);
        listening = opened;
        number = opened.server().socket().getLocalPort();
    }

    private static Listening listen(int port) {
        try {
            ServerSocketChannel server = ServerSocketChannel.open();
            try {
                server.setOption(StandardSocketOptions.SO_REUSEADDR, true);
                server.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port));
                server.configureBlocking(false);
                Selector selector = Selector.open();
                server.register(selector, SelectionKey.OP_ACCEPT);
                return new Listening(server, selector);
            } catch (IOException e) {
                server.close();
                throw e;
            }
        } catch (IOException e) {
            throw new PortException("cannot listen on port " + port + " of the loopback address: " + e.getMessage()
                    + "; choose another with --link tcp:PORT");
        }
    }

    @Override
    public String address() {
        return "tcp:127.0.0.1:" + number;
    }

    @Override
    public int write(byte[] bytes, int offset, int length) {
        SocketChannel open = reader;
        if (open == null) {
            return 0;
        }
        try {
            return open.write(ByteBuffer.wrap(bytes, offset, length));
        } catch (IOException e) {
            return 0; // The reading thread sees the end of the connection, too, and lets it go.
        }
    }

    @Override
    public int read(byte[] into) {
        Listening open = listening;
        if (open == null) {
            Pace.rest(WAIT_MS);
            return 0;
        }
        try {
            open.selector().select(WAIT_MS);
            if (!open.selector().isOpen()) {
                return 0;
            }
            open.selector().selectedKeys().clear();
            accept(open);
            return receive(into);
        } catch (IOException | ClosedSelectorException e) {
            return 0; // Taken down meanwhile.
        }
    }

    private synchronized void accept(Listening open) throws IOException {
        if (!open.selector().isOpen()) {
            return; // Taken down meanwhile.
        }
        SocketChannel arrived = open.server().accept();
        if (arrived == null) {
            return;
        }
        if (reader != null) {
            arrived.close();
            return;
        }
        arrived.configureBlocking(false);
        arrived.setOption(StandardSocketOptions.TCP_NODELAY, true);
        arrived.register(open.selector(), SelectionKey.OP_READ);
        reader = arrived;
    }

    private int receive(byte[] into) throws IOException {
        SocketChannel open = reader;
        if (open == null) {
            return 0;
        }
        int count;
        try {
            count = open.read(ByteBuffer.wrap(into));
        } catch (IOException e) {
            count = -1; // Reset by the other side: as good as closed.
        }
        if (count < 0) {
            reader = null;
            open.close();
        }
        return Math.max(0, count);
    }

    @Override
    public synchronized void takeDown() {
        Listening open = listening;
        listening = null;
        SocketChannel connected = reader;
        reader = null;
        try {
            // The selector first: until it lets go, the system keeps the channels open and takes whoever comes back at
            // once.
            if (open != null) {
                open.selector().close();
                open.server().close();
            }
            if (connected != null) {
                connected.close();
            }
        } catch (IOException e) {
            throw new PortException("cannot close " + address() + ": " + e.getMessage());
        }
    }

    @Override
    public void bringUp() {
        listening = listen(number);
    }

    @Override
    public void close() {
        takeDown();
    }
}
