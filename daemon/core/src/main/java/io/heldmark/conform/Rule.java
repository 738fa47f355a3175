package io.heldmark.conform;

/**
 * A rule of {@code protocol-spec/gaugeline-v1.md} that a run can put to the test. Tolerances that are not the
 * specification's stand in {@code docs/how-to/check-a-sender.md} with their reasons.
 */
public enum Rule {
    /** The check of a frame or line. */
    CHECK("check", "Byte-stream binding; Text binding", "the check of every frame or line is right", Need.CHECKED),
    /** All lines with checks, or none. */
    TEXT_CHECKS("text-checks", "Text binding", "either all lines have a check or none has", Need.TEXT),
    /** Length. */
    LIMIT("limit", "Limits", "no frame is longer than 512 bytes, no line than 200", Need.STREAM_OF_BYTES),
    /** The zero at the start. */
    OPENING("opening", "Byte-stream binding", "one 0x00 comes first when the sender starts", Need.POWER_UP),
    /** Fields. */
    MESSAGES("messages", "Messages", "every message has the fields of its table, within their ranges", Need.NOTHING),
    /** Types. */
    TYPES("types", "Messages", "no reserved type and no message of the station's direction is sent", Need.NOTHING),
    /** Major version. */
    VERSION("version", "Versions and extensions", "the major version is 1", Need.NOTHING),
    /** Describe. */
    DESCRIBE("describe", "describe (0x01)", "describe is whole, with one identity that never changes", Need.NOTHING),
    /** Describe by itself. */
    DESCRIBE_REPEAT(
            "describe-repeat",
            "Timing",
            "a device without commands repeats describe every 1 to 10 s",
            Need.NO_COMMANDS),
    /** Tick of 10 kHz. */
    TICK_RESOLUTION("tick-resolution", "describe (0x01)", "the tick runs at 10 kHz or faster (advice)", Need.NOTHING),
    /** Channels. */
    CHANNEL_MASK("channel-mask", "samples (0x02)", "samples are of channels that describe names", Need.SAMPLES),
    /** Range of counts. */
    COUNT_RANGE("count-range", "describe (0x01)", "counts lie in the range of the converter's bits", Need.SAMPLES),
    /** Numbering. */
    SEQUENCE("sequence", "Sequence", "messages are numbered one by one, each sent once and in order", Need.SAMPLES),
    /** Numbering over a stop. */
    SEQUENCE_RUNS_ON("sequence-runs-on", "Sequence", "the numbers run on through stop and start", Need.COMMANDS),
    /** Tick forward. */
    TICK_FORWARD("tick-forward", "Conventions", "the tick only moves forward", Need.SAMPLES),
    /** Even spacing. */
    TICK_STEPS(
            "tick-steps",
            "samples (0x02)",
            "from message to message the tick moves by the samples between; a hole is marked",
            Need.SAMPLES),
    /** Tick rate. */
    TICK_RATE("tick-rate", "Conventions", "the tick runs at the rate that describe states, within 1 %", Need.SAMPLES),
    /** Sample rate. */
    SAMPLE_RATE(
            "sample-rate",
            "describe (0x01)",
            "samples come at the rate that describe states, within 10 %",
            Need.SAMPLES),
    /** Length of a message in time. */
    SAMPLES_SPAN("samples-span", "Timing", "no samples message spans more than 50 ms", Need.SAMPLES),
    /** Prompt. */
    SAMPLES_PROMPT(
            "samples-prompt", "Timing", "a samples message is sent within 50 ms of its last sample", Need.SAMPLES),
    /** Status. */
    STATUS_INTERVAL("status-interval", "Timing", "status comes unasked every 1 to 10 s, not more often", Need.NOTHING),
    /** One counter. */
    ONE_CLOCK("one-clock", "Timing", "samples, status and pong take the tick from one counter", Need.SAMPLES),
    /** Reply in time. */
    REPLY_TIME("reply-time", "Timing", "a command is answered within 200 ms", Need.COMMANDS),
    /** Reply to what. */
    REPLY_MATCH("reply-match", "reply (0x04)", "a command gets one reply, with its opcode and token", Need.COMMANDS),
    /** Done. */
    DONE(
            "done",
            "command (0x41)",
            "what a reply calls done has been done: describe and status come first",
            Need.COMMANDS),
    /** Unknown opcode. */
    UNKNOWN_OPCODE("unknown-opcode", "reply (0x04)", "an unknown opcode is answered with result 1", Need.COMMANDS),
    /** Bad arguments. */
    BAD_ARGUMENTS("bad-arguments", "reply (0x04)", "bad arguments are answered with result 2", Need.COMMANDS),
    /** Waits for start. */
    WAITS_FOR_START("waits-for-start", "A device's states", "a device with commands waits for start", Need.POWER_UP),
    /** Start. */
    START("start", "Timing", "samples come within 500 ms of start", Need.COMMANDS),
    /** Start again. */
    START_AGAIN("start-again", "command (0x41)", "start where it streams already is done", Need.COMMANDS),
    /** Stop. */
    STOP("stop", "command (0x41)", "no samples come after stop", Need.COMMANDS),
    /** Set rate. */
    SET_RATE(
            "set-rate",
            "A device's states",
            "set rate changes the rate; describe with the new one comes before the reply",
            Need.SET_RATE),
    /** Calibration. */
    READ_CALIBRATION(
            "read-calibration",
            "command (0x41)",
            "read calibration returns what describe says, or result 4 where there is none",
            Need.READ_CALIBRATION),
    /** Pong. */
    PONG("pong", "pong (0x05)", "every ping is answered once, with its number, 25 a second", Need.PINGS),
    /** Pong in time. */
    PONG_TIME("pong-time", "Timing", "a pong is sent within 50 ms of its ping, by its own ticks", Need.PINGS),
    /** After noise. */
    RECOVERY(
            "recovery",
            "What receivers do with the unusable",
            "unusable input is not obeyed, and the next command is answered",
            Need.COMMANDS),
    /** Rejected. */
    REJECTED("rejected", "status (0x03)", "unusable input is counted in frames rejected", Need.COMMANDS),
    /** Headroom. */
    HEADROOM("headroom", "How fast", "at most 80 % of the line's rate is used (advice)", Need.BAUD);

    /** What a run needs to put a rule to the test. */
    enum Need {
        NOTHING("nothing of the kind came"),
        CHECKED("no message with a check came"),
        TEXT("the link does not speak text"),
        STREAM_OF_BYTES("values of Bluetooth links have no length of their own to check"),
        POWER_UP("the device was on already; switch it on, or press reset, while the check begins"),
        SAMPLES("too few samples came"),
        NO_COMMANDS("the device takes commands"),
        COMMANDS("the device takes no commands, or did not come so far"),
        SET_RATE("the device has no other rate to set"),
        READ_CALIBRATION("the device does not say that its calibration can be read"),
        PINGS("the device does not say that it answers pings"),
        BAUD("the link has no baud rate, or too few samples came");

        final String otherwise;

        Need(String otherwise) {
            this.otherwise = otherwise;
        }
    }

    private final String id;
    private final String section;
    private final String text;
    private final Need need;

    Rule(String id, String section, String text, Need need) {
        this.id = id;
        this.section = section;
        this.text = text;
        this.need = need;
    }

    /** Returns its name in reports; stable. */
    public String id() {
        return id;
    }

    /** Returns the section of the specification that holds it. */
    public String section() {
        return section;
    }

    /** Returns what it asks for. */
    public String text() {
        return text;
    }

    /** Returns why a run may not have put it to the test. */
    String otherwise() {
        return need.otherwise;
    }
}
