package dev.rimecast.alerts.cases;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * Which case an alert belongs to. Edge cases:
 *
 * <table>
 * <caption>Placing</caption>
 * <tr><td>its cause hits places</td><td>the open case of that cause and place whose raises are near in time, else a new one</td></tr>
 * <tr><td>a person has put it where it is</td><td>stays, whatever its causes become</td></tr>
 * <tr><td>it is in a case of a place already</td><td>stays, whatever its causes become: nobody follows an alert that wanders</td></tr>
 * <tr><td>its cause turns out to hit places</td><td>moves once, from its subject's case to that of the place</td></tr>
 * <tr><td>otherwise</td><td>the open case of its machine that shares its cause, or that nothing speaks against</td></tr>
 * <tr><td>no cause can be told, machine is in a case of a place</td><td>that one</td></tr>
 * <tr><td>two causes that exclude each other</td><td>two cases of the machine</td></tr>
 * </table>
 *
 * <p>The id of a new case is a function of its key and of the alert that opened it: the same log gives the same cases.
 */
public final class CaseRules {
    private static final Comparator<OpenCase> LATEST =
            Comparator.comparing(OpenCase::latestRaise).thenComparing(OpenCase::id);

    private final CaseBook book;

    public CaseRules(CaseBook book) {
        this.book = book;
    }

    /**
     * Where an alert goes.
     *
     * @param opens whether the case is new
     */
    public record Placement(UUID id, CaseKey key, Optional<Cause> cause, boolean opens) {}

    /**
     * @param current the case that it is in, open or not
     * @param open the open cases of its site
     */
    public Placement place(Member alert, Optional<OpenCase> current, Collection<OpenCase> open) {
        return place(alert, current, false, open);
    }

    /** @param isDecided whether a person has put it where it is */
    public Placement place(Member alert, Optional<OpenCase> current, boolean isDecided, Collection<OpenCase> open) {
        if (isDecided && current.isPresent()) {
            return join(alert, current.get());
        }
        Optional<CaseKey> place = placeOf(alert);
        if (current.isPresent() && (place.isEmpty() || current.get().key() instanceof CaseKey.OfPlace)) {
            return join(alert, current.get());
        }
        if (place.isPresent()) {
            Duration within = within(place.get());
            return open.stream()
                    .filter(candidate -> candidate.key().equals(place.get())
                            && isNear(candidate.latestRaise(), alert.raisedAt(), within))
                    .max(LATEST)
                    .map(candidate -> join(alert, candidate))
                    .orElseGet(() -> open(alert, place.get()));
        }
        CaseKey key = new CaseKey.OfSubject(alert.subject());
        return Stream.of(
                        open.stream().filter(c -> c.key().equals(key) && sharesCause(alert, c)),
                        open.stream().filter(c -> isPlaceOf(c, alert)),
                        open.stream().filter(c -> c.key().equals(key) && agrees(alert, c)))
                .flatMap(candidates -> candidates.max(LATEST).stream())
                .findFirst()
                .map(candidate -> join(alert, candidate))
                .orElseGet(() -> open(alert, key));
    }

    /** The open case that a call belongs to: that of its machine, else the latest of its site. */
    public Optional<OpenCase> placeCall(Optional<String> machine, Collection<OpenCase> open) {
        return open.stream()
                .filter(candidate -> machine.isEmpty() || candidate.machines().contains(machine.get()))
                .max(LATEST);
    }

    private Optional<CaseKey> placeOf(Member alert) {
        Optional<Cause> told = alert.told(book);
        return book.common().stream()
                .filter(common -> common.conditions().contains(alert.condition())
                        || told.filter(common.causes()::contains).isPresent())
                .findFirst()
                .map(common -> new CaseKey.OfPlace(
                        common.name(),
                        alert.site(),
                        switch (common.scope()) {
                            case SITE -> "";
                            case ROOM -> alert.room().orElse("");
                            case GATEWAY -> alert.gateway().orElse("");
                        }));
    }

    private Duration within(CaseKey key) {
        return key instanceof CaseKey.OfPlace place
                ? book.common(place.common()).map(CommonCause::within).orElse(Duration.ZERO)
                : Duration.ZERO;
    }

    private static boolean isNear(Instant one, Instant other, Duration within) {
        return Duration.between(one, other).abs().compareTo(within) <= 0;
    }

    private boolean sharesCause(Member alert, OpenCase candidate) {
        return candidate.cause().filter(alert.thinkable(book)::contains).isPresent();
    }

    /** The machine is hit by what hits its place, and this alert says nothing of its own. */
    private boolean isPlaceOf(OpenCase candidate, Member alert) {
        return candidate.key() instanceof CaseKey.OfPlace
                && alert.told(book).isEmpty()
                && alert.machine().filter(candidate.machines()::contains).isPresent();
    }

    private boolean agrees(Member alert, OpenCase candidate) {
        return candidate.cause().isEmpty() || alert.told(book).isEmpty();
    }

    private Placement join(Member alert, OpenCase joined) {
        return new Placement(joined.id(), joined.key(), joined.cause().or(() -> alert.told(book)), false);
    }

    private Placement open(Member alert, CaseKey key) {
        return new Placement(idOf(key, alert.alert().toString()), key, alert.told(book), true);
    }

    /** @param opener id of the alert that opens it, or the text of the call */
    public static UUID idOf(CaseKey key, String opener) {
        return NameBasedId.of("case|" + key.text() + '|' + opener);
    }
}
