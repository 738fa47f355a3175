package io.heldmark.link.tcp;

import io.heldmark.link.stream.Connection;
import io.heldmark.link.stream.Connector;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.net.ConnectException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.net.StandardSocketOptions;

/** Opens one TCP connection, without delay of small segments: a ping that waits is no ping. */
final class TcpConnector implements Connector {
    private static final int CONNECT_WAIT_MS = 3000;
    private static final int READ_WAIT_MS = 200;

    private final String host;
    private final int port;

    /** Makes a connector that has not tried yet. */
    TcpConnector(String host, int port) {
        this.host = host;
        this.port = port;
    }

    @Override
    public Connection connect() throws UnavailableException {
        InetSocketAddress address = new InetSocketAddress(host, port); // Looked up anew at every attempt.
        if (address.isUnresolved()) {
            throw new UnavailableException(Kind.UNREACHABLE, "the name " + host + " is not known; trying again");
        }
        Socket socket = new Socket();
        try {
            socket.setTcpNoDelay(true);
            socket.setOption(StandardSocketOptions.SO_KEEPALIVE, true);
            socket.setSoTimeout(READ_WAIT_MS);
            socket.connect(address, CONNECT_WAIT_MS);
            return new TcpConnection(socket);
        } catch (IOException e) {
            closeQuietly(socket);
            throw new UnavailableException(Kind.UNREACHABLE, why(e) + "; trying again");
        }
    }

    private String why(IOException e) {
        String where = host + " port " + port;
        if (e instanceof ConnectException) {
            return "nothing listens on " + where;
        }
        if (e instanceof SocketTimeoutException) {
            return where + " does not answer";
        }
        return where + " cannot be reached (" + e.getMessage() + ")";
    }

    private static void closeQuietly(Socket socket) {
        try {
            socket.close();
        } catch (IOException e) {
            // It was never open: nothing is lost.
        }
    }
}
