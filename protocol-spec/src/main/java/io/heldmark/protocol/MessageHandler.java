package io.heldmark.protocol;

/**
 * Receives decoded messages, one call each, on the thread that feeds the decoder and in the order of the bytes.
 *
 * <p>A {@link SamplesView} is reused and valid during the call only; every other message is an immutable record that
 * may be kept. Both directions are here, so that a station and a sender use the same decoders.
 */
public interface MessageHandler {
    /** Takes a samples message; the view is reused after the call. */
    default void onSamples(SamplesView samples) {}

    /** Takes what a device says of itself. */
    default void onDescribe(Describe describe) {}

    /** Takes a device's health report. */
    default void onStatus(Status status) {}

    /** Takes a command; only senders see these. */
    default void onCommand(Command command) {}

    /** Takes the answer to a command. */
    default void onReply(Reply reply) {}

    /**
     * Takes a ping; only senders see these.
     *
     * @param pingId number chosen by the station, 0 to 65535, returned in the pong.
     */
    default void onPing(int pingId) {}

    /**
     * Takes a pong.
     *
     * @param pingId number of the ping that is answered.
     * @param receivedTick device tick at which the ping arrived, unsigned 32 bit.
     * @param transmittedTick device tick at which this pong was handed to the link, unsigned 32 bit.
     */
    default void onPong(int pingId, long receivedTick, long transmittedTick) {}

    /**
     * Takes a well-formed message of a type that this version does not know; receivers ignore it.
     *
     * @param type message type, 0 to 255; {@link Wire#DESCRIBE} for a describe of another major version; for a text line
     *     of an unknown kind the code of its letter.
     * @param length payload length in bytes; for a text line its length.
     */
    default void onUnknown(int type, int length) {}
}
