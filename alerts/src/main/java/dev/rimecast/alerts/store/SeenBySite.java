package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.AlertLife.ReturnedUnacknowledged;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/**
 * Whoever asks a site by a link has seen what was open then. What came to the same case before the site said that it has put
 * something right, or got worse, and went afterwards was seen by the site: else its case would stay open for an
 * acknowledgement of something that is over. What came after that answer was not, and what is latched waits for its reset as ever.
 */
final class SeenBySite {
    private static final String SITE = "site";

    private SeenBySite() {}

    /** One of the alerts has returned to normal, and nobody has acknowledged it. */
    static void refresh(Handle handle, Finding finding, ReturnedUnacknowledged over) {
        if (finding.step() != Step.CLEARED) {
            return;
        }
        putRight(handle, finding)
                .ifPresent(said -> AlertChanges.step(
                        handle,
                        StoredAlert.read(handle, finding.id()).orElseThrow(),
                        over.acknowledge(),
                        finding.at(),
                        SITE,
                        "acknowledged",
                        "Put right by the site's link. " + said));
    }

    /** What the site has put right, in its words: by a link of the same case and machine that was open when the alert was over. */
    private static Optional<String> putRight(Handle handle, Finding finding) {
        return handle.createQuery("""
                with recursive led_here(id) as (
                    select case_id from alert where id = :id
                    union select c.id from alert_case c join led_here on c.merged_into = led_here.id)
                select said.about || ': ' || said.words from alert a
                    join site_link link on link.case_id in (select id from led_here) and link.machine = a.machine
                    join site_link_answer said on said.link = link.id
                where a.id = :id and said.puts_right and said.at between a.raised_at and :over and link.ends_at >= :over
                    and link.revoked_at is null
                order by said.at desc, said.step desc limit 1""")
                .bind("id", finding.id())
                .bind("over", finding.at())
                .mapTo(String.class)
                .findOne();
    }
}
