package dev.rimecast.alerts.notice.send;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import java.time.Duration;
import java.util.Optional;

/** Sends by whatever channel a receiver has. Safe for many threads; an attempt ends within a minute. */
public final class Senders implements AutoCloseable {
    private static final Duration WEBHOOK_TIMEOUT = Duration.ofSeconds(20);
    private static final Duration MAIL_TIMEOUT = Duration.ofSeconds(15);

    private final Optional<MailSender> mail;
    private final WebhookSender webhook;

    public Senders(NoticeBook book) {
        this(
                book.mail().map(server -> new MailSender(server, MAIL_TIMEOUT)),
                new WebhookSender(new TargetGuard(book.allowsPrivateAddresses()), book.link(), WEBHOOK_TIMEOUT));
    }

    Senders(Optional<MailSender> mail, WebhookSender webhook) {
        this.mail = mail;
        this.webhook = webhook;
    }

    public Outcome send(Channel channel, Message message) {
        if (channel instanceof Channel.Mail to) {
            return mail.map(sender -> sender.send(to, message))
                    .orElseGet(() -> new Outcome.Refused("notices.yaml names no server for mail"));
        }
        if (channel instanceof Channel.Webhook to) {
            return webhook.send(to, message);
        }
        return new Outcome.Sent("kept here, sent nowhere");
    }

    @Override
    public void close() {
        webhook.close();
    }
}
