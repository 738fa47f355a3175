package io.heldmark.link;

/** Takes what happens on a link, on the link's reader thread. */
public interface LinkListener {
    /**
     * Takes bytes as one read returned them.
     *
     * @param bytes buffer of the link, reused after the call.
     * @param offset first byte.
     * @param length number of bytes, at least 1.
     * @param arrivalNs station time right after the read returned.
     */
    void onBytes(byte[] bytes, int offset, int length, long arrivalNs);

    /**
     * Takes a change of state.
     *
     * @param state the new state.
     * @param reason plain words for people, empty where all is well.
     * @param atNs station time.
     */
    void onState(LinkState state, String reason, long atNs);
}
