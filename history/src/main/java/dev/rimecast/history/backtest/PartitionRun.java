package dev.rimecast.history.backtest;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/** One partition: what live is the work of one task of the stream. */
final class PartitionRun {
    private static final int CHUNK = 40_000;

    private final Duck duck;
    private final Stretch stretch;
    private final List<LogRun.Trial> trials;
    /** Sorted, as live, so that a tick goes to the sites in the same order. */
    private final TreeMap<String, SiteTrials> sites = new TreeMap<>();

    PartitionRun(Duck duck, Stretch stretch, List<LogRun.Trial> trials) {
        this.duck = duck;
        this.stretch = stretch;
        this.trials = trials;
    }

    List<SiteDecided> run(LogRun.Advance advance) {
        for (long from = stretch.from(); from <= stretch.to(); from += CHUNK) {
            long[] count = {0};
            duck.ask(stretch.sql(from, from + CHUNK), row -> {
                take(row);
                count[0]++;
            });
            advance.by(count[0]);
        }
        List<SiteDecided> decided = new ArrayList<>();
        sites.values().forEach(site -> decided.add(site.decided()));
        return decided;
    }

    private void take(ResultSet row) throws SQLException {
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
