package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntPredicate;

/**
 * Decides what becomes of a message, by the contract: what goes into the site's log, what waits as unclaimed, what is
 * rejected and why. One bad record does not spoil a pack. Every numbered pack leaves a record in its site's log, even
 * where nothing in it was good, so that the acknowledgement of what follows never waits for it; that of a gateway in no
 * register leaves it among the unclaimed.
 *
 * <p>Conservation, per message and per reason: see {@link Tally}. Knows no transport, reads no clock, keeps nothing.
 */
public final class Intake {
    /** Of the contract. */
    public static final int MAX_PAYLOAD_BYTES = 256 * 1024;
    /** Of the contract. */
    public static final int MAX_RECORDS = 500;

    private final PackDecoder decoder;

    public Intake(PackDecoder decoder) {
        this.decoder = decoder;
    }

    /** A pack of readings. */
    public Decision pack(Message message, Register register) {
        if (message.payload().length > MAX_PAYLOAD_BYTES) {
            return poison(
                    message,
                    register,
                    Reject.whole(
                            RejectReason.TOO_LARGE,
                            message.payload().length + " bytes; at most " + MAX_PAYLOAD_BYTES + " are taken"));
        }
        PackDecoder.Decoded decoded;
        try {
            decoded = decoder.decode(message.format(), message.payload(), message.receivedAt());
        } catch (PackDecoder.NotAPackException e) {
            return poison(message, register, Reject.whole(e.reason(), e.detail()));
        }
        if (decoded.records() > MAX_RECORDS) {
            return poison(
                    message,
                    register,
                    Reject.whole(
                            RejectReason.TOO_MANY_RECORDS,
                            decoded.records() + " records; at most " + MAX_RECORDS + " are taken"));
        }
        return sort(message, register, decoded, every -> true);
    }

    /** A pack of a gateway that sends far too many: not looked into, and kept whole, so that it can be taken again. */
    public Decision tooMany(Message message, Register register) {
        return poison(message, register, Reject.whole(RejectReason.TOO_MANY_PACKS, ""));
    }

    /**
     * Records of a message that were rejected, looked at again after a mend. They were counted when they came, so the packs
     * that come of them say of no record that it was rejected; the message's number is not theirs.
     *
     * @param message without its number, received when it was
     * @param isWanted which records, by their index from 0; the others stay as they were
     */
    public Decision again(Message message, IntPredicate isWanted, Register register) {
        PackDecoder.Decoded decoded;
        try {
            decoded = decoder.decode(message.format(), message.payload(), message.receivedAt());
        } catch (PackDecoder.NotAPackException e) {
            return rejectedAgain(message, Reject.whole(e.reason(), e.detail()));
        }
        if (message.payload().length > MAX_PAYLOAD_BYTES) {
            return rejectedAgain(message, Reject.whole(RejectReason.TOO_LARGE, message.payload().length + " bytes"));
        }
        if (decoded.records() > MAX_RECORDS) {
            return rejectedAgain(message, Reject.whole(RejectReason.TOO_MANY_RECORDS, decoded.records() + " records"));
        }
        Decision decision = sort(message, register, decoded, isWanted);
        List<Write> writes =
                decision.writes().stream().map(Intake::withoutRejected).toList();
        return new Decision(writes, decision.tally(), false, 0);
    }

    private Decision rejectedAgain(Message message, Reject reject) {
        return refuse(
                message.gateway(),
                message.topic(),
                message.payload(),
                message.receivedAt(),
                reject.reason(),
                reject.detail());
    }

    private static Write withoutRejected(Write write) {
        return write instanceof Write.ToSite site && site.entry() instanceof SiteRecord.Pack pack
                ? new Write.ToSite(
                        site.site(),
                        new SiteRecord.Pack(pack.gateway(), pack.number(), pack.receivedAt(), pack.readings(), 0))
                : write;
    }

    /** A gateway says that it is there, or that it leaves. */
    public Decision presence(String topic, String gateway, byte[] payload, Instant at, Register register) {
        return switch (new String(payload, StandardCharsets.UTF_8)) {
            case "online" -> presence(gateway, true, at, register);
            case "offline" -> presence(gateway, false, at, register);
            // Clearing a retained message: there is none to clear.
            case "" -> new Decision(List.of(), Tally.NONE, false, 0);
            default -> refuse(gateway, topic, payload, at, RejectReason.BAD_PRESENCE, "neither 'online' nor 'offline'");
        };
    }

    /** A gateway was lost without a word: what its will says. */
    public Decision lost(String gateway, Instant at, Register register) {
        return presence(gateway, false, at, register);
    }

    /**
     * A message that is not for us, or not from whom it says.
     *
     * @param sender the gateway, or what is known of the sender
     */
    public Decision refuse(
            String sender, String topic, byte[] payload, Instant at, RejectReason reason, String detail) {
        List<Reject> rejects = List.of(Reject.whole(reason, detail));
        return new Decision(
                List.of(new Write.ToRejects(sender, topic, payload, at, rejects)),
                Tally.of(1, 0, 0, rejects),
                false,
                0);
    }

    private static Decision presence(String gateway, boolean isOnline, Instant at, Register register) {
        // A gateway in no register has no site that could miss it.
        List<Write> writes = register.siteOfGateway(gateway)
                .<Write>map(site -> new Write.ToSite(site, new SiteRecord.Presence(at, gateway, isOnline)))
                .map(List::of)
                .orElse(List.of());
        return new Decision(writes, Tally.NONE, false, 0);
    }

    private static Decision poison(Message message, Register register, Reject reject) {
        Sorted nothing = new Sorted();
        nothing.rejects.add(reject);
        return decide(message, register, nothing, 1, true, 0);
    }

    /** Readings of one message, by what becomes of them. */
    private static final class Sorted {
        final List<Reading> good = new ArrayList<>();
        final List<Reading> unclaimed = new ArrayList<>();
        final List<Reject> rejects = new ArrayList<>();
    }

    private static Decision sort(
            Message message, Register register, PackDecoder.Decoded decoded, IntPredicate isWanted) {
        Sorted sorted = new Sorted();
        for (Reject reject : decoded.rejects()) {
            if (reject.recordIndex().isEmpty()
                    || isWanted.test(reject.recordIndex().getAsInt())) {
                sorted.rejects.add(reject);
            }
        }
        Plausibility plausibility = new Plausibility(message.receivedAt());
        Optional<Machine> machine = Optional.empty();
        String id = "";
        int wanted = sorted.rejects.size();
        for (int place = 0; place < decoded.readings().size(); place++) {
            int index = decoded.recordIndex(place);
            if (!isWanted.test(index)) {
                continue;
            }
            wanted++;
            Reading reading = decoded.readings().get(place);
            if (!reading.machine().equals(id)) {
                id = reading.machine();
                machine = register.machine(id);
            }
            Optional<Reject> reject =
                    machine.isPresent() && !machine.get().gateway().equals(message.gateway())
                            ? Optional.of(Reject.record(RejectReason.MACHINE_OF_OTHER_GATEWAY, index, id))
                            : plausibility.check(index, reading);
            if (reject.isPresent()) {
                sorted.rejects.add(reject.get());
            } else if (machine.isPresent()) {
                sorted.good.add(reading);
            } else {
                sorted.unclaimed.add(reading);
            }
        }
        return decide(message, register, sorted, wanted, false, decoded.lenientUnits());
    }

    private static Decision decide(
            Message message, Register register, Sorted sorted, int received, boolean isPoison, int lenientUnits) {
        int rejected = sorted.rejects.size();
        Tally tally = Tally.of(received, sorted.good.size(), sorted.unclaimed.size(), sorted.rejects);
        message.badNumber().ifPresent(problem -> sorted.rejects.add(Reject.whole(RejectReason.BAD_NUMBER, problem)));

        List<Write> writes = new ArrayList<>();
        boolean isNumbered = message.number().isPresent();
        Optional<String> site = register.siteOfGateway(message.gateway());
        if (site.isPresent() && (isNumbered || !sorted.good.isEmpty())) {
            SiteRecord.Pack pack = packOf(message, sorted.good, rejected);
            for (SiteRecord.Pack part : PackSplitter.split(pack, PackSplitter.MAX_RECORD_BYTES)) {
                writes.add(new Write.ToSite(site.get(), part));
            }
        }
        if (!sorted.unclaimed.isEmpty() || (isNumbered && site.isEmpty())) {
            SiteRecord.Pack pack = packOf(message, sorted.unclaimed, site.isEmpty() ? rejected : 0);
            for (SiteRecord.Pack part : PackSplitter.split(pack, PackSplitter.MAX_RECORD_BYTES)) {
                writes.add(new Write.ToUnclaimed(message.gateway(), part));
            }
        }
        if (!sorted.rejects.isEmpty()) {
            writes.add(new Write.ToRejects(
                    message.gateway(), message.topic(), message.payload(), message.receivedAt(), sorted.rejects));
        }
        return new Decision(writes, tally, isPoison, lenientUnits);
    }

    private static SiteRecord.Pack packOf(Message message, List<Reading> readings, int rejected) {
        return new SiteRecord.Pack(message.gateway(), message.number(), message.receivedAt(), readings, rejected);
    }
}
