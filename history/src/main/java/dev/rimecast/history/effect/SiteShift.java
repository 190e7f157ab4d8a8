package dev.rimecast.history.effect;

import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A site by the numbers in force and by others.
 *
 * @param isBusy whether anything is known of it or was raised there
 * @param machines that were watched
 * @param currentAlerts about machines, whether or not anybody knows if they were right
 * @param isOtherwise whether any of these is on another machine, of another condition or of another time
 */
public record SiteShift(
        String site,
        boolean isBusy,
        int machines,
        int currentAlerts,
        int candidateAlerts,
        boolean isOtherwise,
        Judged current,
        Judged candidate) {

    static SiteShift of(
            String site, boolean isBusy, int machines, List<AlertRow> now, List<AlertRow> other, Judge judge) {
        return new SiteShift(
                site,
                isBusy,
                machines,
                count(now),
                count(other),
                !raised(now).equals(raised(other)),
                judge.judge(now),
                judge.judge(other));
    }

    static int count(List<AlertRow> alerts) {
        return (int) alerts.stream().filter(Judge::isOfMachine).count();
    }

    private static Set<String> raised(List<AlertRow> alerts) {
        return alerts.stream()
                .filter(Judge::isOfMachine)
                .map(alert -> alert.machine().orElse("")
                        + ' '
                        + alert.condition()
                        + ' '
                        + alert.raisedAt()
                        + ' '
                        + alert.clearedAt())
                .collect(Collectors.toSet());
    }

    int more() {
        return candidateAlerts - currentAlerts;
    }
}
