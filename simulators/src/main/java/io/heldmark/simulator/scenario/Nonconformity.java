package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonProperty;

/** One rule of the protocol that a cell breaks on purpose, so that a conformance check can be checked. */
public enum Nonconformity {
    /** It keeps them all. */
    @JsonProperty("none")
    NONE,
    /** Every tenth samples message has a wrong check. */
    @JsonProperty("check")
    CHECK,
    /** Text: only every second samples line has a check. */
    @JsonProperty("text-checks")
    TEXT_CHECKS,
    /** Every hundredth samples message is followed by 600 bytes without an end. */
    @JsonProperty("limit")
    LIMIT,
    /** Byte stream: no 0x00 at the start. */
    @JsonProperty("opening")
    OPENING,
    /** Every fiftieth samples message is followed by a status with a charge of 150 %. */
    @JsonProperty("messages")
    MESSAGES,
    /** Every fiftieth samples message is followed by one of a reserved type. */
    @JsonProperty("types")
    TYPES,
    /** Describe says major version 2. */
    @JsonProperty("version")
    VERSION,
    /** Describe is without the device id. */
    @JsonProperty("describe")
    DESCRIBE,
    /** Without commands: describe comes every 30 s. */
    @JsonProperty("describe-repeat")
    DESCRIBE_REPEAT,
    /** Samples are of a channel that describe does not name. */
    @JsonProperty("channel-mask")
    CHANNEL_MASK,
    /** Every fiftieth samples message has a count beyond the bits of the converter. */
    @JsonProperty("count-range")
    COUNT_RANGE,
    /** Every fiftieth number is left out. */
    @JsonProperty("sequence")
    SEQUENCE,
    /** The numbers begin at 0 with every start. */
    @JsonProperty("sequence-runs-on")
    SEQUENCE_RUNS_ON,
    /** Every fiftieth tick lies half a second back. */
    @JsonProperty("tick-forward")
    TICK_FORWARD,
    /** The tick jumps by 5 samples every 3 s. */
    @JsonProperty("tick-steps")
    TICK_STEPS,
    /** The tick runs 5 % slower than describe says. */
    @JsonProperty("tick-rate")
    TICK_RATE,
    /** Samples come 30 % faster than describe says. */
    @JsonProperty("sample-rate")
    SAMPLE_RATE,
    /** A message has 31 samples whatever the rate. */
    @JsonProperty("samples-span")
    SAMPLES_SPAN,
    /** Samples messages are sent five times a second, all at once. */
    @JsonProperty("samples-prompt")
    SAMPLES_PROMPT,
    /** Status comes five times a second. */
    @JsonProperty("status-interval")
    STATUS_INTERVAL,
    /** Status and pong take their tick from another counter. */
    @JsonProperty("one-clock")
    ONE_CLOCK,
    /** Replies take 0.6 s. */
    @JsonProperty("reply-time")
    REPLY_TIME,
    /** Replies have another token. */
    @JsonProperty("reply-match")
    REPLY_MATCH,
    /** The command status is replied to, and no status is sent. */
    @JsonProperty("done")
    DONE,
    /** An unknown opcode is replied to as done. */
    @JsonProperty("unknown-opcode")
    UNKNOWN_OPCODE,
    /** Bad arguments are replied to as done. */
    @JsonProperty("bad-arguments")
    BAD_ARGUMENTS,
    /** It streams from power-up on, though it takes commands. */
    @JsonProperty("waits-for-start")
    WAITS_FOR_START,
    /** Samples come 1.5 s after start. */
    @JsonProperty("start")
    START,
    /** Start where it streams already is replied to with not now. */
    @JsonProperty("start-again")
    START_AGAIN,
    /** Stop is replied to as done, and it streams on. */
    @JsonProperty("stop")
    STOP,
    /** Set rate is replied to as done, and nothing changes. */
    @JsonProperty("set-rate")
    SET_RATE,
    /** The calibration that is read is not that of describe. */
    @JsonProperty("read-calibration")
    READ_CALIBRATION,
    /** Pongs have another number. */
    @JsonProperty("pong")
    PONG,
    /** Pongs take 120 ms. */
    @JsonProperty("pong-time")
    PONG_TIME,
    /** After input that is too long, or over Bluetooth malformed, it hears nothing any more. */
    @JsonProperty("recovery")
    RECOVERY,
    /** Frames rejected stays 0. */
    @JsonProperty("rejected")
    REJECTED
}
