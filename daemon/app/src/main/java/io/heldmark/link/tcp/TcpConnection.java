package io.heldmark.link.tcp;

import io.heldmark.link.stream.Connection;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.net.SocketTimeoutException;

/** One open TCP connection. */
final class TcpConnection implements Connection {
    private final Socket socket;
    private final InputStream in;
    private final OutputStream out;

    /** Takes over a connected socket with a read time-out. */
    TcpConnection(Socket socket) throws IOException {
        this.socket = socket;
        this.in = socket.getInputStream();
        this.out = socket.getOutputStream();
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        try {
            return in.read(buffer);
        } catch (SocketTimeoutException e) {
            return 0;
        } catch (IOException e) {
            throw new IOException("the connection broke (" + e.getMessage() + ")", e);
        }
    }

    @Override
    public void write(byte[] bytes) throws IOException {
        out.write(bytes);
    }

    @Override
    public void close() {
        try {
            socket.close();
        } catch (IOException e) {
            // Closing is all that was wanted.
        }
    }
}
