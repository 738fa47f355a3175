package io.heldmark.cli;

import java.io.IOException;
import java.io.Reader;
import java.io.Writer;
import java.util.HashMap;
import java.util.Map;

/**
 * Items of a list as text, in the order in which they came first, each once: what comes later under the same id takes the
 * place of what came before.
 *
 * <p><b>Memory.</b> Does not grow with the items ({@link Spool}), but for those that came again: the newest text of each is kept,
 * about 10 kB. Only people bring an item back, by moving its boundaries, one at a time.
 *
 * <p><b>Cost.</b> Where nothing came again the text is copied as it lies; else a second spool says where each item begins.
 */
final class ItemSpool implements AutoCloseable {
    private final String separator;
    private final Spool texts = new Spool();
    private final Spool index = new Spool(); // One line an item: its id and the length of its text.
    private final Map<Long, String> again = new HashMap<>();

    /** Makes a list without items; a separator is written between two of them. */
    ItemSpool(String separator) {
        this.separator = separator;
    }

    /** Adds an item that has not come before. */
    void add(long id, String text) throws IOException {
        texts.addItem(separator, text);
        index.add(id + " " + text.length() + "\n");
    }

    /** Puts text in the place of what came before under the same id. */
    void replace(long id, String text) {
        again.put(id, text);
    }

    boolean isEmpty() {
        return texts.isEmpty();
    }

    /** Writes everything. */
    void copyTo(Writer out) throws IOException {
        if (again.isEmpty()) {
            texts.copyTo(out);
            return;
        }
        try (Reader items = texts.reader();
                Reader lines = index.reader()) {
            String between = "";
            for (long id = number(lines, ' '); id >= 0; id = number(lines, ' ')) {
                long length = number(lines, '\n');
                pass(items, between.length(), Writer.nullWriter());
                String newest = again.get(id);
                out.append(between);
                pass(items, length, newest == null ? out : Writer.nullWriter());
                out.append(newest == null ? "" : newest);
                between = separator;
            }
        }
    }

    private static void pass(Reader from, long characters, Writer to) throws IOException {
        char[] buffer = new char[(int) Math.min(8192, Math.max(1, characters))];
        for (long left = characters; left > 0; ) {
            int read = from.read(buffer, 0, (int) Math.min(buffer.length, left));
            if (read < 0) {
                throw new IOException("the temporary file ends within an item");
            }
            to.write(buffer, 0, read);
            left -= read;
        }
    }

    /** Reads a whole number up to a mark; -1 at the end. */
    private static long number(Reader from, char mark) throws IOException {
        long value = -1;
        for (int c = from.read(); c >= 0 && c != mark; c = from.read()) {
            value = Math.max(0, value) * 10 + (c - '0');
        }
        return value;
    }

    @Override
    public void close() throws IOException {
        texts.close();
        index.close();
    }
}
