package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.PackGap;
import dev.rimecast.telemetry.log.PackNumber;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;

/**
 * The ledgers of one gateway, one for each of the last {@value #BOOTS} boots that were heard: after a restart a gateway
 * may still send what it kept from before. Of a boot that is forgotten a pack would be taken again; its readings would
 * still be recognised as late or repeated.
 */
final class PackLedgers {
    static final int BOOTS = 4;
    private static final int FIRST_VERSION_WITH_BOOTS = 4;

    private final String gateway;
    /** The one heard last at the end. */
    private final List<PackLedger> ledgers = new ArrayList<>();
    /** Boots heard since the gateway was last told; kept by nothing, since after a restart all are told again. */
    private final Set<String> toTell = new HashSet<>();

    PackLedgers(String gateway) {
        this.gateway = gateway;
    }

    /** Returns whether the pack is new. */
    boolean isNew(PackNumber number, Consumer<PackGap> gaps) {
        PackLedger ledger = of(number.boot());
        toTell.add(number.boot());
        PackLedger.Taken taken = ledger.take(number.seq());
        taken.passed().ifPresent(passed -> gaps.accept(gap(ledger, passed)));
        return taken.isNew();
    }

    private PackLedger of(String boot) {
        int last = ledgers.size() - 1;
        for (int i = last; i >= 0; i--) {
            PackLedger known = ledgers.get(i);
            if (known.boot().equals(boot)) {
                if (i < last) {
                    ledgers.add(ledgers.remove(i));
                }
                return known;
            }
        }
        if (ledgers.size() == BOOTS) {
            toTell.remove(ledgers.remove(0).boot());
        }
        PackLedger fresh = new PackLedger(boot);
        ledgers.add(fresh);
        return fresh;
    }

    /** A minute has passed; see {@link PackLedger#minute}. */
    void minute(boolean wasHeard, Consumer<PackGap> gaps) {
        for (PackLedger ledger : ledgers) {
            ledger.minute(wasHeard).ifPresent(passed -> {
                toTell.add(ledger.boot());
                gaps.accept(gap(ledger, passed));
            });
        }
    }

    private PackGap gap(PackLedger ledger, PackLedger.Passed passed) {
        return new PackGap(gateway, ledger.boot(), passed.from(), passed.to(), passed.missing());
    }

    /** Hands over how far each boot is stored of which something was heard since the last call, repeats included. */
    void tell(Consumer<GatewayAck> sink) {
        if (toTell.isEmpty()) {
            return;
        }
        for (PackLedger ledger : ledgers) {
            if (toTell.contains(ledger.boot()) && ledger.contiguous() > 0) {
                sink.accept(
                        new GatewayAck(gateway, new PackNumber(ledger.boot(), ledger.contiguous()), ledger.missing()));
            }
        }
        toTell.clear();
    }

    void save(StateWriter out) {
        out.whole(ledgers.size());
        ledgers.forEach(ledger -> ledger.save(out));
    }

    static PackLedgers restore(String gateway, StateReader in, int version) {
        PackLedgers restored = new PackLedgers(gateway);
        if (version < FIRST_VERSION_WITH_BOOTS) {
            Optional.of(PackLedger.restoreOld(in))
                    .filter(old -> !old.boot().isEmpty())
                    .ifPresent(restored.ledgers::add);
        } else {
            for (int count = in.wholeInt(); count > 0; count--) {
                restored.ledgers.add(PackLedger.restore(in));
            }
        }
        restored.ledgers.forEach(ledger -> restored.toTell.add(ledger.boot()));
        return restored;
    }
}
