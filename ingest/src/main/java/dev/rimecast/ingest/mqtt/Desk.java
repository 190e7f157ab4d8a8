package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.Message;
import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Optional;
import java.util.function.IntPredicate;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What to do with a PUBLISH: who speaks, about what, and what {@link Intake} says to it.
 *
 * @param register the register now; gateways are only let in when there is one
 */
public record Desk(Intake intake, Supplier<Optional<Register>> register, InstantSource clock) {
    private static final Logger log = LoggerFactory.getLogger(Desk.class);
    /**
     * What was decided.
     *
     * @param decision what the message causes
     * @param code what its receipt says once that is stored
     */
    public record Ruling(Decision decision, ReceiptCode code) {}

    /**
     * Decides on one message.
     *
     * @param number the gateway's own count, as the message has it
     * @param identity who the sender has been so far
     */
    public Ruling rule(String topic, byte[] payload, PackNumbers.Result number, Identity identity) {
        Instant now = clock.instant();
        TopicName name = TopicName.parse(topic);
        if (name instanceof TopicName.Packs packs) {
            if (!identity.isOrBecomes(packs.gateway())) {
                return otherGateway(packs.gateway(), identity, topic, payload, now);
            }
            return pack(new Message(
                    topic, packs.gateway(), packs.format(), payload, number.number(), number.problem(), now));
        }
        if (name instanceof TopicName.Presence presence) {
            return identity.isOrBecomes(presence.gateway())
                    ? new Ruling(
                            intake.presence(topic, presence.gateway(), payload, now, registerNow()), ReceiptCode.TAKEN)
                    : otherGateway(presence.gateway(), identity, topic, payload, now);
        }
        return new Ruling(
                intake.refuse(sender(identity), topic, payload, now, RejectReason.BAD_TOPIC, ""),
                ReceiptCode.UNKNOWN_TOPIC);
    }

    /**
     * A message of the rejects, looked at again with the register and the rules of now. Times in it that are relative stay
     * so to its receipt, and what was of the future then was wrong, whatever has become of it.
     *
     * @param isWanted which records, by their index from 0
     */
    public Decision again(String sender, String topic, byte[] payload, Instant receivedAt, IntPredicate isWanted) {
        TopicName name = TopicName.parse(topic);
        if (name instanceof TopicName.Packs packs && packs.gateway().equals(sender)) {
            Message message =
                    new Message(topic, sender, packs.format(), payload, Optional.empty(), Optional.empty(), receivedAt);
            return intake.again(message, isWanted, registerNow());
        }
        if (name instanceof TopicName.Packs) {
            return intake.refuse(
                    sender,
                    topic,
                    payload,
                    receivedAt,
                    RejectReason.TOPIC_OF_OTHER_GATEWAY,
                    "the connection spoke for " + sender);
        }
        return name instanceof TopicName.Presence
                ? intake.refuse(
                        sender,
                        topic,
                        payload,
                        receivedAt,
                        RejectReason.BAD_PRESENCE,
                        "who was there then tells nothing now")
                : intake.refuse(sender, topic, payload, receivedAt, RejectReason.BAD_TOPIC, "");
    }

    /** The gateway that says by this message that it is there. */
    public static Optional<String> comesOnline(String topic, byte[] payload) {
        return TopicName.parse(topic) instanceof TopicName.Presence presence
                        && new String(payload, StandardCharsets.UTF_8).equals("online")
                ? Optional.of(presence.gateway())
                : Optional.empty();
    }

    /** The gateway that a topic speaks for, if the register has it. */
    public Optional<String> registeredSender(String topic) {
        TopicName name = TopicName.parse(topic);
        Optional<String> gateway = Optional.empty();
        if (name instanceof TopicName.Packs packs) {
            gateway = Optional.of(packs.gateway());
        } else if (name instanceof TopicName.Presence presence) {
            gateway = Optional.of(presence.gateway());
        }
        return gateway.filter(each -> registerNow().siteOfGateway(each).isPresent());
    }

    /**
     * A message beyond what its gateway may bring: kept whole among the rejects, and not looked into.
     *
     * @param number the gateway's own count, as the message has it
     * @param identity who the sender has been so far
     */
    public Decision tooMany(String topic, byte[] payload, PackNumbers.Result number, Identity identity) {
        Instant now = clock.instant();
        TopicName name = TopicName.parse(topic);
        if (name instanceof TopicName.Packs packs && identity.isOrBecomes(packs.gateway())) {
            return intake.tooMany(
                    new Message(
                            topic, packs.gateway(), packs.format(), payload, number.number(), number.problem(), now),
                    registerNow());
        }
        if (name instanceof TopicName.Presence presence && identity.isOrBecomes(presence.gateway())) {
            return intake.refuse(presence.gateway(), topic, payload, now, RejectReason.TOO_MANY_PACKS, "");
        }
        return intake.refuse(sender(identity), topic, payload, now, RejectReason.TOO_MANY_PACKS, "");
    }

    /** A gateway was lost without a word. */
    Decision lost(String gateway) {
        return intake.lost(gateway, clock.instant(), registerNow());
    }

    /** Whether there is a register to decide by. */
    public boolean isOpen() {
        return register.get().isPresent();
    }

    private Ruling pack(Message message) {
        Decision decision;
        try {
            decision = intake.pack(message, registerNow());
        } catch (RuntimeException e) {
            // A mistake of ours must not bring the same message back for ever, with everything behind it.
            log.error(
                    "a pack of gateway {} could not be decided on and is kept among the rejects", message.gateway(), e);
            decision = intake.refuse(
                    message.gateway(),
                    message.topic(),
                    message.payload(),
                    message.receivedAt(),
                    RejectReason.NOT_SENML,
                    "could not be processed: " + e);
            return new Ruling(decision, ReceiptCode.POISON);
        }
        return new Ruling(decision, decision.isPoison() ? ReceiptCode.POISON : ReceiptCode.TAKEN);
    }

    private Ruling otherGateway(String gateway, Identity identity, String topic, byte[] payload, Instant now) {
        String sender = sender(identity);
        if (identity.gateway().isEmpty()) {
            return new Ruling(
                    intake.refuse(
                            sender,
                            topic,
                            payload,
                            now,
                            RejectReason.KEY_NOT_SHOWN,
                            "gateway " + gateway
                                    + " has keys of its own, or had, and none came with this; a broker can't bring one"),
                    ReceiptCode.OTHER_GATEWAY);
        }
        return new Ruling(
                intake.refuse(
                        sender,
                        topic,
                        payload,
                        now,
                        RejectReason.TOPIC_OF_OTHER_GATEWAY,
                        "the connection speaks for " + sender),
                ReceiptCode.OTHER_GATEWAY);
    }

    /** Rejects of a connection that never said which gateway it is are kept under a name that no gateway can have. */
    private static String sender(Identity identity) {
        return identity.gateway().orElse(Ids.NOBODY);
    }

    private Register registerNow() {
        return register.get().orElse(Register.EMPTY);
    }
}
