package io.heldmark.model;

/** What a reader must know about an effort of both limbs, as a stable word and as a sentence for people. */
public enum EffortFlag {
    /** The left limb let go first. */
    EARLY_RELEASE_LEFT("early-release-left", "The left limb let go well before the right."),
    /** The right limb let go first. */
    EARLY_RELEASE_RIGHT("early-release-right", "The right limb let go well before the left."),
    /** The lag says nothing. */
    ALIGNMENT_UNCERTAIN(
            "alignment-uncertain",
            "The clocks of the two cells are not aligned well enough to tell which limb began first."),
    /** The cells were never compared. */
    CELLS_NOT_COMPARED(
            "cells-not-compared",
            "The two cells have not been compared with the same mass, or swapped: a part of the asymmetry may be theirs.");

    private final String id;
    private final String text;

    EffortFlag(String id, String text) {
        this.id = id;
        this.text = text;
    }

    /** Returns the stable word. */
    public String id() {
        return id;
    }

    /** Returns the sentence for people. */
    public String text() {
        return text;
    }

    /** Returns the sentence that belongs to a stable word, or the word itself where it is not known. */
    public static String textOf(String id) {
        for (EffortFlag flag : values()) {
            if (flag.id.equals(id)) {
                return flag.text;
            }
        }
        return id;
    }
}
