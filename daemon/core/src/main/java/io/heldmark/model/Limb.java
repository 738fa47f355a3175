package io.heldmark.model;

/** The limb that a channel measures. */
public enum Limb {
    /** The person's left limb. */
    LEFT,
    /** The person's right limb. */
    RIGHT,
    /** No limb, or not said. */
    NONE
}
