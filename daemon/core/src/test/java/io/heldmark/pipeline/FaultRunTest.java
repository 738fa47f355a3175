package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Counter;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.CellTruth;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * A minute with every fault of the plan at once, judged against the simulators' truth, in virtual time: the scenario's own
 * seed and some more; {@code -Dheldmark.faultSeeds=100} takes as many. The same judgement of the whole program in real time is
 * {@code daemon/benchmarks/fault-run}.
 */
class FaultRunTest {
    private static final double UNTIL_S = 60;

    @Test
    void shouldCountEveryLossAndFindEveryContractionOutsideTheDamage() {
        int seeds = Integer.getInteger("heldmark.faultSeeds", 4);
        List<String> misses = new ArrayList<>();
        int clean = 0;
        for (int seed = 0; seed < seeds; seed++) {
            Scenario scenario = Scenario.bundled("faults");
            clean += run(seed == 0 ? scenario : scenario.withSeed(seed), misses);
        }
        assertEquals(List.of(), misses);
        assertTrue(clean >= 4 * seeds, "whole contractions: " + clean);
    }

    private static int run(Scenario scenario, List<String> misses) {
        FaultListener found = new FaultListener();
        VirtualSession session = new VirtualSession(scenario, found, null);
        session.run(UNTIL_S);
        String prefix = "seed " + scenario.seed() + ", ";
        FaultJudge judge = new FaultJudge();
        for (ChannelInfo channel : found.channels) {
            int cell = Integer.parseInt(channel.link().replaceAll("\\D", ""));
            CellTruth truth = session.cells.get(cell).truth();
            judge.judge(truth, channel, found.finals, UNTIL_S);
            List<String> account =
                    FaultAccount.misses(truth, found.health.get(channel.link()), session.beforeDescribe(cell));
            account.forEach(m -> misses.add(prefix + m));
            if (!"taken".equals(found.zeros.get(channel.channel()))) {
                misses.add(prefix + "no zero: " + found.zeros);
            }
        }
        judge.misses().forEach(m -> misses.add(prefix + m));
        System.out.println("seed " + scenario.seed() + ": " + judge);
        if (session.counters.get(Counter.PROCESSING_FAULTS) + session.counters.get(Counter.LISTENER_FAULTS) != 0) {
            misses.add(prefix + "the station stumbled");
        }
        return judge.clean();
    }
}
