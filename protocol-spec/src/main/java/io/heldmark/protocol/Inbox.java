package io.heldmark.protocol;

/** Where every decoder delivers its well-formed messages: counts them, drops duplicates and late ones, hands on. */
final class Inbox {
    final DecoderCounters counters;
    private final MessageHandler handler;
    private final SequenceTracker sequence;

    Inbox(MessageHandler handler, DecoderCounters counters) {
        this.handler = handler;
        this.counters = counters;
        this.sequence = new SequenceTracker(counters);
    }

    void reset() {
        sequence.reset();
    }

    void samples(SamplesView samples) {
        if (sequence.take(samples.sequence(), samples.tick())) {
            counters.messages++;
            counters.sampleFrames++;
            handler.onSamples(samples);
        }
    }

    void describe(Describe describe) {
        sequence.onDescribe();
        counters.messages++;
        handler.onDescribe(describe);
    }

    void status(Status status) {
        counters.messages++;
        handler.onStatus(status);
    }

    void command(Command command) {
        counters.messages++;
        handler.onCommand(command);
    }

    void reply(Reply reply) {
        counters.messages++;
        handler.onReply(reply);
    }

    void ping(int pingId) {
        counters.messages++;
        handler.onPing(pingId);
    }

    void pong(int pingId, long receivedTick, long transmittedTick) {
        counters.messages++;
        handler.onPong(pingId, receivedTick, transmittedTick);
    }

    void unknown(int type, int length) {
        counters.messages++;
        counters.unknownMessages++;
        handler.onUnknown(type, length);
    }
}
