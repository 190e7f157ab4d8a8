package dev.rimecast.alerts.notice.send;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import java.time.Duration;
import java.util.Optional;

/** Sends by whatever channel a receiver has. Safe for many threads; an attempt by webhook ends within 20 s, one by mail within four minutes. */
public final class Senders implements AutoCloseable {
    private static final Duration WEBHOOK_TIMEOUT = Duration.ofSeconds(20);
    /** For each answer. RFC 5321 section 4.5.3.2 has minutes: who gives up sooner sends again what was taken. */
    private static final Duration MAIL_TIMEOUT = Duration.ofMinutes(1);

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
        mail.ifPresent(MailSender::close);
    }
}
