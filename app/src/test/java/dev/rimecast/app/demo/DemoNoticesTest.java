package dev.rimecast.app.demo;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import org.junit.jupiter.api.Test;

class DemoNoticesTest {

    @Test
    void book_sendsNothingAnywhere_andLeadsToItsOwnPages() {
        NoticeBook book = DemoNotices.book(8123);
        assertThat(book.link()).isEqualTo("http://localhost:8123");
        assertThat(book.receivers().values())
                .isNotEmpty()
                .allMatch(receiver -> receiver.channel() instanceof Channel.OutboxOnly);
        assertThat(book.digests()).hasSize(1);
        assertThat(DemoNotices.book(0).link()).isEqualTo("http://localhost:8080");
    }
}
