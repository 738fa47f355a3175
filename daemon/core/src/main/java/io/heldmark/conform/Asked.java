package io.heldmark.conform;

import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import org.jspecify.annotations.Nullable;

/** A command that was sent, and what came of it. */
final class Asked {
    final int opcode;
    final int token;
    final long sentNs;
    final Evidence sent;
    /** When the reply came; -1 before. */
    long repliedNs = -1;

    @Nullable Reply reply;

    @Nullable Evidence replyBytes;
    /** The last describe since it was sent, and whether it came before the reply. */
    @Nullable Describe describe;

    boolean describedFirst;
    /** Whether a status came before the reply. */
    boolean statusFirst;

    Asked(int opcode, int token, long sentNs, Evidence sent) {
        this.opcode = opcode;
        this.token = token;
        this.sentNs = sentNs;
        this.sent = sent;
    }

    boolean isAnswered() {
        return repliedNs >= 0;
    }

    /** Returns whether the reply is this result. */
    boolean gave(int result) {
        return reply != null && reply.result() == result;
    }

    /** Returns the result in words. */
    String resultText() {
        return reply == null ? "no reply" : "result " + reply.result();
    }

    /** Returns the evidence: what was sent, and the reply where there is one. */
    Evidence[] evidence() {
        return replyBytes == null ? new Evidence[] {sent} : new Evidence[] {sent, replyBytes};
    }
}
