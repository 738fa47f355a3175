package io.heldmark.cells;

/** A request that cannot be met; the message is one sentence for people. */
public final class Refusal extends RuntimeException {
    private static final long serialVersionUID = 1;

    /** Why. */
    public enum Kind {
        /** What was asked for is not allowed whatever the state. */
        BAD,
        /** There is no such thing. */
        UNKNOWN,
        /** Not in the present state. */
        NOT_NOW,
        /** The station cannot, though it should. */
        FAILED
    }

    private final Kind kind;

    /** Refuses. */
    public Refusal(Kind kind, String sentence) {
        super(sentence);
        this.kind = kind;
    }

    /** Returns why. */
    public Kind kind() {
        return kind;
    }

    static Refusal bad(String sentence) {
        return new Refusal(Kind.BAD, sentence);
    }

    static Refusal notNow(String sentence) {
        return new Refusal(Kind.NOT_NOW, sentence);
    }

    static Refusal failed(String sentence) {
        return new Refusal(Kind.FAILED, sentence);
    }
}
