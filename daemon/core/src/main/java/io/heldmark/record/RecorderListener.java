package io.heldmark.record;

/** Takes changes of a recorder's state, on the recorder's own thread; must not block for long. */
@FunctionalInterface
public interface RecorderListener {
    /**
     * Takes the status when the state changes (on, failed, closed) and when items begin to be lost.
     *
     * @param status the status now.
     */
    void onStatus(RecorderStatus status);
}
