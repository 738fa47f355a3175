package io.heldmark.cli;

import io.heldmark.config.ConfigException;
import io.heldmark.record.RecordingException;
import io.heldmark.simulator.cli.SimulateCommand;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.net.BindException;
import java.nio.charset.StandardCharsets;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ParseResult;

/**
 * The program {@code heldmark}.
 *
 * <p>Exit codes: 0 done; 1 the input or the data is bad, with one line on the standard error that says what, where and what
 * to do; 2 wrong usage; 3 a fault of the program, with its trace.
 */
@Command(
        name = "heldmark",
        description = "Open, device-neutral station for testing human muscle strength.",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        synopsisSubcommandLabel = "COMMAND",
        subcommands = {
            ServeCommand.class,
            DemoCommand.class,
            SimulateCommand.class,
            RecordCommand.class,
            ReplayCommand.class,
            PortsCommand.class,
            DecodeCommand.class,
            ConformCommand.class,
            CalibrateCommand.class,
            AnalyseCommand.class,
            RecordingsCommand.class,
        })
public final class Main {
    /** Exit code where the input or the data is bad. */
    static final int BAD_INPUT = 1;
    /** Exit code of a fault of the program. */
    static final int FAULT = 3;

    private Main() {}

    /** Runs the program and ends the process. */
    public static void main(String[] args) {
        PrintWriter out = new PrintWriter(new OutputStreamWriter(System.out, StandardCharsets.UTF_8), false);
        PrintWriter err = new PrintWriter(new OutputStreamWriter(System.err, StandardCharsets.UTF_8), true);
        int code = run(args, out, err);
        out.flush();
        System.exit(code);
    }

    /**
     * Runs the program.
     *
     * @param args the command line.
     * @param out takes results.
     * @param err takes everything else.
     * @return the exit code.
     */
    static int run(String[] args, PrintWriter out, PrintWriter err) {
        CommandLine line = commandLine()
                .setOut(out)
                .setErr(err)
                .setUsageHelpWidth(100)
                .setExecutionExceptionHandler(Main::explain);
        if (args.length == 0) {
            line.usage(err);
            return CommandLine.ExitCode.USAGE;
        }
        return line.execute(args);
    }

    /** Returns the commands and what they say of themselves. */
    static CommandLine commandLine() {
        return new CommandLine(new Main());
    }

    private static int explain(Exception e, CommandLine command, ParseResult parsed) {
        boolean bad = e instanceof ConfigException
                || e instanceof BadInputException
                || e instanceof RecordingException
                || e instanceof BindException;
        if (bad) {
            command.getErr().println("heldmark: " + e.getMessage());
            return BAD_INPUT;
        }
        command.getErr().println("heldmark: internal fault, please report it with the lines below");
        e.printStackTrace(command.getErr());
        return FAULT;
    }
}
