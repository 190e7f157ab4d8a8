package dev.rimecast.alerts.notice.send;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.MailServer;
import dev.rimecast.alerts.notice.text.Rendering;
import jakarta.mail.Authenticator;
import jakarta.mail.Message.RecipientType;
import jakarta.mail.MessagingException;
import jakarta.mail.PasswordAuthentication;
import jakarta.mail.SendFailedException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeBodyPart;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Date;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.eclipse.angus.mail.smtp.SMTPAddressFailedException;
import org.eclipse.angus.mail.smtp.SMTPSendFailedException;
import org.eclipse.angus.mail.smtp.SMTPSenderFailedException;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Mail over SMTP, as plain text and HTML. The Message-ID is made of the notice's id: a repeat has the same. A server has a time limit for
 * each answer, and one for all of them together.
 */
public final class MailSender implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(MailSender.class);
    /** Mailbox unavailable, not allowed, bad syntax of an address (RFC 5321 section 4.2.3): no use to repeat it. */
    private static final Set<Integer> NO_SUCH_RECEIVER = Set.of(550, 551, 553);

    private static final int TIMEOUTS_OF_AN_ATTEMPT = 4;

    private final MailServer server;
    private final Properties properties;
    private final Duration whole;
    private final Set<CutSockets> underWay = ConcurrentHashMap.newKeySet();
    private final ScheduledExecutorService deadlines = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "mail-deadlines");
        thread.setDaemon(true);
        return thread;
    });

    /** @param timeout for each answer; four times as long for all of them */
    public MailSender(MailServer server, Duration timeout) {
        this(server, timeout, Map.of());
    }

    /** @param more properties of Jakarta Mail, as a test needs to know a certificate of its own */
    MailSender(MailServer server, Duration timeout, Map<String, Object> more) {
        this.server = server;
        this.whole = timeout.multipliedBy(TIMEOUTS_OF_AN_ATTEMPT);
        this.properties = properties(server, timeout);
        properties.putAll(more);
    }

    private static Properties properties(MailServer server, Duration timeout) {
        String protocol = protocol(server);
        String prefix = "mail." + protocol + '.';
        String millis = Long.toString(timeout.toMillis());
        Properties properties = new Properties();
        properties.put("mail.transport.protocol", protocol);
        properties.put(prefix + "host", server.host());
        properties.put(prefix + "port", Integer.toString(server.port()));
        properties.put(prefix + "auth", Boolean.toString(server.login().isPresent()));
        properties.put(prefix + "connectiontimeout", millis);
        properties.put(prefix + "timeout", millis);
        properties.put(prefix + "writetimeout", millis);
        properties.put(prefix + "ssl.checkserveridentity", "true");
        properties.put(prefix + "ssl.protocols", "TLSv1.2 TLSv1.3");
        if (server.security() == MailServer.Security.STARTTLS) {
            properties.put(prefix + "starttls.enable", "true");
            properties.put(prefix + "starttls.required", "true");
        }
        return properties;
    }

    private static String protocol(MailServer server) {
        return server.security() == MailServer.Security.TLS ? "smtps" : "smtp";
    }

    private static @Nullable Authenticator authenticator(MailServer server) {
        return server.login()
                .<Authenticator>map(login -> new Authenticator() {
                    @Override
                    protected PasswordAuthentication getPasswordAuthentication() {
                        return new PasswordAuthentication(login.user(), login.password());
                    }
                })
                .orElse(null);
    }

    Outcome send(Channel.Mail to, Message message) {
        CutSockets sockets = new CutSockets();
        underWay.add(sockets);
        Future<?> deadline = deadlines.schedule(sockets::cut, whole.toMillis(), TimeUnit.MILLISECONDS);
        try {
            Outcome outcome = send(to, message, session(sockets));
            return sockets.isCut() && outcome instanceof Outcome.Again
                    ? Outcome.Again.soon(server.host() + ": not taken within " + whole.toSeconds() + " s")
                    : outcome;
        } finally {
            deadline.cancel(false);
            underWay.remove(sockets);
        }
    }

    private Session session(CutSockets sockets) {
        Properties own = new Properties();
        own.putAll(properties);
        String prefix = "mail." + protocol(server) + '.';
        own.put(prefix + "socketFactory", sockets);
        own.put(prefix + "socketFactory.fallback", "false");
        return Session.getInstance(own, authenticator(server));
    }

    private Outcome send(Channel.Mail to, Message message, Session session) {
        try {
            MimeMessage mail = mail(session, to, message);
            Transport transport = session.getTransport(protocol(server));
            try {
                transport.connect();
                transport.sendMessage(mail, mail.getAllRecipients());
            } finally {
                close(transport);
            }
            return new Outcome.Sent("taken by " + server.host());
        } catch (SendFailedException e) {
            return failed(e);
        } catch (MessagingException e) {
            return Outcome.Again.soon(server.host() + ": " + reason(e));
        }
    }

    /** What the server has taken it has taken, however the goodbye goes. */
    private static void close(Transport transport) {
        try {
            transport.close();
        } catch (MessagingException e) {
            LOG.debug("the mail server did not say goodbye: {}", e.toString());
        }
    }

    private Outcome failed(SendFailedException failure) {
        int code = code(failure);
        String detail = server.host() + (code > 0 ? " answers " + code : ": " + reason(failure));
        return NO_SUCH_RECEIVER.contains(code)
                ? new Outcome.Refused(detail + ": it will not take mail for this address")
                : Outcome.Again.soon(detail);
    }

    /** The server's answer about the receiver, where there is one; else about the message. */
    private static int code(Exception failure) {
        int code = 0;
        Exception each = failure;
        while (each != null) {
            if (each instanceof SMTPAddressFailedException address) {
                return address.getReturnCode();
            }
            if (each instanceof SMTPSendFailedException send) {
                code = send.getReturnCode();
            } else if (each instanceof SMTPSenderFailedException sender) {
                code = sender.getReturnCode();
            }
            each = each instanceof MessagingException messaging ? messaging.getNextException() : null;
        }
        return code;
    }

    /** What the library says, and what was behind it: a certificate, a name, a closed port. */
    private static String reason(MessagingException failure) {
        Exception behind = failure.getNextException();
        return firstLine(failure) + (behind == null ? "" : " (" + firstLine(behind) + ')');
    }

    private static String firstLine(Exception failure) {
        return String.valueOf(failure.getMessage()).lines().findFirst().orElse("no reason given");
    }

    private MimeMessage mail(Session session, Channel.Mail to, Message message) throws MessagingException {
        MimeMessage mail = new Identified(session, message.id(), domain());
        mail.setFrom(new InternetAddress(server.from(), true));
        mail.setRecipient(RecipientType.TO, new InternetAddress(to.address(), true));
        mail.setSubject(oneLine(message.content().subject()), StandardCharsets.UTF_8.name());
        mail.setSentDate(Date.from(message.content().asOf()));
        // RFC 3834 section 5: nobody's absence note should answer it.
        mail.setHeader("Auto-Submitted", "auto-generated");
        MimeMultipart both = new MimeMultipart("alternative");
        both.addBodyPart(part(Rendering.plain(message.content()), "plain"));
        both.addBodyPart(part(Rendering.html(message.content()), "html"));
        mail.setContent(both);
        mail.saveChanges();
        return mail;
    }

    private static MimeBodyPart part(String text, String subtype) throws MessagingException {
        MimeBodyPart part = new MimeBodyPart();
        part.setText(text, StandardCharsets.UTF_8.name(), subtype);
        return part;
    }

    /** A line break in a header would begin another header. */
    private static String oneLine(String text) {
        return text.replaceAll("\\p{Cntrl}+", " ");
    }

    private String domain() {
        return server.from().substring(server.from().indexOf('@') + 1);
    }

    /** What is under way ends, and is sent again. */
    @Override
    public void close() {
        deadlines.shutdownNow();
        underWay.forEach(CutSockets::cut);
    }

    /** Keeps its Message-ID whenever it is saved. */
    private static final class Identified extends MimeMessage {
        private final UUID id;
        private final String domain;

        Identified(Session session, UUID id, String domain) {
            super(session);
            this.id = id;
            this.domain = domain;
        }

        @Override
        protected void updateMessageID() throws MessagingException {
            setHeader("Message-ID", "<" + id + '@' + domain + '>');
        }
    }
}
