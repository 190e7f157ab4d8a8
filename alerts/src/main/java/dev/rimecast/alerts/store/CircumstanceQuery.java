package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.silence.Closure;
import dev.rimecast.alerts.silence.SilenceHabit;
import dev.rimecast.alerts.silence.SilenceHabit.Spell;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/** What is known about machines and gateways now that can make their alerts mean nothing. */
final class CircumstanceQuery {
    private CircumstanceQuery() {}

    /** @param subject machine, or {@code gateway:…} */
    record Subject(String subject, String site) {}

    static Set<Circumstance> of(Handle handle, Subject subject, Instant now) {
        return of(handle, List.of(subject), now).getOrDefault(subject.subject(), Set.of());
    }

    /** Everybody who was asked about is in the map. */
    static Map<String, Set<Circumstance>> of(Handle handle, Collection<Subject> subjects, Instant now) {
        Map<String, Set<Circumstance>> known = new HashMap<>();
        subjects.forEach(subject -> known.put(subject.subject(), EnumSet.noneOf(Circumstance.class)));
        if (!known.isEmpty()) {
            now(handle, known);
            closed(handle, subjects, now, known);
            usual(handle, subjects, now, known);
        }
        return known;
    }

    private static void add(Map<String, Set<Circumstance>> known, String subject, Circumstance what) {
        known.computeIfAbsent(subject, s -> EnumSet.noneOf(Circumstance.class)).add(what);
    }

    private static void now(Handle handle, Map<String, Set<Circumstance>> known) {
        handle.createQuery("""
                select m.id,
                    exists (select 1 from alert g where g.subject = 'gateway:' || m.gateway
                        and g.condition = 'gateway-silent' and g.state <> 'normal' and g.cleared_at is null),
                    phase.text = 'clean',
                    full_bin.value <> 0 or phase.text = 'idle'
                from unnest(:machines) as wanted (id)
                join machine m on m.id = wanted.id
                left join latest_value phase on phase.machine = m.id and phase.channel = 'phase'
                left join latest_value full_bin on full_bin.machine = m.id and full_bin.channel = 'bin_full'""")
                .bindArray("machines", String.class, known.keySet())
                .map((row, context) -> {
                    String machine = row.getString(1);
                    if (row.getBoolean(2)) {
                        add(known, machine, Circumstance.GATEWAY_DOWN);
                    }
                    if (row.getBoolean(3)) {
                        add(known, machine, Circumstance.CLEANING);
                    }
                    if (row.getBoolean(4)) {
                        add(known, machine, Circumstance.BIN_FULL);
                    }
                    return machine;
                })
                .list();
    }

    private static void closed(
            Handle handle, Collection<Subject> subjects, Instant now, Map<String, Set<Circumstance>> known) {
        List<Closure> standing = ClosureQuery.standing(
                handle, subjects.stream().map(Subject::site).distinct().toList(), now);
        for (Subject subject : subjects) {
            boolean isClosed = standing.stream()
                    .anyMatch(closure -> closure.site().equals(subject.site())
                            && closure.machine()
                                    .filter(machine -> !machine.equals(subject.subject()))
                                    .isEmpty());
            if (isClosed) {
                add(known, subject.subject(), Circumstance.SITE_CLOSED);
            }
        }
    }

    /** From the silences of the last weeks, as their alerts recorded them. */
    private static void usual(
            Handle handle, Collection<Subject> subjects, Instant now, Map<String, Set<Circumstance>> known) {
        record Silent(String subject, Spell spell) {}
        Map<String, List<Spell>> spells = handle
                .createQuery("""
                        select subject, raised_at, cleared_at from alert where subject = any(:subjects)
                            and condition in ('machine-silent', 'gateway-silent') and cleared_at is not null
                            and raised_at >= :from""")
                .bindArray("subjects", String.class, known.keySet())
                .bind("from", now.minus(SilenceHabit.LOOKS_BACK))
                .map((row, context) -> new Silent(
                        row.getString(1),
                        new Spell(
                                row.getTimestamp(2).toInstant(),
                                row.getTimestamp(3).toInstant())))
                .stream()
                .collect(
                        Collectors.groupingBy(Silent::subject, Collectors.mapping(Silent::spell, Collectors.toList())));
        if (spells.isEmpty()) {
            return;
        }
        Map<String, ZoneId> zones = new HashMap<>();
        for (Subject subject : subjects) {
            List<Spell> own = spells.getOrDefault(subject.subject(), List.of());
            if (own.isEmpty()) {
                continue;
            }
            ZoneId zone = zones.computeIfAbsent(
                    subject.site(),
                    site -> RegisterStore.site(handle, site).map(Site::timeZone).orElse(ZoneOffset.UTC));
            if (SilenceHabit.usual(zone, own, now).isPresent()) {
                add(known, subject.subject(), Circumstance.USUALLY_SILENT);
            }
        }
    }
}
