package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.system.NotPossibleException;
import dev.rimecast.dashboard.system.SystemWatch;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.Stream;

/** One message in text and one in bytes that were rejected, and a machine that nobody has claimed. */
record FakeSystem(
        InstantSource clock, FakeClaims claims, List<SystemWatch.Replayed> taken, List<SystemWatch.Retake> retaken)
        implements SystemWatch {
    static final String TAKEN_BEFORE = "0-7";
    static final String FRESH = "2-1";
    static final String DONE = "1-4";

    static final String LETTER = "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55";
    static final String MINUTE = "0b1c2d3e-5d0b-3c86-9f0a-2f1d7c4b6a55";
    static final String TAKEN_LETTER = "11111111-5d0b-3c86-9f0a-2f1d7c4b6a55";

    private static final byte[] TEXT =
            "[{\"bn\":\"ice-0003/\",\"n\":\"mood\",\"v\":4}]".getBytes(StandardCharsets.UTF_8);

    FakeSystem(InstantSource clock, FakeClaims claims) {
        this(clock, claims, new CopyOnWriteArrayList<>(), new CopyOnWriteArrayList<>());
    }

    @Override
    public List<Version> versions() {
        return List.of(new Version("Rimecast", "0.1.0-test"), new Version("Java", "17"));
    }

    @Override
    public List<Disk> disks() {
        return List.of(new Disk("data", 40_000_000_000L, 100_000_000_000L));
    }

    @Override
    public List<Rejected> rejects(int most) {
        return List.of(
                        new Rejected(
                                TAKEN_BEFORE,
                                clock.instant().minusSeconds(60),
                                "gw-1",
                                "fleet/gw-1/data",
                                List.of("0 unknown-channel mood"),
                                TEXT,
                                replays()),
                        new Rejected(
                                FRESH,
                                clock.instant().minusSeconds(90),
                                "gw-2",
                                "fleet/gw-2/data",
                                List.of("- not-senml"),
                                new byte[] {(byte) 0xff, 0x10},
                                List.of()))
                .stream()
                .limit(most)
                .toList();
    }

    private List<Replayed> replays() {
        Replayed first = new Replayed(clock.instant().minusSeconds(30), "Ada", 0, 0, List.of("0 unknown-channel mood"));
        return Stream.concat(Stream.of(first), taken.stream()).toList();
    }

    /** The one that was tried before is taken now, in full; the bytes are still no pack. */
    @Override
    public ReplayOutcome replay(String id, String by) {
        return switch (id) {
            case TAKEN_BEFORE -> {
                Replayed replayed = new Replayed(clock.instant(), by, 1, 0, List.of());
                taken.add(replayed);
                yield new ReplayOutcome.Done(replayed);
            }
            case FRESH -> new ReplayOutcome.Done(new Replayed(clock.instant(), by, 0, 0, List.of("- not-senml")));
            case DONE ->
                new ReplayOutcome.NothingLeft(Optional.of(new Replayed(clock.instant(), "Ada", 1, 0, List.of())));
            default -> new ReplayOutcome.Unknown();
        };
    }

    /** A finding that failed again once, and a minute that can't be taken again. */
    @Override
    public List<DeadLetter> deadLetters(int most) {
        Retake vain = new Retake(clock.instant().minusSeconds(50), "Ada", Optional.of("no member machine"));
        List<Retake> retakes = Stream.concat(Stream.of(vain), retaken.stream()).toList();
        return List.of(
                        new DeadLetter(
                                LETTER,
                                clock.instant().minusSeconds(80),
                                "alerts",
                                "findings",
                                3,
                                118,
                                "site-1",
                                "MalformedRecordException: no member machine",
                                "",
                                "{\"no\":\"finding\"}".getBytes(StandardCharsets.UTF_8),
                                Optional.empty(),
                                retaken.isEmpty(),
                                retakes),
                        new DeadLetter(
                                MINUTE,
                                clock.instant().minusSeconds(95),
                                "analytics",
                                "sites",
                                0,
                                40,
                                "",
                                "site site-1: IllegalStateException: half way",
                                "minute of 2026-05-04T12:00:00Z",
                                new byte[] {1, (byte) 0xff},
                                Optional.of("A minute that has passed can't pass again. The next one does the same."),
                                true,
                                List.of()))
                .stream()
                .limit(most)
                .toList();
    }

    @Override
    public RetakeOutcome retake(String id, String by) {
        return switch (id) {
            case LETTER -> {
                Retake retake = new Retake(clock.instant(), by, Optional.empty());
                retaken.add(retake);
                yield new RetakeOutcome.Done(retake);
            }
            case MINUTE ->
                throw new NotPossibleException(
                        "A minute that has passed can't pass again. The next one does the same.");
            case TAKEN_LETTER -> new RetakeOutcome.NothingLeft(new Retake(clock.instant(), "Ada", Optional.empty()));
            default -> new RetakeOutcome.Unknown();
        };
    }

    /** Not much. */
    @Override
    public Path backup() throws IOException {
        return Files.writeString(Files.createTempFile("backup", ".zip"), "everything");
    }

    @Override
    public List<Unclaimed> unclaimed() {
        return Stream.of(waiting("ice-9001", "gw-1"), waiting("ice-9002", "gw-new"))
                .filter(machine -> !claims.has(machine.machine()))
                .toList();
    }

    private Unclaimed waiting(String machine, String gateway) {
        return new Unclaimed(
                machine,
                gateway,
                240,
                clock.instant().minus(Duration.ofHours(2)),
                clock.instant().minusSeconds(40));
    }
}
