package dev.rimecast.alerts.people;

import java.nio.ByteBuffer;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/** In memory, for tests and for looking at pages. Keeps the same contract as the database. */
final class MemoryFactorStore implements FactorStore {
    private static final class Kept {
        private final byte[] secret;
        private final Instant madeAt;
        private Optional<Instant> confirmedAt = Optional.empty();
        private long lastStep;
        private final Set<ByteBuffer> codes = new HashSet<>();

        Kept(byte[] secret, Instant madeAt) {
            this.secret = secret.clone();
            this.madeAt = madeAt;
        }
    }

    private final Map<UUID, Kept> factors = new HashMap<>();
    private final Consumer<AccountNote> notes;
    private final BiConsumer<UUID, Optional<UUID>> sessions;

    /** @param sessions ends those of an account, but for one */
    MemoryFactorStore(Consumer<AccountNote> notes, BiConsumer<UUID, Optional<UUID>> sessions) {
        this.notes = notes;
        this.sessions = sessions;
    }

    @Override
    public synchronized Optional<Factor> factor(UUID account) {
        return Optional.ofNullable(factors.get(account))
                .map(kept -> new Factor(kept.secret, kept.madeAt, kept.confirmedAt, kept.codes.size()));
    }

    private Optional<Kept> confirmed(UUID account) {
        return Optional.ofNullable(factors.get(account)).filter(kept -> kept.confirmedAt.isPresent());
    }

    @Override
    public synchronized Set<UUID> confirmed() {
        return factors.keySet().stream()
                .filter(account -> confirmed(account).isPresent())
                .collect(Collectors.toSet());
    }

    @Override
    public synchronized boolean propose(UUID account, byte[] secret, Instant now) {
        if (confirmed(account).isPresent()) {
            return false;
        }
        factors.put(account, new Kept(secret, now));
        return true;
    }

    @Override
    public synchronized boolean confirm(UUID account, long step, List<byte[]> codeHashes, AccountNote note) {
        Kept kept = factors.get(account);
        if (kept == null || kept.confirmedAt.isPresent()) {
            return false;
        }
        kept.confirmedAt = Optional.of(note.at());
        kept.lastStep = step;
        codeHashes.forEach(hash -> kept.codes.add(ByteBuffer.wrap(hash)));
        notes.accept(note);
        return true;
    }

    @Override
    public synchronized boolean use(UUID account, long step) {
        Optional<Kept> kept = confirmed(account).filter(found -> found.lastStep < step);
        kept.ifPresent(found -> found.lastStep = step);
        return kept.isPresent();
    }

    @Override
    public synchronized boolean useCode(UUID account, byte[] codeHash, AccountNote note) {
        boolean used = confirmed(account)
                .filter(kept -> kept.codes.remove(ByteBuffer.wrap(codeHash)))
                .isPresent();
        if (used) {
            notes.accept(note);
        }
        return used;
    }

    @Override
    public synchronized void renewCodes(UUID account, List<byte[]> codeHashes, AccountNote note) {
        confirmed(account).ifPresent(kept -> {
            kept.codes.clear();
            codeHashes.forEach(hash -> kept.codes.add(ByteBuffer.wrap(hash)));
            notes.accept(note);
        });
    }

    @Override
    public synchronized boolean remove(UUID account, AccountNote note) {
        boolean there = confirmed(account).isPresent();
        if (there) {
            factors.remove(account);
            notes.accept(note);
        }
        return there;
    }

    @Override
    public void endSessions(UUID account, Optional<UUID> kept) {
        sessions.accept(account, kept);
    }
}
