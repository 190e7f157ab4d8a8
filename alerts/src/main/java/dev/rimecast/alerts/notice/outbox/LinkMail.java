package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.notice.text.LinkText;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.store.SiteLinkStore;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.telemetry.finding.NameBasedId;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jdbi.v3.core.Handle;

/**
 * The link of a site by mail, through the outbox of the notices: planned in the transaction in which the link is made, sent
 * at least once with one id. The secret is in no table and no log: each attempt makes its own, keeps its hash beside those of
 * the attempts before, and forgets it. So whichever mail arrives opens the link.
 */
public final class LinkMail {
    /** An address within the free text of {@code contact} in {@code sites.csv}. */
    private static final Pattern ADDRESS = Pattern.compile("[\\w.+-]+@[\\w-]+(\\.[\\w-]+)+");

    private static final String RECEIVER = "site:";

    private final NoticeBook book;

    public LinkMail(NoticeBook book) {
        this.book = book;
    }

    /** Where mail to a site goes; empty where its contact has no address, or {@code notices.yaml} no server for mail. */
    public Optional<String> addressOf(Site site) {
        return book.mail().isEmpty()
                ? Optional.empty()
                : site.contact().map(ADDRESS::matcher).filter(Matcher::find).map(Matcher::group);
    }

    /** Puts the mail on its way, in the transaction that made the link. */
    public void plan(Handle handle, Row link, Site site, String address) {
        UUID id = NameBasedId.of("notice|link|" + link.id());
        Content content = LinkText.of(book.link(), link.machine(), site, link.madeBy(), link.madeAt(), link.endsAt());
        handle.createUpdate("""
                insert into notice_delivery (id, site, kind, route, receiver, channel, target, created_at, due_at, next_at,
                    state, content, site_link)
                values (:id, :site, 'link', '', :receiver, 'mail', :target, :now, :now, :now, 'waiting',
                    cast(:content as jsonb), :link)""")
                .bind("id", id)
                .bind("site", site.id())
                .bind("receiver", RECEIVER + site.id())
                .bind("target", address)
                .bind("now", link.madeAt())
                .bind("content", content.toJson())
                .bind("link", link.id())
                .execute();
        ClaimStore.log(handle, id, link.madeAt(), link.madeBy(), "link asked for", "");
    }

    /** What leaves now, with a secret of its own; empty where the link opens nothing any more. */
    static Optional<Content> withSecret(Handle handle, UUID link, Content content, Instant now) {
        boolean isOpen = SiteLinkStore.find(handle, link)
                .filter(row -> row.revokedBy().isEmpty() && now.isBefore(row.endsAt()))
                .isPresent();
        if (!isOpen) {
            return Optional.empty();
        }
        String secret = Secret.make();
        SiteLinkStore.addSecret(handle, link, Secret.hash(secret), now);
        return Optional.of(content.at(content.link() + '#' + secret));
    }
}
