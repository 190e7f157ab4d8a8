package dev.rimecast.history.backtest;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/** One partition: what live is the work of one task of the stream. */
final class PartitionRun {
    static final int CHUNK = 40_000;
    private static final long SAVE_NANOS = 60_000_000_000L;
    /** What is kept costs at most so much of the time: a pause is as many times as long as the last writing. */
    private static final int PAUSES = 19;

    private final Duck duck;
    private final Stretch stretch;
    private final List<LogRun.Trial> trials;
    private final Resume resume;
    private final int chunk;
    private final Reached reached;

    /** How far it is. */
    static final class Reached {
        long next;
        long taken;
        /** Sorted, as live, so that a tick goes to the sites in the same order. */
        final TreeMap<String, SiteTrials> sites = new TreeMap<>();

        Reached(long next) {
            this.next = next;
        }

        /** @param row offset, site, record */
        void take(ResultSet row, List<LogRun.Trial> trials) throws SQLException {
            SiteRecord record;
            try {
                record = SiteLogCodec.decode(row.getBytes(3));
            } catch (IllegalArgumentException unreadable) {
                // Live it was a dead letter.
                return;
            }
            String site = row.getString(2);
            if (site != null) {
                sites.computeIfAbsent(site, id -> new SiteTrials(id, trials)).accept(record);
            } else if (record instanceof SiteRecord.Tick) {
                sites.values().forEach(each -> each.accept(record));
            }
        }

        void write(DataOutputStream out) throws IOException {
            out.writeLong(next);
            out.writeLong(taken);
            out.writeInt(sites.size());
            for (SiteTrials site : sites.values()) {
                site.write(out);
            }
        }

        static Reached read(DataInputStream in, List<LogRun.Trial> trials) throws IOException {
            Reached reached = new Reached(in.readLong());
            reached.taken = in.readLong();
            for (int count = in.readInt(); count > 0; count--) {
                SiteTrials site = SiteTrials.read(in, trials);
                reached.sites.put(site.site(), site);
            }
            return reached;
        }
    }

    /** @param stretch from where it starts */
    PartitionRun(Duck duck, Stretch stretch, List<LogRun.Trial> trials, Start start, Resume resume, int chunk) {
        this.duck = duck;
        this.stretch = stretch;
        this.trials = trials;
        this.resume = resume;
        this.chunk = chunk;
        this.reached = resume.read(stretch, trials)
                .filter(kept -> kept.next <= stretch.to() + 1)
                .orElseGet(() -> start.reached(duck, stretch, trials));
        start.begun(reached);
    }

    List<SiteDecided> run(LogRun.Advance advance) {
        boolean isNews = reached.next <= stretch.to();
        if (reached.taken > 0) {
            advance.kept(reached.taken);
        }
        long due = System.nanoTime() + SAVE_NANOS;
        while (reached.next <= stretch.to()) {
            long end = Math.min(reached.next + chunk, stretch.to() + 1);
            long[] count = {0};
            duck.ask(stretch.sql(reached.next, end), row -> {
                reached.take(row, trials);
                count[0]++;
            });
            reached.next = end;
            reached.taken += count[0];
            boolean isStopped = true;
            try {
                advance.by(count[0]);
                isStopped = false;
            } finally {
                if (resume.isKept() && (isStopped || System.nanoTime() - due >= 0)) {
                    long begun = System.nanoTime();
                    resume.write(stretch, trials, reached);
                    due = System.nanoTime() + Math.max(SAVE_NANOS, PAUSES * (System.nanoTime() - begun));
                }
            }
        }
        if (isNews) {
            resume.write(stretch, trials, reached);
        }
        List<SiteDecided> decided = new ArrayList<>();
        reached.sites.values().forEach(site -> decided.add(site.decided()));
        return decided;
    }

    /** Whether a text is a policy; live one that is none changes nothing. */
    static boolean isPolicy(SiteRecord.PolicyActivated activated) {
        try {
            Policy.parse(activated.yaml());
            return true;
        } catch (YamlProblems none) {
            return false;
        }
    }
}
