package dev.rimecast.benchmarks.year;

import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.NoticeView;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;

/** The notices that went out, by who got them. */
final class Sent {
    private Sent() {}

    static void print(List<NoticeView> notices, Map<UUID, CaseView> cases, Instant from, Duration length) {
        Map<String, Counted> received = new TreeMap<>();
        Map<String, Integer> kinds = new TreeMap<>();
        for (NoticeView notice : notices) {
            kinds.merge(notice.receiver() + ": " + kind(notice), 1, Integer::sum);
            if (notice.state().equals("sent")) {
                received.computeIfAbsent(notice.receiver(), receiver -> new Counted(from))
                        .add(notice.endedAt().orElseThrow(), about(notice, cases));
            }
        }
        Counted opened = new Counted(from);
        cases.values().forEach(each -> opened.add(each.openedAt(), about(each)));
        System.out.println();
        kinds.forEach((kind, count) -> System.out.println(kind + ": " + count));
        System.out.println();
        received.put("cases opened", opened);
        Counted.row("", received.keySet().toArray());
        Counted.row("---", received.keySet().stream().map(each -> "---").toArray());
        Object[] none = {};
        List<Counted> columns = List.copyOf(received.values());
        Counted.row("all", columns.stream().map(Counted::size).toList().toArray(none));
        Counted.row(
                "a day, average",
                columns.stream().map(c -> Counted.number(c.perDay(length), 2)).toArray());
        Counted.row("worst day", columns.stream().map(Counted::worstDay).toArray());
        Counted.row(
                "most in 10 minutes",
                columns.stream().map(Counted::mostInTenMinutes).toArray());
        Counted.row(
                "time in flood",
                columns.stream().map(c -> Counted.percent(c.floodShare(length))).toArray());
        Counted.row(
                "ten most frequent",
                columns.stream()
                        .map(c -> Counted.percent(c.shareOfTheTenMostFrequent()) + " of " + c.subjects())
                        .toArray());
    }

    /** What it is to its receiver, and whether it went. */
    private static String kind(NoticeView notice) {
        boolean asks = notice.kind().equals("raised") || notice.kind().equals("worse");
        String kind = asks && notice.step() > 0 ? "escalation" : notice.kind();
        return notice.state().equals("sent") ? kind : kind + ", " + notice.state();
    }

    private static String about(NoticeView notice, Map<UUID, CaseView> cases) {
        Optional<CaseView> found = notice.caseId().map(cases::get);
        return found.map(Sent::about).orElse(notice.kind());
    }

    private static String about(CaseView each) {
        String where = each.subject().or(each::place).orElse("");
        return each.site() + ' ' + where + ' ' + each.common().or(each::cause).orElse("");
    }
}
