package dev.rimecast.telemetry.net;

import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;

/**
 * Looks whether the files of a certificate and its key have changed, so that a renewed one is shown without a new start. Files that can't be used, or that
 * are not of one pair yet, change nothing: the old one stays, which is said once. Content is compared and not the time of a change: who
 * renews may swap links.
 */
public final class TlsWatch {
    /** How often to look. A renewal writes two files, which takes less. */
    public static final Duration EVERY = Duration.ofSeconds(10);

    /** What comes of a look. */
    public interface Listener {
        /** A new pair, for connections from now on. May throw: then the old one stays. */
        void renewed(TlsPair pair);

        /**
         * The files have changed and can't be used: the old pair stays. Told once for each reason.
         *
         * @param why for an operator, with the file's name
         */
        void kept(String why);
    }

    private final Path certificate;
    private final Path key;
    private final Listener listener;
    private TlsPair inUse;
    private volatile Optional<String> problem = Optional.empty();

    /** @param inUse what was read from the files at the start */
    public TlsWatch(Path certificate, Path key, TlsPair inUse, Listener listener) {
        this.certificate = certificate;
        this.key = key;
        this.inUse = inUse;
        this.listener = listener;
    }

    /** Looks once. Never throws: a look that fails is told, and the next one may not. */
    public synchronized void look() {
        try {
            TlsPair found = TlsPair.read(certificate, key);
            if (!found.isSameAs(inUse)) {
                listener.renewed(found);
                inUse = found;
            }
            problem = Optional.empty();
        } catch (RuntimeException e) {
            String what = String.valueOf(e.getMessage());
            if (!problem.equals(Optional.of(what))) {
                listener.kept(what);
            }
            problem = Optional.of(what);
        }
    }

    /** What was wrong with the files at the last look. Waits for no look: who asks for the state of health is answered at once. */
    public Optional<String> problem() {
        return problem;
    }
}
