package io.heldmark.protocol;

/** Range checks of what encoders are given. */
final class Checks {
    private Checks() {}

    static void range(String name, long value, long min, long max) {
        if (value >= min && value <= max) {
            return;
        }
        throw new IllegalArgumentException(name + "=" + value + " is outside " + min + " to " + max);
    }

    static void samples(int sequence, long tick, int status, int channelMask, int sampleCount) {
        range("sequence", sequence, 0, Wire.U16_MAX);
        range("tick", tick, 0, Wire.U32_MAX);
        range("status", status, 0, 7);
        range("channelMask", channelMask, 1, Wire.U8_MAX);
        range("sampleCount", sampleCount, 1, Wire.MAX_SAMPLES);
    }

    static void describe(Describe describe) {
        String problem = DescribeRules.problem(describe);
        if (problem != null) {
            throw new IllegalArgumentException("describe is not allowed: " + problem);
        }
    }

    static void pong(int pingId, long receivedTick, long transmittedTick) {
        range("pingId", pingId, 0, Wire.U16_MAX);
        range("receivedTick", receivedTick, 0, Wire.U32_MAX);
        range("transmittedTick", transmittedTick, 0, Wire.U32_MAX);
    }

    static void command(Command command, int maxArguments) {
        range("opcode", command.opcode(), 0, Wire.U8_MAX);
        range("token", command.token(), 0, Wire.U8_MAX);
        range("arguments.length", command.arguments().length, 0, maxArguments);
    }

    static void reply(Reply reply, int maxData) {
        range("opcode", reply.opcode(), 0, Wire.U8_MAX);
        range("token", reply.token(), 0, Wire.U8_MAX);
        range("result", reply.result(), 0, Wire.U8_MAX);
        range("data.length", reply.data().length, 0, maxData);
    }

    static void status(Status status) {
        range("tick", status.tick(), 0, Wire.U32_MAX);
        range("batteryPercent", status.batteryPercent().orElse(0), 0, 100);
        range("temperatureTenthsC", tenthsC(status), -Short.MAX_VALUE, Short.MAX_VALUE);
        range("adcFaultCount", status.adcFaultCount(), 0, Wire.U16_MAX);
        range("lostSampleCount", status.lostSampleCount(), 0, Wire.U32_MAX);
        range("rejectedFrameCount", status.rejectedFrameCount(), 0, Wire.U16_MAX);
    }

    /** Returns the temperature in tenths of a degree Celsius, 0 where unknown; NaN gives a value out of range. */
    static long tenthsC(Status status) {
        double temperatureC = status.temperatureC().orElse(0);
        return Double.isNaN(temperatureC) ? Long.MIN_VALUE : Math.round(temperatureC * 10);
    }
}
