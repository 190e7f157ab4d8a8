package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.reading.Reading;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/** One gateway: which of its numbered packs have been seen, and whether it is heard. */
final class GatewayMonitor {
    private static final long MINUTE_MILLIS = 60_000;
    /** Longer than the slowest machines are read, twice over. */
    private static final long BREAK_TICKS = 10;
    /** What is longer is said in hours. */
    private static final long MINUTES_SAID = 300;

    private final String gateway;
    private final PackLedgers ledgers;
    private final FindingBook book;
    private long heardAtTick;
    /** Since when it has been heard without a break: before that, no machine behind it could be. */
    private long speaksSinceTick;

    private long newestMillis;
    private boolean offline;

    private GatewayMonitor(String gateway, FindingBook book, PackLedgers ledgers) {
        this.gateway = gateway;
        this.book = book;
        this.ledgers = ledgers;
    }

    static GatewayMonitor fresh(String site, String gateway) {
        return new GatewayMonitor(gateway, new FindingBook(Subject.gateway(site, gateway)), new PackLedgers(gateway));
    }

    /** Takes note of a pack; returns whether it is new. */
    boolean heard(SiteRecord.Pack pack, long tick, SiteMonitor.Output out) {
        if (tick - heardAtTick > BREAK_TICKS) {
            speaksSinceTick = tick;
        }
        heardAtTick = tick;
        List<Reading> readings = pack.readings();
        for (int i = 0; i < readings.size(); i++) {
            newestMillis = Math.max(newestMillis, readings.get(i).timeMillis());
        }
        if (!book.isEmpty()) {
            book.clear(Condition.GATEWAY_SILENT, newestMillis, "Gateway " + gateway + " is heard again.", out::finding);
        }
        return pack.number().isEmpty() || ledgers.isNew(pack.number().get(), out::gap);
    }

    /** See {@link PackLedgers#tell}. */
    void tell(Consumer<GatewayAck> sink) {
        ledgers.tell(sink);
    }

    void presence(boolean isOnline) {
        offline = !isOnline;
    }

    /**
     * For how many ticks it has been heard without a break; 0 where it was not heard lately enough for the silence of a machine
     * behind it to mean something.
     */
    long speaksFor(long tick, Policy policy) {
        return tick - heardAtTick < allowed(policy) ? tick - speaksSinceTick : 0;
    }

    private static long allowed(Policy policy) {
        return minutes(policy, PolicyNumber.GATEWAY_SILENT_MINUTES);
    }

    private static long minutes(Policy policy, PolicyNumber number) {
        return Math.round(policy.forGroup(Optional.empty()).get(number));
    }

    void tick(long tick, Policy policy, SiteMonitor.Output out) {
        ledgers.minute(heardAtTick == tick - 1, out::gap);
        long silent = tick - heardAtTick;
        long allowed = allowed(policy);
        if (newestMillis == 0 || silent < allowed) {
            return;
        }
        long serious = Math.max(allowed, minutes(policy, PolicyNumber.GATEWAY_SILENT_SERIOUS_MINUTES));
        if (silent >= serious) {
            report(serious, Stage.STOPPED, Priority.MEDIUM, PolicyNumber.GATEWAY_SILENT_SERIOUS_MINUTES, policy, out);
        } else {
            report(allowed, Stage.AT_LIMIT, Priority.LOW, PolicyNumber.GATEWAY_SILENT_MINUTES, policy, out);
        }
    }

    /**
     * Says so where that is news. Nothing gets less serious while the silence goes on, whatever the policy was or an earlier
     * version has raised. The time is that of the last reading and the minutes after it, so that it does not depend on when the
     * ticks came.
     */
    private void report(
            long minutes, Stage stage, Priority priority, PolicyNumber by, Policy policy, SiteMonitor.Output out) {
        boolean isAlreadySo = book.get(Condition.GATEWAY_SILENT)
                .filter(open -> open.priority().compareTo(priority) <= 0)
                .isPresent();
        if (isAlreadySo) {
            return;
        }
        String text = "Nothing has been heard of gateway " + gateway + " for " + inWords(minutes)
                + (offline ? "; its connection was reported lost." : ".");
        book.report(
                Condition.GATEWAY_SILENT,
                newestMillis + minutes * MINUTE_MILLIS,
                Assessment.of(stage, priority, text, by)
                        .causes(List.of(new ProbableCause(
                                Cause.GATEWAY_LINK_DOWN,
                                offline ? 0.9 : 0.7,
                                List.of("No machine behind the gateway is heard."),
                                List.of()))),
                policy.version(),
                policy.forGroup(Optional.empty()),
                out::finding);
    }

    private static String inWords(long minutes) {
        return minutes > MINUTES_SAID && minutes % 60 == 0 ? minutes / 60 + " hours" : minutes + " minutes";
    }

    void save(StateWriter out) {
        out.text(gateway)
                .whole(heardAtTick)
                .whole(speaksSinceTick)
                .whole(newestMillis)
                .flag(offline);
        book.save(out);
        ledgers.save(out);
    }

    static GatewayMonitor restore(String site, StateReader in, int version) {
        String gateway = in.text();
        long heardAtTick = in.whole();
        long speaksSinceTick = in.whole();
        long newestMillis = in.whole();
        boolean offline = in.flag();
        FindingBook book = FindingBook.restore(Subject.gateway(site, gateway), in);
        GatewayMonitor monitor = new GatewayMonitor(gateway, book, PackLedgers.restore(gateway, in, version));
        monitor.heardAtTick = heardAtTick;
        monitor.speaksSinceTick = speaksSinceTick;
        monitor.newestMillis = newestMillis;
        monitor.offline = offline;
        return monitor;
    }

    String gateway() {
        return gateway;
    }
}
