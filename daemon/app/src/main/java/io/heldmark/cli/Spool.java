package io.heldmark.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.Reader;
import java.io.StringReader;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Text that is kept until it is known whether it may be printed: in memory at first, in a file of the system's temporary
 * folder when it grows, so that memory does not.
 */
final class Spool implements AutoCloseable {
    private static final int IN_MEMORY_CHARACTERS = 1 << 20;

    private final StringBuilder memory = new StringBuilder();
    private @Nullable Path file;
    private @Nullable Writer writer;
    private boolean empty = true;

    /** Adds text. */
    void add(String text) throws IOException {
        empty &= text.isEmpty();
        memory.append(text);
        if (memory.length() > IN_MEMORY_CHARACTERS) {
            spill().append(memory);
            memory.setLength(0);
        }
    }

    /** Adds an item of a list: a separator stands between items. */
    void addItem(String separator, String text) throws IOException {
        add(empty ? text : separator + text);
    }

    boolean isEmpty() {
        return empty;
    }

    /** Writes everything. */
    void copyTo(Writer out) throws IOException {
        try (Reader all = reader()) {
            all.transferTo(out);
        }
    }

    /** Returns everything to be read from its beginning; nothing may be added before the reader is closed. */
    Reader reader() throws IOException {
        Reader rest = new StringReader(memory.toString());
        if (writer == null || file == null) {
            return rest;
        }
        writer.flush();
        Reader first = Files.newBufferedReader(file);
        return new Reader() {
            @Override
            public int read(char[] into, int from, int length) throws IOException {
                int read = first.read(into, from, length);
                return read >= 0 ? read : rest.read(into, from, length);
            }

            @Override
            public void close() throws IOException {
                first.close();
            }
        };
    }

    @Override
    public void close() throws IOException {
        if (writer != null && file != null) {
            writer.close();
            Files.deleteIfExists(file);
        }
    }

    private Writer spill() throws IOException {
        Writer to = writer;
        if (to == null) {
            Path path = Files.createTempFile("heldmark-", ".part");
            path.toFile().deleteOnExit();
            to = new BufferedWriter(Files.newBufferedWriter(path, StandardCharsets.UTF_8));
            file = path;
            writer = to;
        }
        return to;
    }
}
