package io.heldmark.cli;

import picocli.CommandLine.IVersionProvider;

/** The version of the station, from the manifest of its jar. */
final class Version implements IVersionProvider {
    /** Returns the version; {@code development} where the classes are not in a jar. */
    static String text() {
        String version = Version.class.getPackage().getImplementationVersion();
        return version == null ? "development" : version;
    }

    @Override
    public String[] getVersion() {
        return new String[] {"heldmark " + text()};
    }
}
