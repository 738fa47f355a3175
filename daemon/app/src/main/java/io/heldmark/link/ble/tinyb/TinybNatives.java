package io.heldmark.link.ble.tinyb;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Locale;

/** TinyB's two native libraries: taken out of its jar and loaded, in the order in which they need one another. */
final class TinybNatives {
    private static final List<String> LIBRARIES = List.of("libtinyb.so", "libjavatinyb.so");

    private TinybNatives() {}

    /**
     * Loads the natives for this machine.
     *
     * @throws UnavailableException if there are none for it, or they cannot be loaded.
     */
    static void load() throws UnavailableException {
        String folder = folder(System.getProperty("os.arch", ""));
        try {
            Path target = Files.createTempDirectory("heldmark-tinyb");
            target.toFile().deleteOnExit();
            for (String library : LIBRARIES) {
                Path file = target.resolve(library);
                extract("/native/" + folder + "/" + library, file);
                file.toFile().deleteOnExit();
                System.load(file.toString());
            }
        } catch (IOException | UnsatisfiedLinkError e) {
            throw new UnavailableException(
                    Kind.REFUSED, "TinyB cannot be loaded (" + e.getMessage() + "); use provider=bluez");
        }
    }

    private static String folder(String architecture) throws UnavailableException {
        return switch (architecture.toLowerCase(Locale.ROOT)) {
            case "amd64", "x86_64" -> "linux/x86_64";
            case "x86", "i386", "i686" -> "linux/x86_32";
            case "arm" -> "arm/armv6";
            default ->
                throw new UnavailableException(
                        Kind.REFUSED, "TinyB has no natives for " + architecture + "; use provider=bluez");
        };
    }

    private static void extract(String resource, Path file) throws IOException {
        try (InputStream in = TinybNatives.class.getResourceAsStream(resource)) {
            if (in == null) {
                throw new IOException(resource + " is not in the program");
            }
            Files.copy(in, file, StandardCopyOption.REPLACE_EXISTING);
        }
    }
}
