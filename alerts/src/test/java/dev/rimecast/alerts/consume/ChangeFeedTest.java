package dev.rimecast.alerts.consume;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Changes.Subscription;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class ChangeFeedTest {
    private static final Change READING = new Change("reading", "site-1", "ice-0001", "");
    private static final Change ALERT = new Change("alert", "site-1", "ice-0001", "a");

    @Test
    void publish_whileAListenerIsBusy_tellsTheSameChangeOnce() {
        CountDownLatch busy = new CountDownLatch(1);
        List<Change> told = new CopyOnWriteArrayList<>();
        try (ChangeFeed feed = new ChangeFeed()) {
            feed.subscribe(slow(told, busy));
            feed.publish(List.of(ALERT));
            await().until(() -> told.size() == 1);

            IntStream.range(0, 100).forEach(i -> feed.publish(List.of(READING)));
            feed.publish(List.of(ALERT));
            busy.countDown();

            await().until(() -> told.size() >= 3);
            assertThat(told).containsExactly(ALERT, ALERT, READING);
        }
    }

    @Test
    void publish_moreReadingsThanAreKept_theAlertIsToldAllTheSame_andBeforeThem() {
        CountDownLatch busy = new CountDownLatch(1);
        List<Change> told = new CopyOnWriteArrayList<>();
        try (ChangeFeed feed = new ChangeFeed()) {
            feed.subscribe(slow(told, busy));
            feed.publish(List.of(READING));
            await().until(() -> told.size() == 1);

            feed.publish(List.of(ALERT));
            feed.publish(IntStream.range(0, 12_000)
                    .mapToObj(i -> new Change("reading", "site-1", "ice-" + i, ""))
                    .toList());
            busy.countDown();

            await().until(() -> told.size() >= 10_002);
            assertThat(told).hasSize(10_002);
            assertThat(told.get(1)).isEqualTo(ALERT);
            assertThat(told.get(2).machine()).isEqualTo("ice-2000");
        }
    }

    @Test
    void publish_listenerFails_othersAreTold() {
        List<Change> told = new CopyOnWriteArrayList<>();
        try (ChangeFeed feed = new ChangeFeed()) {
            feed.subscribe(change -> {
                throw new IllegalStateException("broken");
            });
            feed.subscribe(told::add);

            feed.publish(List.of(READING));

            await().until(() -> told.equals(List.of(READING)));
        }
    }

    @Test
    void subscription_closed_isToldNothingMore() {
        List<Change> ended = new CopyOnWriteArrayList<>();
        List<Change> told = new CopyOnWriteArrayList<>();
        try (ChangeFeed feed = new ChangeFeed()) {
            Subscription subscription = feed.subscribe(ended::add);
            feed.subscribe(told::add);
            subscription.close();

            feed.publish(List.of(READING));

            await().until(() -> told.size() == 1);
            assertThat(ended).isEmpty();
        }
    }

    /** Hears a change and is busy with it until the latch opens. */
    private static Consumer<Change> slow(List<Change> told, CountDownLatch busy) {
        return change -> {
            told.add(change);
            awaitQuietly(busy);
        };
    }

    private static void awaitQuietly(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
