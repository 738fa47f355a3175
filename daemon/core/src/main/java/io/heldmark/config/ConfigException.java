package io.heldmark.config;

/** A setting that the station refuses; the message names key, value and allowed range in one line. */
public final class ConfigException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** Makes the refusal from key, value and what is allowed. */
    public ConfigException(String key, Object value, String allowed) {
        super(key + "=" + value + " is not allowed: " + allowed);
    }

    /** Makes the refusal from a whole line. */
    public ConfigException(String message) {
        super(message);
    }
}
