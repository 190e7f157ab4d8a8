package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Look;
import dev.rimecast.history.backtest.SideBySide;
import dev.rimecast.telemetry.finding.Cause;
import java.util.List;
import java.util.Optional;

/** Two policies side by side by machine and by cause, as the page shows them. */
final class SidesShape {
    private SidesShape() {}

    /** As many as differences are listed. */
    static List<Run.MachineSides> byMachine(SideBySide sides) {
        return sides.machines().stream()
                .limit(Shapes.MOST_LISTED)
                .map(machine -> new Run.MachineSides(
                        machine.name(),
                        machine.differs(),
                        sums(machine.sums().get(0)),
                        sums(machine.sums().get(1)),
                        machine.look().map(SidesShape::plots)))
                .toList();
    }

    /** Those of which a problem is known. */
    static List<Run.OfCause> causes(SideBySide sides) {
        return sides.causes().stream()
                .filter(each -> each.cause().isPresent() && each.sums().get(0).problems() > 0)
                .map(each -> new Run.OfCause(
                        each.cause().get().code(),
                        each.sums().get(0).problems(),
                        each.sums().get(0).found(),
                        each.sums().get(1).found(),
                        share(each.sums().get(0)).orElseThrow(),
                        share(each.sums().get(1)).orElseThrow()))
                .toList();
    }

    static List<Run.CauseSides> byCause(SideBySide sides) {
        return sides.causes().stream()
                .map(cause -> new Run.CauseSides(
                        cause.cause().map(Cause::code).orElse(""),
                        cause.differs(),
                        sums(cause.sums().get(0)),
                        sums(cause.sums().get(1)),
                        share(cause.sums().get(0)),
                        share(cause.sums().get(1)),
                        cause.looks().stream().map(SidesShape::plots).toList()))
                .toList();
    }

    private static Run.Sums sums(SideBySide.Sums of) {
        return new Run.Sums(
                of.problems(),
                of.found(),
                of.earlier(),
                of.later(),
                of.right(),
                of.wrong(),
                of.unlabelled(),
                of.contradicting());
    }

    private static Optional<Run.Ends> share(SideBySide.Sums of) {
        return of.problems() == 0
                ? Optional.empty()
                : Optional.of(PastWork.ends(Judged.share(of.found(), of.problems())));
    }

    private static Run.Plots plots(Look of) {
        return new Run.Plots(of.machine(), of.at());
    }
}
