package io.heldmark.model;

/**
 * What a person says of the trials from now on, for both limbs and for each of them.
 *
 * @param both what holds for every channel.
 * @param left what holds for channels of the left limb and goes before it.
 * @param right the same for the right limb.
 */
public record SaidConditions(TestConditions both, TestConditions left, TestConditions right) {
    /** Nothing is said. */
    public static final SaidConditions NONE =
            new SaidConditions(TestConditions.UNKNOWN, TestConditions.UNKNOWN, TestConditions.UNKNOWN);

    /** Returns what is said of the trials of a limb. */
    public TestConditions of(Limb limb) {
        return switch (limb) {
            case LEFT -> left.orElse(both);
            case RIGHT -> right.orElse(both);
            case NONE -> both;
        };
    }
}
