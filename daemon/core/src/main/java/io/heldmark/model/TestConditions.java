package io.heldmark.model;

/**
 * What the plan or the user says of a trial and the trace cannot tell by itself. Every part may be unknown; immutable.
 *
 * <p>Metrics ask it for what they need (a lever arm, a body mass) and for what they may say (a rate of force development
 * only of an explosive effort against a rigid rig). Numbers are NaN where unknown, choices {@code UNKNOWN}.
 *
 * @param cue how the person was told to push.
 * @param fixation what held the limb against the cell.
 * @param contact what the limb acts on.
 * @param effortType how the muscle worked.
 * @param zeroing posture in which the session zero was taken.
 * @param ownMaximumN the person's own maximum on this test, in newtons.
 * @param targetForceN force that was to be held, in newtons.
 * @param leverArmM distance from the joint's axis to the line of pull, in metres.
 * @param leverArmStandardUncertaintyM its standard uncertainty.
 * @param bodyMassKg the person's mass, in kilograms.
 * @param bodyMassStandardUncertaintyKg its standard uncertainty.
 * @param gravity what is done about the limb's weight.
 * @param gravityTorqueNm torque of the limb's weight about the joint, in newton metres, not negative.
 * @param gravityTorqueStandardUncertaintyNm its standard uncertainty.
 * @param pullAngleLimitDeg the line of pull deviates from the perpendicular by at most this, 0 to 60 degrees.
 * @param angleDeg joint angle of the test, in degrees, measured under load; 0 is straight.
 * @param angleStandardUncertaintyDeg its standard uncertainty.
 * @param holdS how long the force was to be held, in seconds.
 */
public record TestConditions(
        Cue cue,
        Fixation fixation,
        Contact contact,
        EffortType effortType,
        Zeroing zeroing,
        double ownMaximumN,
        double targetForceN,
        double leverArmM,
        double leverArmStandardUncertaintyM,
        double bodyMassKg,
        double bodyMassStandardUncertaintyKg,
        Gravity gravity,
        double gravityTorqueNm,
        double gravityTorqueStandardUncertaintyNm,
        double pullAngleLimitDeg,
        double angleDeg,
        double angleStandardUncertaintyDeg,
        double holdS) {

    /** How the person was told to push. */
    public enum Cue {
        /** Fast and hard. */
        EXPLOSIVE,
        /** Built up over a second or two and held. */
        RAMPED,
        /** Not said. */
        UNKNOWN
    }

    /** What held the limb against the cell. */
    public enum Fixation {
        /** The tester's hand. */
        HAND,
        /** A belt or strap whose stiffness was not checked. */
        BELT,
        /** A rigid rig, or a strap whose stiffness was checked. */
        RIGID,
        /** Not said. */
        UNKNOWN
    }

    /** What the limb acts on. */
    public enum Contact {
        /** A cuff about the limb: hip and knee are told apart. */
        CUFF,
        /** A plate under the heel: moments of hip and knee mix, so there is no torque. */
        HEEL_PLATE,
        /** Not said. */
        UNKNOWN
    }

    /** How the muscle worked. */
    public enum EffortType {
        /** Against something that does not move. */
        ISOMETRIC,
        /** While being lengthened, as in a kneeling lower. */
        ECCENTRIC,
        /** Not said. */
        UNKNOWN
    }

    /** Posture in which the session zero was taken. */
    public enum Zeroing {
        /** Limb in place and relaxed: the zero took its weight away. */
        IN_POSTURE,
        /** Nothing on the cell: the limb's weight is in the force. */
        UNLOADED,
        /** Not said. */
        UNKNOWN
    }

    /** What is done about the limb's weight. */
    public enum Gravity {
        /** The session zero removed it. */
        REMOVED_BY_ZERO,
        /** It pulls against the muscle: its torque is added. */
        ADD,
        /** It helps the muscle: its torque is subtracted. */
        SUBTRACT,
        /** Nothing is done: it stays in the torque. Where it does not act along the pull its torque is 0, to add. */
        NONE,
        /** Not said. */
        UNKNOWN
    }

    /** Nothing is known. */
    public static final TestConditions UNKNOWN = new Builder().build();

    /** Refuses what cannot be; NaN stands for unknown. */
    public TestConditions {
        checkPositive("ownMaximumN", ownMaximumN);
        checkPositive("targetForceN", targetForceN);
        checkPositive("leverArmM", leverArmM);
        checkPositive("bodyMassKg", bodyMassKg);
        checkPositive("holdS", holdS);
        checkNotNegative("leverArmStandardUncertaintyM", leverArmStandardUncertaintyM);
        checkNotNegative("bodyMassStandardUncertaintyKg", bodyMassStandardUncertaintyKg);
        checkNotNegative("gravityTorqueNm", gravityTorqueNm);
        checkNotNegative("gravityTorqueStandardUncertaintyNm", gravityTorqueStandardUncertaintyNm);
        checkNotNegative("angleStandardUncertaintyDeg", angleStandardUncertaintyDeg);
        if (pullAngleLimitDeg < 0 || pullAngleLimitDeg > 60) {
            throw new IllegalArgumentException(
                    "pullAngleLimitDeg must be 0 to 60: pullAngleLimitDeg=" + pullAngleLimitDeg);
        }
        if (Math.abs(angleDeg) > 360) {
            throw new IllegalArgumentException("angleDeg must be -360 to 360: angleDeg=" + angleDeg);
        }
    }

    /** Returns a builder that begins with these conditions. */
    public Builder toBuilder() {
        Builder b = new Builder();
        b.cue = cue;
        b.fixation = fixation;
        b.contact = contact;
        b.effortType = effortType;
        b.zeroing = zeroing;
        b.ownMaximumN = ownMaximumN;
        b.targetForceN = targetForceN;
        b.leverArmM = leverArmM;
        b.leverArmStandardUncertaintyM = leverArmStandardUncertaintyM;
        b.bodyMassKg = bodyMassKg;
        b.bodyMassStandardUncertaintyKg = bodyMassStandardUncertaintyKg;
        b.gravity = gravity;
        b.gravityTorqueNm = gravityTorqueNm;
        b.gravityTorqueStandardUncertaintyNm = gravityTorqueStandardUncertaintyNm;
        b.pullAngleLimitDeg = pullAngleLimitDeg;
        b.angleDeg = angleDeg;
        b.angleStandardUncertaintyDeg = angleStandardUncertaintyDeg;
        b.holdS = holdS;
        return b;
    }

    /** Returns these conditions, and where one is unknown, that of others; what belongs together comes from one of both. */
    public TestConditions orElse(TestConditions others) {
        Builder b = toBuilder();
        b.cue = cue == Cue.UNKNOWN ? others.cue : cue;
        b.fixation = fixation == Fixation.UNKNOWN ? others.fixation : fixation;
        b.contact = contact == Contact.UNKNOWN ? others.contact : contact;
        b.effortType = effortType == EffortType.UNKNOWN ? others.effortType : effortType;
        b.zeroing = zeroing == Zeroing.UNKNOWN ? others.zeroing : zeroing;
        b.ownMaximumN = known(ownMaximumN, others.ownMaximumN);
        b.targetForceN = known(targetForceN, others.targetForceN);
        b.pullAngleLimitDeg = known(pullAngleLimitDeg, others.pullAngleLimitDeg);
        b.holdS = known(holdS, others.holdS);
        if (Double.isNaN(leverArmM)) {
            b.leverArmM(others.leverArmM, others.leverArmStandardUncertaintyM);
        }
        if (Double.isNaN(bodyMassKg)) {
            b.bodyMassKg(others.bodyMassKg, others.bodyMassStandardUncertaintyKg);
        }
        if (Double.isNaN(angleDeg)) {
            b.angleDeg(others.angleDeg, others.angleStandardUncertaintyDeg);
        }
        if (gravity == Gravity.UNKNOWN) {
            b.gravity(others.gravity, others.gravityTorqueNm, others.gravityTorqueStandardUncertaintyNm);
        }
        return b.build();
    }

    private static double known(double value, double other) {
        return Double.isNaN(value) ? other : value;
    }

    private static void checkPositive(String name, double value) {
        if (value <= 0 || value > Double.MAX_VALUE) {
            throw new IllegalArgumentException(name + " must be finite and over 0: " + name + "=" + value);
        }
    }

    private static void checkNotNegative(String name, double value) {
        if (value < 0 || value > Double.MAX_VALUE) {
            throw new IllegalArgumentException(name + " must be finite and not negative: " + name + "=" + value);
        }
    }

    /** Gathers conditions one by one; what is not given stays as it was, at first unknown. */
    public static final class Builder {
        private Cue cue = Cue.UNKNOWN;
        private Fixation fixation = Fixation.UNKNOWN;
        private Contact contact = Contact.UNKNOWN;
        private EffortType effortType = EffortType.UNKNOWN;
        private Zeroing zeroing = Zeroing.UNKNOWN;
        private double ownMaximumN = Double.NaN;
        private double targetForceN = Double.NaN;
        private double leverArmM = Double.NaN;
        private double leverArmStandardUncertaintyM = Double.NaN;
        private double bodyMassKg = Double.NaN;
        private double bodyMassStandardUncertaintyKg = Double.NaN;
        private Gravity gravity = Gravity.UNKNOWN;
        private double gravityTorqueNm = Double.NaN;
        private double gravityTorqueStandardUncertaintyNm = Double.NaN;
        private double pullAngleLimitDeg = Double.NaN;
        private double angleDeg = Double.NaN;
        private double angleStandardUncertaintyDeg = Double.NaN;
        private double holdS = Double.NaN;

        private Builder() {}

        /** Says how the person was told to push. */
        public Builder cue(Cue value) {
            cue = value;
            return this;
        }

        /** Says what held the limb. */
        public Builder fixation(Fixation value) {
            fixation = value;
            return this;
        }

        /** Says what the limb acts on. */
        public Builder contact(Contact value) {
            contact = value;
            return this;
        }

        /** Says how the muscle worked. */
        public Builder effortType(EffortType value) {
            effortType = value;
            return this;
        }

        /** Says in which posture the zero was taken. */
        public Builder zeroing(Zeroing value) {
            zeroing = value;
            return this;
        }

        /** Says the person's own maximum. */
        public Builder ownMaximumN(double value) {
            ownMaximumN = value;
            return this;
        }

        /** Says the force that was to be held. */
        public Builder targetForceN(double value) {
            targetForceN = value;
            return this;
        }

        /** Says the lever arm and its standard uncertainty, NaN where that is unknown. */
        public Builder leverArmM(double value, double standardUncertainty) {
            leverArmM = value;
            leverArmStandardUncertaintyM = standardUncertainty;
            return this;
        }

        /** Says the body mass and its standard uncertainty, NaN where that is unknown. */
        public Builder bodyMassKg(double value, double standardUncertainty) {
            bodyMassKg = value;
            bodyMassStandardUncertaintyKg = standardUncertainty;
            return this;
        }

        /** Says what is done about the limb's weight where no torque is needed for that. */
        public Builder gravity(Gravity value) {
            gravity = value;
            return this;
        }

        /** Says what is done about the limb's weight, its torque and that torque's standard uncertainty. */
        public Builder gravity(Gravity value, double torqueNm, double standardUncertaintyNm) {
            gravity = value;
            gravityTorqueNm = torqueNm;
            gravityTorqueStandardUncertaintyNm = standardUncertaintyNm;
            return this;
        }

        /** Says by how much the line of pull may deviate from the perpendicular. */
        public Builder pullAngleLimitDeg(double value) {
            pullAngleLimitDeg = value;
            return this;
        }

        /** Says the joint angle and its standard uncertainty, NaN where that is unknown. */
        public Builder angleDeg(double value, double standardUncertainty) {
            angleDeg = value;
            angleStandardUncertaintyDeg = standardUncertainty;
            return this;
        }

        /** Says how long the force was to be held. */
        public Builder holdS(double value) {
            holdS = value;
            return this;
        }

        /** Returns the conditions. */
        public TestConditions build() {
            return new TestConditions(
                    cue,
                    fixation,
                    contact,
                    effortType,
                    zeroing,
                    ownMaximumN,
                    targetForceN,
                    leverArmM,
                    leverArmStandardUncertaintyM,
                    bodyMassKg,
                    bodyMassStandardUncertaintyKg,
                    gravity,
                    gravityTorqueNm,
                    gravityTorqueStandardUncertaintyNm,
                    pullAngleLimitDeg,
                    angleDeg,
                    angleStandardUncertaintyDeg,
                    holdS);
        }
    }
}
