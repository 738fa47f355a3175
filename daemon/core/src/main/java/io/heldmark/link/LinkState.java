package io.heldmark.link;

/** Where a link stands. */
public enum LinkState {
    /** Trying to connect for the first time or again. */
    CONNECTING,
    /** Connected. */
    UP,
    /** Was connected and is not; the link tries again. */
    DOWN,
    /** Cannot connect until somebody does something (permission, port in use); the link tries again slowly. */
    FAULT
}
