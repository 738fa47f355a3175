package io.heldmark.cli;

import io.heldmark.link.LinkAddress;
import io.heldmark.model.Limb;
import io.heldmark.pipeline.LinkSetup;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Option;

/** The options that name the links of a station. */
final class LinkArguments {
    @Option(
            names = "--link",
            paramLabel = "LINK",
            description = "A link without a limb: serial:/dev/ttyUSB0?baud=115200&binding=auto or tcp:HOST:PORT.")
    private List<String> plain = new ArrayList<>();

    @Option(names = "--left", paramLabel = "LINK[#CHANNEL]", description = "The link of the left limb.")
    private List<String> left = new ArrayList<>();

    @Option(names = "--right", paramLabel = "LINK[#CHANNEL]", description = "The link of the right limb.")
    private List<String> right = new ArrayList<>();

    /**
     * Returns the links in the order left, right, others.
     *
     * @throws io.heldmark.config.ConfigException if one is not a link address.
     */
    List<LinkSetup> setups() {
        return setups(left, right, plain);
    }

    /** Returns the setups of these addresses. */
    static List<LinkSetup> setups(List<String> left, List<String> right, List<String> plain) {
        List<LinkSetup.Wanted> wanted = new ArrayList<>();
        left.forEach(text -> wanted.add(new LinkSetup.Wanted(LinkAddress.parse(text), Limb.LEFT)));
        right.forEach(text -> wanted.add(new LinkSetup.Wanted(LinkAddress.parse(text), Limb.RIGHT)));
        plain.forEach(text -> wanted.add(new LinkSetup.Wanted(LinkAddress.parse(text), Limb.NONE)));
        return LinkSetup.of(wanted);
    }
}
