package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Inquiry.Given;
import dev.rimecast.telemetry.finding.Inquiry.Next;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Asks about the air filter, then about the fan, then nothing more; an answer changes the odds as the question said. */
final class FakeInquiries implements Inquiries {
    private static final Next FILTER = new Next(
            "air-filter",
            0.35,
            List.of(
                    new Inquiry.Outcome("was-full", 0.52, Cause.AIRFLOW_RESTRICTED, 0.95),
                    new Inquiry.Outcome("clean", 0.22, Cause.FAN_WEAK, 0.55),
                    new Inquiry.Outcome("none-there", 0.26, Cause.AIRFLOW_RESTRICTED, 0.74)));
    private static final Next FAN = new Next(
            "fan-turns",
            0.22,
            List.of(
                    new Inquiry.Outcome("stands", 0.05, Cause.FAN_WEAK, 0.5),
                    new Inquiry.Outcome("slow-or-rubs", 0.4, Cause.FAN_WEAK, 0.86),
                    new Inquiry.Outcome("full-speed", 0.55, Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED, 0.34)));

    private final FakeFleet fleet;
    private final FakeSiteLinks links;
    private final InstantSource clock;

    FakeInquiries(FakeFleet fleet, FakeSiteLinks links, InstantSource clock) {
        this.fleet = fleet;
        this.links = links;
        this.clock = clock;
    }

    @Override
    public LinkOutcome ask(UUID caseId, Optional<String> machine, Person who) {
        return links.ask(caseId, machine, who);
    }

    @Override
    public LinkOutcome mail(UUID caseId, Optional<String> machine, Person who) {
        return links.mail(caseId, machine, who);
    }

    /** Every other site has an address. */
    @Override
    public Map<String, String> mailContacts(SiteScope sites) {
        return fleet.sites().stream()
                .map(Site::id)
                .filter(site -> sites.includes(site) && site.charAt(site.length() - 1) % 2 == 1)
                .collect(Collectors.toMap(Function.identity(), site -> "bar@" + site + ".example"));
    }

    @Override
    public List<SiteLinkView> links(SiteScope sites) {
        return links.list(sites);
    }

    @Override
    public boolean revoke(UUID link, Person who) {
        return links.revoke(link, who);
    }

    static AlertView asked(AlertView alert) {
        return FakeAlerts.weighed(
                alert, alert.finding().causes(), new Inquiry(List.of(), Optional.of(FILTER), List.of("air-filter")));
    }

    @Override
    public Outcome answer(UUID id, Person who, String question, String answer) {
        if (QuestionTexts.STANDARD
                .of(question)
                .flatMap(text -> text.answer(answer))
                .isEmpty()) {
            throw new IllegalArgumentException("'" + answer + "' is no answer to " + question);
        }
        Optional<AlertView> found = fleet.alert(id);
        if (found.isEmpty()) {
            return new Outcome.NoSuchAlert();
        }
        AlertView alert = found.get();
        if (alert.clearedAt().isPresent()) {
            return new Outcome.NotAllowed(alert, "It is over: nobody is asked any more.");
        }
        fleet.put(after(alert, question, answer, who.name(), clock.instant()));
        return new Outcome.Done(fleet.alert(id).orElseThrow());
    }

    private static AlertView after(AlertView alert, String question, String answer, String by, Instant at) {
        Inquiry inquiry = alert.finding().inquiry();
        Optional<Inquiry.Outcome> outcome = inquiry.next().stream()
                .filter(next -> next.question().equals(question))
                .flatMap(next -> next.outcomes().stream())
                .filter(each -> each.answer().equals(answer))
                .findFirst();
        List<Given> given = new ArrayList<>(inquiry.given());
        given.add(new Given(
                question,
                answer,
                by,
                at,
                outcome.map(Inquiry.Outcome::cause).stream().toList(),
                outcome.isPresent() && answer.equals("clean") ? List.of(Cause.AIRFLOW_RESTRICTED) : List.of()));
        Optional<Next> next = question.equals("air-filter") ? Optional.of(FAN) : Optional.empty();
        return FakeAlerts.weighed(
                alert,
                outcome.map(o -> leading(alert.finding().causes(), o))
                        .orElse(alert.finding().causes()),
                new Inquiry(given, next, List.of()));
    }

    private static List<ProbableCause> leading(List<ProbableCause> causes, Inquiry.Outcome outcome) {
        List<ProbableCause> weighed = new ArrayList<>();
        double others = causes.stream()
                .filter(cause -> cause.cause() != outcome.cause())
                .mapToDouble(ProbableCause::probability)
                .sum();
        for (ProbableCause cause : causes) {
            double probability = cause.cause() == outcome.cause()
                    ? outcome.probability()
                    : cause.probability() * (1 - outcome.probability()) / others;
            weighed.add(new ProbableCause(cause.cause(), probability, cause.evidenceFor(), cause.evidenceAgainst()));
        }
        weighed.sort(
                java.util.Comparator.comparingDouble(ProbableCause::probability).reversed());
        return weighed;
    }
}
