package io.heldmark.metric;

/** What {@code docs/metrics.md} says of figures of more than one contraction or test. */
final class SetsText {
    static final String MARKDOWN = """
            ## Of tests, where the user says which were made

            [Compare tests](how-to/compare-tests.md) shows how it is said. Means are of the first three accepted trials of either
            limb; further trials are listed and stay out. A part of the device's uncertainty that is the same in every trial
            stays whole in a mean, one that is drawn anew shrinks with the root of their number (GUM 5.1.2, 5.2.2). Rules
            without a source are the project's, no published source.

            | id | what | uncertainty | not computed |
            |---|---|---|---|
            | `force.peak.mean`, `torque.peak.mean` | Mean of the trials' `force.peak`, `torque.peak`. | As above. | No accepted trial, or one of them has no value. |
            | `asymmetry.log.mean` | Both limbs at once: mean of the efforts' signed `asymmetry.log`. One at a time: log ratio of the same mean of either limb. Magnitudes are never averaged. | As above; cells as in `asymmetry.log`. | Both limbs press on one load path; unequal numbers of trials; nobody said which of them it was. |
            | `asymmetry.log.part` | Of a lowering: 100 · ln(L/R) of the mean forces in each of ten equal parts of the time in which both limbs were at work. | As `asymmetry.log`; of different devices, slope times alignment too. | Samples are missing in the part, or a force is not above 3 of its standard uncertainties. |
            | `ratio.torque` | Agonist's torque over the antagonist's, with a title that says angles, contraction and posture. | Relative parts in squares; the calibration of one and the same cell cancels. The setting of each angle: its uncertainty times the relative slope of the torque over the angle, from tests of the muscle at other angles; without any 1 % per degree (common practice). An imported torque's is as stated. | Angle, hip posture, contraction and speed or the limb's weight are not stated of both; the weight was left in (`none`); a heel push; a kneeling lower; contractions or speeds that differ. |
            | `torque.profile` | Torque at each angle, as measured. | The torque's own, and the steeper slope to a neighbour times the angle's. | Limb, muscle, hip posture, arrangement, contraction or the treatment of the weight differ; one angle twice. |

            """;

    private SetsText() {}
}
