package dev.rimecast.history.backtest;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The policy that was in force at the end of the history: the newest that the log has. One that this version can't read changed nothing
 * live, and is passed over.
 *
 * @param since when it was put into force where it came last
 */
public record InForce(Policy policy, Instant since) {

    /** Empty where the log names none: then it was the product's. */
    public static Optional<InForce> atTheEnd(History history) {
        List<InForce> newest = new ArrayList<>();
        for (Stretch stretch : Stretch.ofNewestLog(history).stream().limit(1).toList()) {
            history.duck()
                    .ask(
                            "select record from records where kind = 'policy' and log = " + Duck.literal(stretch.log())
                                    + " order by arrived_at desc, log_offset desc",
                            row -> {
                                if (newest.isEmpty()
                                        && Start.decoded(row, 1) instanceof SiteRecord.PolicyActivated activated
                                        && PartitionRun.isPolicy(activated)) {
                                    newest.add(new InForce(Policy.parse(activated.yaml()), activated.at()));
                                }
                            });
        }
        return newest.stream().findFirst();
    }
}
