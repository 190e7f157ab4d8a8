package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.system.SystemWatch;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;

/** One message in text and one in bytes that were rejected, and a machine that nobody has claimed. */
record FakeSystem(InstantSource clock) implements SystemWatch {
    private static final byte[] TEXT =
            "[{\"bn\":\"ice-0003/\",\"n\":\"mood\",\"v\":4}]".getBytes(StandardCharsets.UTF_8);

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
                                clock.instant().minusSeconds(60),
                                "gw-1",
                                "fleet/gw-1/data",
                                List.of("0 unknown-channel mood"),
                                TEXT),
                        new Rejected(
                                clock.instant().minusSeconds(90),
                                "gw-2",
                                "fleet/gw-2/data",
                                List.of("- not-senml"),
                                new byte[] {(byte) 0xff, 0x10}))
                .stream()
                .limit(most)
                .toList();
    }

    @Override
    public List<Unclaimed> unclaimed() {
        return List.of(new Unclaimed(
                "ice-9001",
                "gw-1",
                240,
                clock.instant().minus(Duration.ofHours(2)),
                clock.instant().minusSeconds(40)));
    }
}
