package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.ingest.intake.Write;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;

/** A store that answers when the test says so. */
public final class HandStore implements Store {

    /** What was handed in, and its answer. */
    public record Taken(Decision decision, Consumer<Boolean> done) {}

    public final List<Taken> taken = new CopyOnWriteArrayList<>();
    private final List<Runnable> listeners = new CopyOnWriteArrayList<>();
    private volatile boolean full;
    private volatile boolean closed;
    private volatile boolean answersAtOnce;

    /** Confirms everything from now on as soon as it comes. */
    public HandStore answeringAtOnce() {
        answersAtOnce = true;
        return this;
    }

    @Override
    public void store(Decision decision, Consumer<Boolean> done) {
        taken.add(new Taken(decision, done));
        if (answersAtOnce) {
            done.accept(true);
        }
    }

    public List<Write> writes() {
        return taken.stream().flatMap(t -> t.decision().writes().stream()).toList();
    }

    @Override
    public boolean isFull() {
        return full;
    }

    @Override
    public boolean isClosed() {
        return closed;
    }

    public void setClosed(boolean isClosed) {
        closed = isClosed;
    }

    public void setFull(boolean isFull) {
        full = isFull;
        if (!isFull) {
            listeners.forEach(Runnable::run);
        }
    }

    @Override
    public void onRoom(Runnable listener) {
        listeners.add(listener);
    }
}
