package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.inquiry.StoredInquiries;
import dev.rimecast.alerts.notice.Books;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.SiteLinkStore;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.store.StoredActions;
import dev.rimecast.alerts.view.Inquiries.LinkOutcome;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A site's link on its way by mail: each copy that arrives opens it, and nothing that is kept does. */
@TestInstance(Lifecycle.PER_CLASS)
class LinkMailIT {
    private static final String TO = "bar@site-a.example";

    @AutoClose
    private OutboxBench bench;

    @BeforeAll
    void start() {
        bench = new OutboxBench(Books.desk());
    }

    @BeforeEach
    void empty() {
        bench.begin(Instant.parse("2026-11-25T12:00:00Z"));
    }

    private Row asked() {
        Finding raised = bench.world().raise("site-a", "ice-0", Condition.LONG_FREEZE, Priority.LOW);
        UUID caseId = bench.views().alert(raised.id()).orElseThrow().caseId().orElseThrow();
        Row link = new Row(
                UUID.randomUUID(),
                caseId,
                "site-a",
                "ice-0",
                "ada",
                bench.now(),
                bench.now().plus(Duration.ofHours(48)),
                Optional.empty(),
                Optional.empty(),
                Optional.of(TO));
        bench.database().jdbi().useTransaction(handle -> {
            SiteLinkStore.add(handle, link);
            new LinkMail(Books.desk()).plan(handle, link, Site.basic("site-a"), TO);
        });
        return link;
    }

    private Optional<Row> opened(Message message) {
        String address = message.content().link();
        assertThat(address).startsWith("https://rimecast.example/site-check#");
        byte[] hash = Secret.hash(address.substring(address.indexOf('#') + 1));
        return bench.database().jdbi().withHandle(handle -> SiteLinkStore.find(handle, hash));
    }

    private NoticeView notice() {
        NoticeView listed = bench.notices().list(100).stream()
                .filter(each -> each.kind().equals("link"))
                .findFirst()
                .orElseThrow();
        return bench.notices().notice(listed.id()).orElseThrow();
    }

    @Test
    void mail_arrivesOnce_opensTheLink_andTheLogDoesNot() {
        Row link = asked();

        bench.round();
        bench.round();

        List<Message> mails = bench.inboxes().messages(TO);
        assertThat(mails).hasSize(1);
        assertThat(opened(mails.get(0)).orElseThrow().id()).isEqualTo(link.id());
        assertThat(mails.get(0).content().lead()).startsWith("Please do a short check of the ice machine ice-0");
        NoticeView notice = notice();
        assertThat(notice.state()).isEqualTo("sent");
        assertThat(notice.target()).isEqualTo(TO);
        assertThat(notice.log()).extracting(NoticeView.Attempt::who).containsExactly("ada", "notices");
        String secret = secret(mails.get(0));
        assertThat(notice.text().orElseThrow()).contains("/site-check").doesNotContain(secret);
        assertThat(everythingKept()).doesNotContain(secret);
    }

    private static String secret(Message message) {
        String address = message.content().link();
        return address.substring(address.indexOf('#') + 1);
    }

    private String everythingKept() {
        return bench.database()
                .jdbi()
                .withHandle(
                        handle -> handle.createQuery("""
                        select string_agg(t, ' ') from (
                            select to_jsonb(d)::text t from notice_delivery d
                            union all select to_jsonb(a)::text from notice_attempt a
                            union all select to_jsonb(l)::text from site_link l
                            union all select to_jsonb(s)::text from site_link_secret s
                            union all select to_jsonb(c)::text from case_audit c
                            union all select to_jsonb(e)::text from alert_event e) kept""").mapTo(String.class).one());
    }

    @ParameterizedTest
    @EnumSource(
            value = Step.class,
            names = {"CLAIM_WRITTEN", "CLAIMED", "SENT", "RESULT_WRITTEN"})
    void processEndsAtAStep_mailArrives_withOneId_andEveryCopyOpensTheLink(Step step) {
        Row link = asked();
        bench.dieOnceAt(step);

        bench.roundOrDie();
        bench.pass(Duration.ofMinutes(3));
        bench.round();

        List<Message> mails = bench.inboxes().messages(TO);
        boolean isSentTwice = step == Step.SENT || step == Step.RESULT_WRITTEN;
        assertThat(mails).hasSize(isSentTwice ? 2 : 1);
        assertThat(mails).extracting(Message::id).containsOnly(notice().id());
        assertThat(mails)
                .allSatisfy(mail -> assertThat(opened(mail).map(Row::id)).contains(link.id()));
        assertThat(mails.stream().map(LinkMailIT::secret).distinct()).hasSameSizeAs(mails);
    }

    /** What a person asks for, where {@code notices.yaml} names a server for mail. */
    private StoredInquiries inquiries() {
        NoticeBook book = NoticeBook.parse(
                "notices.yaml",
                Books.DESK + "mail: {host: 127.0.0.1, security: none, from: rimecast@firm.example}\n",
                Path.of(""));
        return new StoredInquiries(
                bench.database(),
                bench.views(),
                new StoredActions(bench.database(), bench::now, new BooksInForce(), changes -> {}),
                Duration.ofHours(48),
                Optional.of(new LinkMail(book)),
                bench::now,
                () -> {},
                changes -> {});
    }

    private void contact(String site, String contact) {
        RegisterImport register = new RegisterImport(bench.database(), bench::now, () -> {});
        Register known = register.current();
        Site changed = withContact(Site.basic(site), contact);
        List<Site> sites = Stream.concat(
                        known.sites().stream().filter(each -> !each.id().equals(site)), Stream.of(changed))
                .toList();
        register.apply(new Register(known.machines(), sites), "policy-1", "a: 1");
    }

    private static Site withContact(Site site, String contact) {
        return new Site(
                site.id(),
                site.name(),
                site.timeZone(),
                site.open(),
                site.close(),
                site.closedDays(),
                Optional.of(contact),
                site.language(),
                site.kgPerDay(),
                site.responseHours());
    }

    private LinkOutcome mailAbout(String site, String machine) {
        Finding raised = bench.world().raise(site, machine, Condition.LONG_FREEZE, Priority.LOW);
        UUID caseId = bench.views().alert(raised.id()).orElseThrow().caseId().orElseThrow();
        return inquiries().mail(caseId, Optional.of(machine), new Person("ada"));
    }

    @Test
    void siteWithAnAddressInItsContact_isMailedThere() {
        contact("site-a", "Bar manager, 020 7946 0000, " + TO + ", after 11:00");

        LinkOutcome outcome = mailAbout("site-a", "ice-0");
        bench.round();

        assertThat(outcome).isInstanceOfSatisfying(LinkOutcome.Mailed.class, mailed -> {
            assertThat(mailed.link().mailedTo()).contains(TO);
            assertThat(bench.inboxes().messages(TO))
                    .singleElement()
                    .satisfies(mail -> assertThat(opened(mail).map(Row::id))
                            .contains(mailed.link().id()));
        });
        assertThat(inquiries().mailContacts(SiteScope.EVERY)).containsExactly(Map.entry("site-a", TO));
    }

    @Test
    void siteWithoutAnAddress_isRefused_andNothingIsMade() {
        contact("site-a", TO);
        contact("site-b", "call the bar");

        assertThat(mailAbout("site-b", "b-0"))
                .isInstanceOfSatisfying(
                        LinkOutcome.NotAllowed.class,
                        refused -> assertThat(refused.reason()).startsWith("There is no mail to this site"));
        assertThat(bench.notices().list(100)).extracting(NoticeView::kind).doesNotContain("link");
        assertThat(inquiries().links(SiteScope.of(Set.of("site-b")))).isEmpty();
    }

    @Test
    void linkThatEndedBeforeItsMailLeft_isNotSent() {
        Row link = asked();
        bench.database().jdbi().useTransaction(handle -> SiteLinkStore.revoke(handle, link, "ada", bench.now()));

        bench.round();

        assertThat(bench.inboxes().messages(TO)).isEmpty();
        assertThat(notice().state()).isEqualTo("cancelled");
        assertThat(notice().detail()).isEqualTo("its link has ended");
    }

    /** A process had its mail and is gone, its link ends meanwhile: that holds up nobody. */
    @Test
    void linkThatEndedWhileItsMailWasUnderWay_endsIt_andWhatWaitsBehindItLeaves() {
        Row link = asked();
        bench.database().jdbi().useTransaction(handle -> {
            handle.execute(
                    "update notice_delivery set state = 'sending', attempts = 1, leased_until = ? where kind = 'link'",
                    java.sql.Timestamp.from(bench.now().minusSeconds(1)));
            SiteLinkStore.revoke(handle, link, "ada", bench.now());
        });
        bench.world().raise("site-c", "c-0", Condition.STOPPED_BY_PROTECTION, Priority.HIGH);
        bench.round();
        bench.pass(Duration.ofMinutes(30));
        bench.round();

        assertThat(bench.inboxes().messages(TO)).isEmpty();
        assertThat(notice().state()).isEqualTo("cancelled");
        assertThat(bench.notices().list(100))
                .filteredOn(view -> !view.kind().equals("link"))
                .isNotEmpty()
                .extracting(NoticeView::state)
                .containsOnly("sent");
    }

    /** What one notice says can't be made out of what is stored: it is given up with its reason, and the others leave. */
    @Test
    void noticeThatCannotBeWritten_isGivenUp_andHoldsUpNoOther() {
        asked();
        bench.database().jdbi().useHandle(handle -> {
            // the table refuses it, and rightly
            handle.execute("alter table notice_delivery disable trigger user");
            handle.execute("update notice_delivery set content = '\"nothing\"'::jsonb where kind = 'link'");
            handle.execute("alter table notice_delivery enable trigger user");
        });
        bench.world().raise("site-c", "c-0", Condition.STOPPED_BY_PROTECTION, Priority.HIGH);
        bench.round();
        bench.pass(Duration.ofMinutes(30));
        bench.round();

        assertThat(stored("select state || ' ' || detail from notice_delivery where kind = 'link'"))
                .singleElement()
                .satisfies(text -> assertThat(text).startsWith("failed it can't be written: "));
        assertThat(stored("select state from notice_delivery where kind <> 'link'"))
                .isNotEmpty()
                .containsOnly("sent");
    }

    /** As the table has it: the list shows what each notice says, and of this one nobody knows. */
    private List<String> stored(String query) {
        return bench.database()
                .jdbi()
                .withHandle(
                        handle -> handle.createQuery(query).mapTo(String.class).list());
    }

    @Test
    void addressThatIsRefused_isGivenUp_andCanBeTriedByHand() {
        asked();
        bench.inboxes().answer(TO, new Outcome.Refused("no such mailbox"));
        bench.round();
        assertThat(notice().state()).isEqualTo("failed");

        bench.inboxes().answer(TO, new Outcome.Sent("taken"));
        assertThat(bench.notices().retry(notice().id(), new Person("ada"))).isInstanceOf(Notices.Outcome.Done.class);
        bench.round();

        assertThat(notice().state()).isEqualTo("sent");
        assertThat(opened(bench.inboxes().messages(TO).get(1))).isPresent();
    }
}
