package io.heldmark.simulator.device;

import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.CalibrationBytes;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Nonconformity;
import java.util.function.DoublePredicate;
import org.jspecify.annotations.Nullable;

/**
 * How a device answers what the station sends: commands after {@value #COMMAND_S} s, pings after about
 * {@value #PING_S} s, both well inside the bounds of the protocol (common practice, no published source).
 */
public final class Answers implements MessageHandler {
    private static final double COMMAND_S = 0.001;
    private static final double PING_S = 0.0003;
    private static final byte[] NONE = new byte[0];

    private final CellSpec cell;
    private final Device device;
    private final DoublePredicate lost;
    private final SeededRandom random;
    private final StreamDecoder decoder;
    private double nowS;
    private double replyS;
    private long rejected;

    /**
     * Makes it.
     *
     * @param cell what the device is.
     * @param device the device.
     * @param lost asked for each message with its time in seconds: whether it is lost on its way.
     * @param random its stream.
     */
    public Answers(CellSpec cell, Device device, DoublePredicate lost, SeededRandom random) {
        this.cell = cell;
        this.device = device;
        this.lost = lost;
        this.random = random;
        decoder = switch (cell.binding()) {
            case BYTES -> new ByteStreamDecoder(this);
            case TEXT -> new TextDecoder(this);
            case GATT -> new GattDecoder(this);
        };
    }

    /**
     * Takes bytes from the station.
     *
     * @param bytes buffer.
     * @param offset first byte.
     * @param length number of bytes.
     * @param atS true time at which the last of them is at the device, in seconds.
     */
    public void receive(byte[] bytes, int offset, int length, double atS) {
        if (!cell.answersCommands() || !device.isOn(atS) || isDeaf()) {
            return;
        }
        nowS = atS;
        decoder.accept(bytes, offset, length);
        DecoderCounters c = decoder.counters();
        long unusable = c.crcFailures + c.malformed + c.oversized + c.unknownMessages;
        device.countRejected(unusable - rejected);
        rejected = unusable;
    }

    private boolean breaks(Nonconformity rule) {
        return cell.nonconforming() == rule;
    }

    /** A device that does not recover hears nothing more once something was too long, or a value malformed. */
    private boolean isDeaf() {
        DecoderCounters c = decoder.counters();
        boolean gatt = cell.binding() == CellSpec.Binding.GATT;
        return breaks(Nonconformity.RECOVERY) && (gatt ? c.malformed : c.oversized) > 0;
    }

    @Override
    public void onPing(int pingId) {
        if (!cell.respondsToPings() || lost.test(nowS)) {
            return;
        }
        double holdS = breaks(Nonconformity.PONG_TIME) ? 0.12 : PING_S;
        double sentS = nowS + holdS + random.nextExponential(PING_S / 3);
        int id = breaks(Nonconformity.PONG) ? pingId ^ 1 : pingId;
        if (device.isOn(sentS)) {
            device.outbox().pong(id, device.answerTick(nowS), device.answerTick(sentS), sentS);
        }
    }

    @Override
    public void onCommand(Command command) {
        if (lost.test(nowS)) {
            return;
        }
        double atS = nowS + COMMAND_S;
        replyS = atS;
        byte[] arguments = command.arguments();
        switch (command.opcode()) {
            case Command.DESCRIBE -> {
                device.sendDescribe(atS);
                reply(command, Reply.OK, NONE);
            }
            case Command.START -> start(command, atS);
            case Command.STOP -> {
                device.stopStream();
                reply(command, Reply.OK, NONE);
            }
            case Command.SET_RATE -> reply(command, setRate(arguments, atS), NONE);
            case Command.IDENTIFY -> reply(command, arguments.length == 1 ? Reply.OK : Reply.BAD_ARGUMENTS, NONE);
            case Command.READ_CALIBRATION -> readCalibration(command);
            case Command.WRITE_CALIBRATION -> reply(command, writeCalibration(arguments, atS), NONE);
            case Command.STATUS -> {
                if (!breaks(Nonconformity.DONE)) {
                    device.sendStatus(atS);
                }
                reply(command, Reply.OK, NONE);
            }
            default -> reply(command, breaks(Nonconformity.UNKNOWN_OPCODE) ? Reply.OK : Reply.UNKNOWN_OPCODE, NONE);
        }
    }

    private void start(Command command, double atS) {
        if (device.isStreaming() && breaks(Nonconformity.START_AGAIN)) {
            reply(command, Reply.NOT_NOW, NONE);
            return;
        }
        device.startStream(breaks(Nonconformity.START) ? atS + 1.5 : atS);
        reply(command, Reply.OK, NONE);
    }

    private int setRate(byte[] arguments, double atS) {
        if (cell.supportedRatesHz().isEmpty()) {
            return Reply.NOT_SUPPORTED;
        }
        if (arguments.length != 4) {
            return Reply.BAD_ARGUMENTS;
        }
        long milliHz = 0;
        for (int i = 3; i >= 0; i--) {
            milliHz = milliHz << 8 | (arguments[i] & 0xFF);
        }
        for (double rateHz : cell.supportedRatesHz()) {
            if (Math.round(rateHz * 1000) == milliHz) {
                if (breaks(Nonconformity.SET_RATE)) {
                    return Reply.OK;
                }
                // Describe and reply come after the last samples at the old rate.
                replyS = device.setRate(rateHz, atS);
                device.sendDescribe(replyS);
                return Reply.OK;
            }
        }
        return Reply.BAD_ARGUMENTS;
    }

    private void readCalibration(Command command) {
        byte[] arguments = command.arguments();
        if (arguments.length != 1 || (arguments[0] & 0xFF) >= cell.channels().size()) {
            reply(command, Reply.BAD_ARGUMENTS, NONE);
            return;
        }
        FactoryCalibration calibration = device.identity().calibration(arguments[0]);
        if (calibration == null) {
            reply(command, Reply.NOT_SUPPORTED, NONE);
        } else {
            byte[] data = new CalibrationBytes(arguments[0], calibration).toBytes();
            data[1] ^= (byte) (breaks(Nonconformity.READ_CALIBRATION) ? 1 : 0);
            reply(command, Reply.OK, data);
        }
    }

    private int writeCalibration(byte[] arguments, double atS) {
        @Nullable CalibrationBytes read = CalibrationBytes.read(arguments, 0, arguments.length);
        if (read == null || arguments.length != 17 || !device.identity().write(read.channel(), read.calibration())) {
            return Reply.BAD_ARGUMENTS;
        }
        device.sendDescribe(atS);
        return Reply.OK;
    }

    private void reply(Command command, int result, byte[] data) {
        if (result != Reply.OK) {
            device.countRejected(1);
        }
        int told = result == Reply.BAD_ARGUMENTS && breaks(Nonconformity.BAD_ARGUMENTS) ? Reply.OK : result;
        int token = command.token() ^ (breaks(Nonconformity.REPLY_MATCH) ? 0x80 : 0);
        double atS = breaks(Nonconformity.REPLY_TIME) ? nowS + 0.6 : replyS;
        device.outbox().reply(new Reply(command.opcode(), token, told, data), atS);
    }
}
